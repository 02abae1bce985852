"use strict";
(function () {
  // Without this script all is there to be read; it adds the figures at any place and
  // the lighting of a leg wherever it is drawn.
  var data = JSON.parse(document.getElementById("readings").textContent);
  var reader = document.getElementById("reader");
  var output = document.querySelector(".reader output");
  var charts = Array.prototype.slice.call(document.querySelectorAll("svg.chart"));
  var lit = 0;

  document.querySelectorAll(".scripted").forEach(function (e) { e.hidden = false; });
  reader.max = data.ridden.length > 1 ? Math.round(data.total * 10) : 0;

  // Petrol that there is is rounded down, petrol that is lacking up.
  var ten = Math.pow(10, data.units.digits);
  function down(v) { return (Math.floor(v * ten + 1e-6) / ten).toFixed(data.units.digits) + " " + data.units.volume; }
  function up(v) { return (Math.ceil(v * ten - 1e-6) / ten).toFixed(data.units.digits) + " " + data.units.volume; }
  function left(v) { return v < 0 ? "none (" + up(-v) + " lacking)" : down(v); }

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
    return a === null || b === null ? a : a + (b - a) * at.share;
  }

  function words(at) {
    var leg = data.leg[at.i + (at.share > 0 ? 1 : 0)], u = data.units;
    var text = "Leg " + (leg + 1) + ", " + data.legs[leg].verdict + ", trip " + between(data.trip, at).toFixed(0) + " " + u.distance + ": " +
      left(between(data.tank, at)) + " likely, " + left(between(data.least, at)) + " at the high use, " + left(between(data.most, at)) + " at the low";
    if (data.can[at.i] > 0) { text += "; in the can " + down(data.can[at.i]); }
    var height = between(data.height, at);
    text += ". " + data.grounds[data.ground[at.i]] + ", " + (height === null ? "height not known" : Math.round(height) + " " + u.height + " high") +
      "; " + between(data.ridden, at).toFixed(1) + " " + u.distance + " ridden, " + between(data.line, at).toFixed(1) + " along the line.";
    return text;
  }

  function point(ridden) {
    output.textContent = words(sampleAt(ridden));
    charts.forEach(function (c) {
      var wide = +c.dataset.wide, from = +c.dataset.left, to = wide - c.dataset.right;
      var x = from + (data.total > 0 ? ridden / data.total : 0) * (to - from);
      var cursor = c.querySelector(".cursor");
      cursor.removeAttribute("hidden");
      cursor.setAttribute("transform", "translate(" + x.toFixed(1) + " 0)");
    });
  }

  function pointed(chart, event) {
    var r = chart.getBoundingClientRect(), wide = +chart.dataset.wide;
    var x = (event.clientX - r.left) / r.width * wide, from = +chart.dataset.left, to = wide - chart.dataset.right;
    var ridden = Math.min(1, Math.max(0, (x - from) / (to - from))) * data.total;
    reader.value = Math.round(ridden * 10);
    point(ridden);
  }

  function light(leg) {
    lit = leg === lit ? 0 : leg;
    document.querySelectorAll("[data-leg]").forEach(function (e) {
      e.classList.toggle("lit", +e.dataset.leg === lit);
    });
    document.querySelectorAll("a.leg").forEach(function (e) {
      if (+e.dataset.leg === lit) { e.setAttribute("aria-current", "true"); } else { e.removeAttribute("aria-current"); }
    });
    if (lit > 0) { output.textContent = data.legs[lit - 1].title; }
  }

  charts.forEach(function (c) {
    c.addEventListener("pointermove", function (e) { pointed(c, e); });
    c.addEventListener("pointerdown", function (e) { pointed(c, e); });
  });
  reader.addEventListener("input", function () { point(reader.value / 10); });
  document.querySelectorAll("a.leg").forEach(function (a) {
    a.addEventListener("click", function (e) {
      e.preventDefault();
      light(+a.dataset.leg);
    });
  });
  point(0);
})();
