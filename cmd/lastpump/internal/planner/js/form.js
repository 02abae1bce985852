"use strict";
// newPlanner ties the form to the command: it makes flags of the fields, has the ride planned and puts the
// new page in the place of the old one.
function newPlanner() {
  const byId = (id) => document.getElementById(id);
  const says = JSON.parse(byId("planner-says").textContent), runner = newRunner();
  const part = byId("again-part"), form = byId("again"), answer = byId("again-answer"), bike = byId("again-bike");
  const fields = Array.from(form.querySelectorAll("input[data-flag], textarea[data-flag]"));
  const past = []; // what the page was before each plan
  let ride = JSON.parse(byId("planner-ride").textContent), plan = null, busy = false;

  function put(pattern, values) {
    return pattern.replace(/\{(\w+)\}/g, (whole, name) => name in values ? values[name] : whole);
  }
  function element(name, text, look) {
    const e = document.createElement(name);
    e.textContent = text;
    e.dir = "auto";
    if (look) { e.className = look; }
    return e;
  }
  const text = (bytes) => new TextDecoder().decode(bytes);

  // --- flags

  // values gives what was said of a flag.
  function values(said, flag) { return said.filter((s) => s[0] === flag).map((s) => s[1]); }
  function typed(field) {
    if (field.type === "checkbox") { return field.checked ? ["true"] : []; }
    const lines = field.tagName === "TEXTAREA" ? field.value.split("\n") : [field.value];
    return lines.map((l) => l.trim()).filter((l) => l !== "").map((l) => field.id === "again-tank" ? litres(l) : l);
  }
  // litres takes a figure as it is typed with gloves on for litres, where litres are what the plan has.
  function litres(said) {
    const units = values(ride.said, "units")[0] || "metric";
    return units === "metric" && /^\d+([.,]\d+)?\s*l?$/i.test(said) ? said.replace(/\s*l?$/i, "L") : said;
  }
  function fill(of) {
    fillFields(of);
    fillBike(of);
  }
  function fillBike(of) {
    const name = values(of.said, "bike")[0];
    bike.value = name && of.files[name] ? text(of.files[name]) : "";
  }
  function fillFields(of) {
    for (const f of fields) {
      const all = values(of.said, f.dataset.flag);
      if (f.type === "checkbox") { f.checked = all.includes("true"); } else { f.value = all.join("\n"); }
    }
    pick("at", of.places.map((p) => [p.from, p.from]));
    pick("dry", of.places.filter((p) => p.skip).map((p) => [p.name, p.name]));
  }
  // pick puts places into the list that lies below a field.
  function pick(id, places) {
    const list = byId("again-" + id + "-pick");
    while (list.options.length > 1) { list.remove(1); }
    for (const [value, name] of places) { list.add(new Option(name, value)); }
  }
  // wanted gives the ride as the form has it.
  function wanted() {
    const flags = fields.map((f) => f.dataset.flag), next = { loops: ride.loops, places: ride.places, files: ride.files };
    next.said = ride.said.filter((s) => !flags.includes(s[0]));
    for (const f of fields) { typed(f).forEach((v) => next.said.push([f.dataset.flag, v])); }
    if (!next.said.some((s) => s[0] === "depart" || s[0] === "now")) {
      next.said = next.said.filter((s) => s[0] !== "timezone"); // it is for a ride by the clock
    }
    const name = values(next.said, "bike")[0], was = name ? text(ride.files[name]) : "";
    if (bike.value.trim() !== was.trim()) {
      next.files = Object.assign({}, ride.files, { [name || "bike.toml"]: new TextEncoder().encode(bike.value) });
      if (!name) { next.said.push(["bike", "bike.toml"]); }
    }
    return next;
  }
  function command(of, ...reports) {
    return ["plan", ...of.loops, ...of.said.map((s) => "--" + s[0] + "=" + s[1]), ...reports];
  }

  // --- faults

  function clearFaults() {
    form.querySelectorAll("p.fault").forEach((p) => p.remove());
    form.querySelectorAll("[aria-invalid]").forEach((f) => f.removeAttribute("aria-invalid"));
  }
  // blame shows what is wrong at the field that it is about: the first flag of a field in it.
  function blame(said) {
    for (const [, flag] of said.matchAll(/--([a-z][a-z-]+)/g)) {
      const f = fields.find((f) => f.dataset.flag === flag);
      if (!f) { continue; }
      const told = element("p", said.trim().replace(/^--[a-z-]+: /, ""), "fault");
      f.after(told);
      f.setAttribute("aria-invalid", "true");
      for (let d = f.parentElement; d !== part; d = d.parentElement) {
        if (d.tagName === "DETAILS") { d.open = true; }
      }
      return f;
    }
    return null;
  }
  function fault(said) {
    answer.replaceChildren(element("p", says.failed, "fault"), ...said.trim().split("\n").map((l) => element("p", l)));
    const at = blame(said) || answer;
    at.focus({ preventScroll: true });
    at.scrollIntoView({ block: at === answer ? "nearest" : "center" });
  }

  // --- the page

  // kept are the parts of the page that a plan brings with it.
  const kept = ["body > header", "body > nav.reach", "body > main", "#readings"];
  function now() { return kept.map((k) => document.querySelector(k).outerHTML); }
  function show(parts) {
    kept.forEach((k, i) => {
      const made = new DOMParser().parseFromString(parts[i], "text/html").querySelector(k.split(" ").pop());
      document.querySelector(k).replaceWith(document.importNode(made, true));
    });
    document.dispatchEvent(new Event("planned"));
  }
  function partsOf(page) {
    const made = new DOMParser().parseFromString(page, "text/html");
    return kept.map((k) => made.querySelector(k).outerHTML);
  }
  function wait(is) {
    busy = is;
    byId("again-plan").disabled = is;
    byId("again-undo").hidden = is || past.length === 0;
    form.setAttribute("aria-busy", String(is));
  }

  // made has a ride planned; null where it was not, and what was wrong is said.
  async function made(of) {
    const got = await runner.run(command(of, "--json=/out/plan.json", "--html=/out/plan.html"), of.files);
    if (!got.out["plan.json"] || !got.out["plan.html"]) { return { fault: got.stderr || String(got.code) }; }
    return { json: text(got.out["plan.json"]), page: text(got.out["plan.html"]) };
  }
  // stand puts a plan on the page.
  function stand(of, got) {
    past.push({ ride: ride, plan: plan, parts: now(), json: byId("again-json").textContent });
    const before = plan;
    ride = of;
    plan = JSON.parse(got.json);
    if (!plan.from_here) { ride.places = placesOf(plan); }
    show(partsOf(got.page));
    return before;
  }
  // placesOf gives where the rider may be in a plan of the whole ride.
  function placesOf(plan) {
    const times = {}, met = {};
    plan.visits.forEach((v) => { times[v.stop.toLowerCase()] = (times[v.stop.toLowerCase()] || 0) + 1; });
    return plan.visits.map((v) => {
      const name = v.stop.toLowerCase(), first = !met[name];
      met[name] = true;
      return { name: v.stop, from: times[name] > 1 ? v.stop + ", " + v.line_km.toFixed(1) + "km" : v.stop, skip: first };
    });
  }

  // --- what changed

  function labels(of) {
    const all = new Map();
    for (const f of fields) {
      const said = values(of.said, f.dataset.flag);
      if (said.length > 0) {
        all.set(form.querySelector("label[for='" + f.id + "']").textContent, f.type === "checkbox" ? "✓" : said.join("; "));
      }
    }
    return all;
  }
  function chosenNow(before, after) {
    const a = labels(before), b = labels(after), out = [];
    for (const [label, value] of b) {
      if (a.get(label) !== value) { out.push(put(says.said, { label: label, value: value })); }
    }
    for (const label of a.keys()) {
      if (!b.has(label)) { out.push(put(says.unsaid, { label: label })); }
    }
    if (before.files !== after.files) { out.push(says.bike); }
    return out;
  }
  function fillsOf(plan, from) {
    return plan.visits.filter((v) => v.fill && v.line_km >= from - 1).map((v) => v.stop + " km " + Math.round(v.line_km));
  }
  function different(before, after) {
    const out = [], from = after.from_here ? after.from_here.at_km : 0;
    const a = fillsOf(before, from), b = fillsOf(after, from);
    const more = b.filter((s) => !a.includes(s)), less = a.filter((s) => !b.includes(s));
    if (more.length > 0) { out.push(put(says.fill, { stops: more.join(", ") })); }
    if (less.length > 0) { out.push(put(says.pass, { stops: less.join(", ") })); }
    if (before.answer[0] !== after.answer[0]) { out.push(put(says.answer, { before: before.answer[0] })); }
    return out.length > 0 ? out : [says.same];
  }
  function tell(lines, first) {
    const list = document.createElement("ul");
    lines.forEach((l) => list.append(element("li", l)));
    answer.replaceChildren(element("p", says.now), first ? element("b", first) : "", list);
    answer.focus({ preventScroll: true });
    answer.scrollIntoView({ block: "start" });
  }

  // --- what the rider does

  // again plans what the form says.
  async function again() {
    if (busy) { return; }
    wait(true);
    answer.replaceChildren(element("p", says.planning));
    try {
      await carried;
      await warmUp();
      const before = ride, next = wanted();
      clearFaults();
      if (byId("again-at").value.trim() === "" && document.querySelector(".tick input:checked")) {
        fault(says.where);
        return;
      }
      const got = await made(next);
      if (got.fault !== undefined) {
        fault(got.fault);
        return;
      }
      const was = stand(next, got);
      byId("again-json").textContent = got.json;
      fill(ride);
      byId("again-fold").open = false;
      tell(chosenNow(before, next).concat(was ? different(was, plan) : []), plan.answer[0]);
    } catch (e) {
      fault(String(e && e.message || e));
    } finally {
      wait(false);
    }
  }
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    again();
  });
  byId("again-undo").addEventListener("click", () => {
    const was = past.pop();
    ride = was.ride;
    plan = was.plan;
    clearFaults();
    show(was.parts);
    byId("again-json").textContent = was.json;
    fill(ride);
    wait(false);
    answer.replaceChildren(element("p", says.undone));
    answer.focus();
  });
  for (const id of ["at", "dry"]) {
    byId("again-" + id + "-pick").addEventListener("change", (event) => {
      const f = byId("again-" + id), list = event.target;
      if (list.value === "") { return; }
      f.value = id === "at" ? list.value : typed(f).concat(list.value).join("\n");
      list.value = "";
    });
  }
  // The device's place, where the browser gives it.
  if (navigator.geolocation) {
    const here = byId("again-here");
    here.hidden = false;
    here.addEventListener("click", () => {
      navigator.geolocation.getCurrentPosition((p) => {
        byId("again-at").value = p.coords.latitude.toFixed(5) + ", " + p.coords.longitude.toFixed(5);
      }, () => { answer.replaceChildren(element("p", says.notHere)); }, { enableHighAccuracy: true, timeout: 30000 });
    });
  }
  // save writes a file of the plan that stands on the page.
  async function save(button) {
    if (busy) { return; }
    wait(true);
    answer.replaceChildren(element("p", says.planning));
    try {
      const file = button.dataset.file, flags = ["--" + button.dataset.flag + "=/out/" + file];
      if (button.dataset.flag === "html") { flags.push("--planner"); }
      const got = await runner.run(command(ride, ...flags), ride.files);
      if (!got.out[file]) {
        fault(got.stderr);
        return;
      }
      offer(file, button.dataset.flag === "html" ? whole(text(got.out[file])) : got.out[file]);
      answer.replaceChildren(element("p", put(says.saved, { file: file })));
    } catch (e) {
      fault(String(e && e.message || e));
    } finally {
      wait(false);
    }
  }
  // whole puts the program into a page that the program has written, which does not carry itself.
  function whole(page) {
    const mark = "id=\"planner-program\">@";
    const [before, after] = page.split(mark + "program@");
    return before + mark.slice(0, -1) + byId("planner-program").textContent + after;
  }
  function offer(file, what) {
    const a = document.createElement("a");
    a.href = URL.createObjectURL(new Blob([what]));
    a.download = file;
    document.body.append(a);
    a.click();
    a.remove();
    setTimeout(() => URL.revokeObjectURL(a.href), 60000);
  }
  form.querySelectorAll("button[data-file]").forEach((b) => b.addEventListener("click", () => save(b)));

  // --- ready

  // What the page carries is unpacked at once; the plan that stands on it is made when the form is
  // first looked at, so that it can be told what another one changes.
  let warm = null;
  function warmUp() {
    if (warm === null && ride.loops.length > 0) {
      warm = carried.then(() => made(ride)).then((got) => {
        if (got.json && plan === null) {
          plan = JSON.parse(got.json);
        }
      }).catch(() => {});
    }
    return warm;
  }
  const carried = unpackFiles(byId("planner-files").textContent, ride.files).then((files) => {
    ride.files = files;
    fillBike(ride);
  });
  fillFields(ride); // at once: what is typed while the files are unpacked stays
  // ticked gives the last stop that is ticked on the cards, as the field takes it.
  function ticked() {
    const cards = Array.from(document.querySelectorAll("details.card"));
    const last = cards.findLast((c) => c.querySelector(".tick input:checked"));
    if (!last) { return ""; }
    const called = (c) => c.querySelector(".name").textContent, name = called(last);
    const places = ride.places.filter((p) => p.name === name), same = cards.filter((c) => called(c) === name);
    if (places.length !== same.length) { return ""; } // which passing is meant is not known
    return places[same.indexOf(last)].from;
  }
  let offered = ""; // in the field of where one is
  byId("again-fold").addEventListener("toggle", () => {
    warmUp();
    const at = byId("again-at");
    if (byId("again-fold").open && (at.value === "" || at.value === offered)) { at.value = offered = ticked(); }
  });
  // Who says the hour where he is means the day that it is, not the one that the plan was made for.
  byId("again-now").addEventListener("input", () => {
    const day = byId("again-date"), now = new Date(), two = (n) => String(n).padStart(2, "0");
    if (day.value === (values(ride.said, "date")[0] || "")) {
      day.value = now.getFullYear() + "-" + two(now.getMonth() + 1) + "-" + two(now.getDate());
    }
  });
  return {
    says: says, element: element, put: put, answer: answer,
    part: part,
    // begin plans a ride that the page did not carry.
    async begin(of) {
      wait(true);
      try {
        const got = await made(of);
        if (got.fault === undefined) {
          stand(of, got);
          past.length = 0;
          fill(ride);
          part.hidden = false;
        }
        return got;
      } finally {
        wait(false);
      }
    },
  };
}
if (canPlan()) {
  const planner = newPlanner(), start = document.getElementById("start");
  if (start) { startPage(planner, start); } else { planner.part.hidden = false; }
}
