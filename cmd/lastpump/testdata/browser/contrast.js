// Every text whose contrast to what is behind it is under 4.5 to 1 (WCAG 2.1, 1.4.3).
(function () {
  function channels(colour) {
    var m = /^rgb/.test(colour) ? colour.match(/[\d.]+/g).map(Number) : null;
    return m === null || m.length > 3 && m[3] === 0 ? null : m;
  }
  function luminance(c) {
    var f = c.slice(0, 3).map(function (v) {
      v /= 255;
      return v <= 0.04045 ? v / 12.92 : Math.pow((v + 0.055) / 1.055, 2.4);
    });
    return 0.2126 * f[0] + 0.7152 * f[1] + 0.0722 * f[2];
  }
  function behind(e) {
    // A number on a filled box of the picture lies on that box.
    var box = e.tagName === "text" && e.previousElementSibling;
    if (box && box.tagName === "rect" && /\b(leg|plate)\b/.test(box.getAttribute("class"))) {
      var fill = channels(getComputedStyle(box).fill);
      if (fill) { return fill; }
    }
    for (; e; e = e.parentElement) {
      var c = channels(getComputedStyle(e).backgroundColor);
      if (c) { return c; }
    }
    return [255, 255, 255];
  }
  var out = [], seen = 0;
  var walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (var n = walk.nextNode(); n; n = walk.nextNode()) {
    var e = n.parentElement;
    if (!n.textContent.trim() || e.closest("title, script, style") || e.getClientRects().length === 0 || !e.checkVisibility()) { continue; }
    var inSVG = e.closest("svg"), style = getComputedStyle(e);
    var c = channels(inSVG ? style.fill : style.color);
    var a = luminance(c), b = luminance(behind(e.closest("text") || e));
    var ratio = (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
    seen++;
    if (ratio < 4.5) { out.push(ratio.toFixed(2) + " " + n.textContent.trim()); }
  }
  return { texts: seen, weak: out };
})()
