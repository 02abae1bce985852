"use strict";
// startPage plans a ride of files that are given to the page, or typed into it.
function startPage(planner, form) {
  const byId = (id) => document.getElementById(id);
  const files = new Map(); // by name: { kind, bytes }
  const bikeLines = Array.from(form.querySelectorAll("[data-key]")), options = Array.from(form.querySelectorAll("[data-said]"));
  const tables = Array.from(form.querySelectorAll("table[data-file]"));

  // --- files

  // kindOf tells by its content what a file is; "" for none that is known.
  function kindOf(bytes) {
    const text = new TextDecoder(bytes[0] === 0xff && bytes[1] === 0xfe ? "utf-16le" : "utf-8").decode(bytes);
    if (/<(\w+:)?gpx[\s>]/.test(text.slice(0, 4096))) { return /<(\w+:)?(trkpt|rtept)[\s>]/.test(text) ? "loop" : "stops"; }
    if (/^\ufeff?\s*\{/.test(text) && /"FeatureCollection"/.test(text)) { return "land"; }
    const first = (text.split(/[\r\n]+/).find((l) => l.trim() !== "" && l.trim()[0] !== "#") || "").toLowerCase();
    if (/\bleave_km\b/.test(first)) { return "bail-outs"; }
    if (/\broad_km\b/.test(first)) { return "roads"; }
    if (/from_?km|from_?mi|to_km/.test(first)) { return "ground"; }
    if (/\blat/.test(first) && /\blon/.test(first)) { return "stops"; }
    return /^\s*[\w[][\w\]]*\s*(=|$)/.test(first) && /=/.test(text) ? "bike" : "";
  }
  // free gives a name that no file has: two days of a ride may both be called loop.gpx.
  function free(name) {
    let n = 1, it = name;
    while (files.has(it)) { it = (++n) + "-" + name; }
    return it;
  }
  async function take(list) {
    const left = [];
    for (const f of list) {
      const bytes = new Uint8Array(await f.arrayBuffer()), kind = kindOf(bytes);
      if (kind === "") { left.push(planner.put(planner.says.unread, { file: f.name })); } else { files.set(free(f.name), { kind: kind, bytes: bytes }); }
    }
    showFiles(left);
  }
  function showFiles(left) {
    const rows = [];
    for (const [name, f] of files) {
      const row = planner.element("li", planner.says.kinds[f.kind] + ": " + name + " "), off = planner.element("button", planner.says.remove);
      off.type = "button";
      off.setAttribute("aria-label", planner.says.remove + " " + name);
      off.addEventListener("click", () => {
        files.delete(name);
        showFiles([]);
      });
      row.append(off);
      rows.push(row);
    }
    left.forEach((l) => rows.push(planner.element("li", l, "fault")));
    byId("given").replaceChildren(...rows);
    byId("type-bike").hidden = [...files.values()].some((f) => f.kind === "bike");
  }
  byId("files").addEventListener("change", (event) => {
    take(Array.from(event.target.files));
    event.target.value = "";
  });
  document.addEventListener("dragover", (event) => { event.preventDefault(); });
  document.addEventListener("drop", (event) => {
    event.preventDefault();
    take(Array.from(event.dataTransfer.files));
  });

  // --- what is typed

  const bikeFile = "bike.toml";
  // bikeText gives the bike as its file would have it, each key on the line of its number, so that a fault
  // tells its field; what has no value leaves the line empty.
  function bikeText() {
    if (bikeLines.every((f) => f.value.trim() === "")) { return ""; }
    return bikeLines.map((f) => {
      const v = f.value.trim();
      return v === "" ? "" : f.dataset.key + " = " + (f.dataset.number ? v : JSON.stringify(v));
    }).join("\n") + "\n";
  }
  function cells(row) { return Array.from(row.querySelectorAll("input, select")); }
  function tableText(table) {
    const rows = Array.from(table.tBodies[0].rows).map((r) => cells(r).map((c) => c.value.trim()));
    if (rows.every((r) => r.every((v) => v === ""))) { return ""; }
    const quoted = (v) => /[",\n]/.test(v) ? '"' + v.replace(/"/g, '""') + '"' : v;
    return [table.dataset.columns].concat(rows.filter((r) => r.some((v) => v !== "")).map((r) => r.map(quoted).join(","))).join("\n") + "\n";
  }
  function addRow(table) {
    const row = table.tBodies[0].rows[0].cloneNode(true), n = table.tBodies[0].rows.length + 1;
    cells(row).forEach((c) => {
      c.value = "";
      c.setAttribute("aria-label", c.getAttribute("aria-label").replace(/\d+$/, n));
    });
    table.tBodies[0].append(row);
    return row;
  }
  form.querySelectorAll("[data-more]").forEach((b) => b.addEventListener("click", () => {
    cells(addRow(byId(b.dataset.more)))[0].focus();
  }));
  const zone = byId("start-timezone");
  zone.value = Intl.DateTimeFormat().resolvedOptions().timeZone || "";

  // wanted gives the ride of all that.
  function wanted() {
    const ride = { loops: [], said: [], files: {}, places: [] };
    for (const [name, f] of files) {
      ride.files[name] = f.bytes;
      if (f.kind === "loop") { ride.loops.push(name); } else { ride.said.push([f.kind, name]); }
    }
    const add = (flag, name, text) => {
      if (text === "") { return; }
      ride.files[name] = new TextEncoder().encode(text);
      ride.said.push([flag, name]);
    };
    if (!byId("type-bike").hidden) { add("bike", bikeFile, bikeText()); }
    tables.forEach((t) => add(t.dataset.flag, t.dataset.file, tableText(t)));
    const timed = options.some((f) => f.dataset.said === "depart" && f.value.trim() !== "");
    for (const f of options) {
      const v = f.value.trim();
      if (v !== "" && (f !== zone || timed)) { ride.said.push([f.dataset.said, v]); }
    }
    return ride;
  }

  // --- faults

  function clearFaults() {
    form.querySelectorAll("p.fault").forEach((p) => p.remove());
    form.querySelectorAll("[aria-invalid]").forEach((f) => f.removeAttribute("aria-invalid"));
  }
  // placeOf gives what a fault is about: a line of the bike, a row of a table, an option.
  function placeOf(said) {
    const [, name, line] = said.match(/^(?:\u2068)?([^:\u2069]+):(\d+)/) || [];
    if (name === bikeFile && !byId("type-bike").hidden) { return bikeLines[line - 1]; }
    const table = tables.find((t) => t.dataset.file === name);
    if (table) {
      const rows = Array.from(table.tBodies[0].rows).filter((r) => cells(r).some((c) => c.value.trim() !== ""));
      return rows[line - 2] ? cells(rows[line - 2])[0] : null;
    }
    for (const [, flag] of said.matchAll(/--([a-z][a-z-]+)/g)) {
      const f = options.find((o) => o.dataset.said === flag);
      if (f) { return f; }
    }
    if (name === undefined && /bike\.toml/.test(said)) { return bikeLines[0]; }
    return null;
  }
  function fault(said) {
    let rest = [];
    for (const part of said.trim().split(/\n(?!hint:)/)) {
      const place = placeOf(part);
      if (!place) {
        rest.push(part);
        continue;
      }
      place.setAttribute("aria-invalid", "true");
      (place.closest("table") || place).after(planner.element("p", part.replace(/^(--[a-z-]+|[^:\n]+:\d+:\d+): /, ""), "fault"));
      for (let d = place; d !== form; d = d.parentElement) {
        if (d.tagName === "DETAILS") { d.open = true; }
      }
    }
    byId("start-answer").replaceChildren(planner.element("p", planner.says.failed, "fault"), ...rest.map((r) => planner.element("p", r)));
    (form.querySelector("[aria-invalid]") || byId("start-answer")).scrollIntoView({ block: "center" });
  }

  form.addEventListener("submit", async (event) => {
    event.preventDefault();
    const button = byId("start-plan"), ride = wanted();
    clearFaults();
    if (ride.loops.length === 0) {
      fault(planner.says.noLoop);
      return;
    }
    button.disabled = true;
    byId("start-answer").replaceChildren(planner.element("p", planner.says.planning));
    try {
      const got = await planner.begin(ride);
      if (got.fault !== undefined) {
        fault(got.fault);
        return;
      }
      byId("plan-json").textContent = got.json;
      byId("start-answer").replaceChildren();
      byId("start-fold").open = false;
      document.querySelector("body > header").scrollIntoView();
    } catch (e) {
      fault(String(e && e.message || e));
    } finally {
      button.disabled = false;
    }
  });
  if ("serviceWorker" in navigator && document.querySelector("link[rel=manifest]")) { navigator.serviceWorker.register("worker.js"); }
}
