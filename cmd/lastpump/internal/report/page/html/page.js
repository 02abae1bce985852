"use strict";
// showPage makes the page answer to fingers until it is told that another plan stands on it.
function showPage(gone) {
  // Without this script all is there to be read; it adds ticks to the cards, the figures at any
  // place of the picture and the lighting of a leg wherever it is drawn.
  var data = JSON.parse(document.getElementById("readings").textContent);
  var reader = document.getElementById("reader");
  var output = document.querySelector(".reader output");
  var toldLeg = document.querySelector(".told-leg");
  var charts = all("svg.chart"), sketches = all("svg.sketch");
  var lit = 0;

  function all(which) { return Array.prototype.slice.call(document.querySelectorAll(which)); }
  function shown(e) { return e.getClientRects().length > 0; }

  all(".scripted").forEach(function (e) { e.hidden = false; });

  // --- folding

  // reveal unfolds all that an element lies in.
  function reveal(e) {
    for (var d = e; d; d = d.parentElement) {
      if (d.tagName === "DETAILS") { d.open = true; }
    }
  }
  // goTo unfolds what an address on the page leads to and scrolls there.
  function goTo(hash) {
    var e = hash.length > 1 ? document.getElementById(hash.slice(1)) : null;
    if (e) {
      reveal(e);
      e.scrollIntoView();
    }
  }
  var reach = document.querySelector(".reach details");
  document.addEventListener("click", function (event) {
    var a = event.target.closest && event.target.closest("a[href^='#']");
    if (a) {
      reveal(document.getElementById(a.hash.slice(1)));
      reach.open = false;
    } else if (!event.target.closest || !event.target.closest(".reach")) {
      reach.open = false;
    }
  }, gone);
  reach.addEventListener("keydown", function (event) {
    if (event.key === "Escape") {
      reach.open = false;
      reach.querySelector("summary").focus();
    }
  });
  window.addEventListener("hashchange", function () { goTo(location.hash); }, gone);
  document.querySelector(".unfold").addEventListener("click", function () {
    all("details.fold, details.legend").forEach(function (d) { d.open = true; });
    reach.open = false;
  });
  if (window.matchMedia("(min-width: 46.25em)").matches) {
    all(".ride, .legend").forEach(function (d) { d.open = true; });
  }

  // On paper everything is unfolded.
  var folded = [];
  window.addEventListener("beforeprint", function () {
    folded = all("main details").filter(function (d) { return !d.open; });
    folded.forEach(function (d) { d.open = true; });
  }, gone);
  window.addEventListener("afterprint", function () { folded.forEach(function (d) { d.open = false; }); }, gone);

  // --- cards

  var cards = all("details.card"), key = "lastpump " + data.key, ticked = kept();

  // What is ticked is kept where the browser lets a page keep anything.
  function kept() {
    try {
      var list = JSON.parse(window.localStorage.getItem(key));
      return Array.isArray(list) ? list : [];
    } catch (e) {
      return [];
    }
  }
  function keep() {
    try { window.localStorage.setItem(key, JSON.stringify(ticked)); } catch (e) { /* then not */ }
  }
  function box(card) { return card.querySelector(".tick input"); }
  function showTicks() {
    cards.forEach(function (c) {
      var is = ticked.indexOf(+c.dataset.card) >= 0;
      c.classList.toggle("is-done", is);
      c.querySelector(".ticked").hidden = !is;
      box(c).checked = is;
    });
  }
  // nextAfter gives the next card that is not ticked, from a place on, else from the first.
  function nextAfter(at) {
    var open = cards.filter(function (c) { return ticked.indexOf(+c.dataset.card) < 0; });
    return open.filter(function (c) { return +c.dataset.card > at; })[0] || open[0] || null;
  }
  cards.forEach(function (c) {
    box(c).addEventListener("change", function () {
      var number = +c.dataset.card;
      ticked = ticked.filter(function (n) { return n !== number; });
      if (box(c).checked) { ticked.push(number); }
      keep();
      showTicks();
      if (!box(c).checked) { return; }
      c.open = false;
      var next = nextAfter(number) || c;
      next.open = next !== c;
      var handle = next.querySelector("summary");
      handle.focus({ preventScroll: true });
      handle.scrollIntoView({ block: "start" });
    });
  });
  showTicks();
  if (ticked.length > 0) {
    var last = Math.max.apply(null, ticked), next = nextAfter(last);
    cards.forEach(function (c) { c.open = c === next; });
  }

  // --- figures

  function put(pattern, values) {
    return pattern.replace(/\{(\w+)\}/g, function (whole, name) { return name in values ? values[name] : whole; });
  }

  // Petrol that there is is rounded down, petrol that is lacking up.
  var ten = Math.pow(10, data.units.digits);
  function down(v) { return (Math.floor(v * ten + 1e-6) / ten).toFixed(data.units.digits) + " " + data.units.volume; }
  function up(v) { return (Math.ceil(v * ten - 1e-6) / ten).toFixed(data.units.digits) + " " + data.units.volume; }
  function left(v) { return v < 0 ? put(data.says.none, { lack: up(-v) }) : down(v); }

  // sampleAt gives the last sample at or before a distance ridden, and how far beyond it.
  function sampleAt(ridden) {
    var lo = 0, hi = data.ridden.length - 1;
    while (lo < hi) {
      var mid = (lo + hi + 1) >> 1;
      if (data.ridden[mid] <= ridden) { lo = mid; } else { hi = mid - 1; }
    }
    if (lo === data.ridden.length - 1 && lo > 0) { lo--; }
    var long = data.ridden[lo + 1] - data.ridden[lo];
    return { i: lo, share: long > 0 ? Math.min(1, Math.max(0, (ridden - data.ridden[lo]) / long)) : 0 };
  }

  function between(list, at) {
    var a = list[at.i], b = list[at.i + 1];
    return a === null || b === null || b === undefined ? a : a + (b - a) * at.share;
  }

  function legAt(at) { return data.leg[at.share > 0 ? at.i + 1 : at.i]; }

  function valuesAt(at) {
    var leg = legAt(at), u = data.units, height = between(data.height, at);
    return {
      leg: leg + 1, verdict: data.legs[leg].verdict, distance: u.distance,
      trip: between(data.trip, at).toFixed(0), ridden: between(data.ridden, at).toFixed(1), line: between(data.line, at).toFixed(1),
      tank: left(between(data.tank, at)), least: left(between(data.least, at)), most: left(between(data.most, at)),
      can: data.can[at.i] > 0 ? put(data.says.can, { can: down(data.can[at.i]) }) : "",
      ground: data.grounds[data.ground[at.i]],
      height: height === null ? data.says.noHeight : put(data.says.high, { height: Math.round(height), unit: u.height })
    };
  }

  function leadTo(leg, from) {
    var a = from.querySelector(".to-row");
    a.setAttribute("href", "#leg-" + leg);
    a.textContent = put(data.says.row, { leg: leg });
  }

  // point shows the figures at a place, and where it is.
  function point(ridden) {
    var at = sampleAt(ridden), values = valuesAt(at);
    output.textContent = put(data.says.told, values);
    reader.setAttribute("aria-valuetext", put(data.says.spoken, values));
    leadTo(values.leg, output.parentElement);
    charts.forEach(function (c) {
      var a = +c.dataset.from, b = +c.dataset.to, cursor = c.querySelector(".cursor");
      if (ridden < a || ridden > b) {
        cursor.setAttribute("hidden", "");
        return;
      }
      var from = +c.dataset.left, to = c.dataset.wide - c.dataset.right;
      var x = from + (b > a ? (ridden - a) / (b - a) : 0) * (to - from);
      cursor.removeAttribute("hidden");
      cursor.setAttribute("transform", "translate(" + x.toFixed(1) + " 0)");
    });
  }

  // riddenAt gives what is ridden at a finger on a picture.
  function riddenAt(chart, event) {
    var r = chart.getBoundingClientRect(), wide = +chart.dataset.wide;
    var x = (event.clientX - r.left) / r.width * wide, from = +chart.dataset.left, to = wide - chart.dataset.right;
    var a = +chart.dataset.from, b = +chart.dataset.to;
    return a + Math.min(1, Math.max(0, (x - from) / (to - from))) * (b - a);
  }

  function light(leg) {
    lit = leg === lit ? 0 : leg;
    all("[data-leg]").forEach(function (e) { e.classList.toggle("lit", +e.dataset.leg === lit); });
    all(".legs a").forEach(function (e) {
      if (+e.dataset.leg === lit) { e.setAttribute("aria-current", "true"); } else { e.removeAttribute("aria-current"); }
    });
    if (lit > 0) {
      output.textContent = data.legs[lit - 1].title;
      toldLeg.firstElementChild.textContent = data.legs[lit - 1].title;
      leadTo(lit, output.parentElement);
      leadTo(lit, toldLeg);
    }
    toldLeg.classList.toggle("empty", lit === 0);
  }

  // A press that moves is no tap.
  function onTap(picture, then) {
    var down = null;
    picture.addEventListener("pointerdown", function (e) { down = { x: e.clientX, y: e.clientY }; });
    picture.addEventListener("click", function (e) {
      if (down && Math.abs(e.clientX - down.x) + Math.abs(e.clientY - down.y) > 10) { return; }
      then(e);
    });
  }

  charts.forEach(function (c) {
    function follow(e) {
      var ridden = riddenAt(c, e);
      reader.value = Math.round(ridden);
      point(ridden);
    }
    c.addEventListener("pointermove", follow);
    c.addEventListener("pointerdown", follow);
    onTap(c, function (e) { light(legAt(sampleAt(riddenAt(c, e))) + 1); });
  });

  // nearest gives the leg of a sketch that is nearest to a finger, within its reach.
  function nearest(sketch, event) {
    var best = 0, least = 30;
    Array.prototype.forEach.call(sketch.querySelectorAll(".touch"), function (t) {
      var long = t.getTotalLength(), m = t.getScreenCTM(), steps = Math.min(60, Math.ceil(long / 6) + 1);
      for (var k = 0; k <= steps; k++) {
        var p = t.getPointAtLength(long * k / steps).matrixTransform(m);
        var far = Math.hypot(p.x - event.clientX, p.y - event.clientY);
        if (far < least) { least = far; best = +t.dataset.leg; }
      }
    });
    return best;
  }
  sketches.forEach(function (s) {
    onTap(s, function (e) {
      var leg = nearest(s, e);
      if (leg > 0) { light(leg); }
    });
  });

  reader.max = data.ridden.length > 1 ? Math.ceil(data.total) : 0;
  reader.addEventListener("input", function () { point(Math.min(+reader.value, data.total)); });
  all(".legs a").forEach(function (a) {
    a.addEventListener("click", function () {
      if (+a.dataset.leg !== lit) { light(+a.dataset.leg); }
    });
  });

  // Where letters are so large that a picture is wider than the screen, a finger slides it along
  // and the slider gives the figures.
  function fingers() {
    all(".easel").forEach(function (f) { f.classList.toggle("over", shown(f) && f.scrollWidth > f.clientWidth + 1); });
  }
  window.addEventListener("resize", fingers, gone);
  document.querySelector(".ride").addEventListener("toggle", fingers);
  fingers();
  toldLeg.classList.add("empty");
  point(0);
  goTo(location.hash);
}
(function () {
  var old = null;
  function show() {
    if (old) { old.abort(); }
    old = new AbortController();
    if (document.getElementById("readings").textContent.trim()) { showPage({ signal: old.signal }); }
  }
  document.addEventListener("planned", show);
  show();
})();
