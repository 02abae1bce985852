"use strict";
// newRunner gives what runs the command in a worker, one run after the other.
function newRunner() {
  const waiting = new Map();
  let worker = null, last = 0;

  function text(id) { return document.getElementById(id).textContent; }
  function start() {
    const script = URL.createObjectURL(new Blob([text("planner-worker")], { type: "text/javascript" }));
    worker = new Worker(script);
    worker.onmessage = (event) => {
      const then = waiting.get(event.data.id);
      waiting.delete(event.data.id);
      then.done(event.data);
    };
    worker.onerror = (event) => {
      event.preventDefault();
      for (const then of waiting.values()) { then.failed(new Error(event.message || "no worker")); }
      waiting.clear();
      worker.terminate();
      worker = null;
    };
    worker.postMessage({ program: text("planner-program").trim() });
  }
  return {
    // run gives how a run ended, what it said and the files that it wrote to /out.
    run(args, files) {
      return new Promise((done, failed) => {
        try {
          if (worker === null) { start(); }
          const id = ++last;
          waiting.set(id, { done: done, failed: failed });
          worker.postMessage({ id: id, args: args, files: files, stdin: files["-"] });
        } catch (e) {
          failed(e);
        }
      });
    },
  };
}

// unpackFiles gives the files that a page carries by their names.
async function unpackFiles(packed, list) {
  const text = atob(packed.trim()), bytes = new Uint8Array(text.length), files = {};
  for (let i = 0; i < text.length; i++) { bytes[i] = text.charCodeAt(i); }
  const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip"));
  const all = new Uint8Array(await new Response(stream).arrayBuffer());
  let from = 0;
  for (const f of list) {
    files[f.name] = all.slice(from, from + f.size);
    from += f.size;
  }
  return files;
}

function canPlan() {
  return typeof WebAssembly === "object" && typeof Worker === "function" && typeof DecompressionStream === "function";
}
