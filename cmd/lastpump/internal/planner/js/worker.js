"use strict";
// The worker runs the command: it is told the program once, then for each run its arguments and files, and
// gives back how the run ended, what it said, and the files that it wrote to /out.
let program = null;

// unpacked compiles what the page carries: gzip in base64.
async function unpacked(packed) {
  const text = atob(packed), bytes = new Uint8Array(text.length);
  for (let i = 0; i < text.length; i++) { bytes[i] = text.charCodeAt(i); }
  const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip"));
  return WebAssembly.compileStreaming(new Response(stream, { headers: { "Content-Type": "application/wasm" } }));
}

async function run(job) {
  const disk = memory(job.files, job.stdin);
  globalThis.fs = disk.fs;
  globalThis.process = disk.process;
  const go = new Go();
  let code = 0;
  go.argv = ["lastpump"].concat(job.args);
  go.env = { GOGC: "100" };
  go.exit = (c) => {
    code = c;
    for (const timer of go._scheduledTimeouts.values()) { clearTimeout(timer); } // they would find nobody
    go._scheduledTimeouts.clear();
  };
  await go.run(await WebAssembly.instantiate(await program, go.importObject));
  return { code: code, stdout: await disk.stdout(), stderr: await disk.stderr(), out: disk.under("/out") };
}

onmessage = async (event) => {
  const m = event.data;
  if (m.program) {
    program = unpacked(m.program);
    return;
  }
  let answer;
  try {
    answer = await run(m);
  } catch (e) {
    answer = { code: 2, stdout: "", stderr: String(e && e.message || e), out: {} };
  }
  answer.id = m.id;
  postMessage(answer);
};
