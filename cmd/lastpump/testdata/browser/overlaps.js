// Every two pieces of text of which one lies on the other, as far as they are seen.
(function () {
  var boxes = [];
  var walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (var n = walk.nextNode(); n; n = walk.nextNode()) {
    if (!n.textContent.trim() || /^(SCRIPT|STYLE|TITLE|title)$/.test(n.parentElement.tagName)) { continue; }
    // What is folded is not seen; the list of sections lies over the page, wherever that is.
    if (!n.parentElement.checkVisibility() || n.parentElement.closest(".reach")) { continue; }
    var cut = n.parentElement.closest(".card:not([open]) .name");
    cut = cut && cut.getBoundingClientRect(); // a long name on one line
    var range = document.createRange();
    range.selectNodeContents(n);
    var owner = n.parentElement.closest("text") || n.parentElement;
    Array.prototype.forEach.call(range.getClientRects(), function (r) {
      if (cut) { r = new DOMRect(r.left, r.top, Math.min(r.right, cut.right) - r.left, r.height); }
      if (r.width > 0 && r.height > 0) { boxes.push({ r: r, owner: owner, text: n.textContent.trim() }); }
    });
  }
  boxes.sort(function (a, b) { return a.r.top - b.r.top; });
  var out = [];
  for (var i = 0; i < boxes.length; i++) {
    for (var k = i + 1; k < boxes.length && boxes[k].r.top < boxes[i].r.bottom; k++) {
      var a = boxes[i], b = boxes[k];
      var wide = Math.min(a.r.right, b.r.right) - Math.max(a.r.left, b.r.left);
      var high = Math.min(a.r.bottom, b.r.bottom) - Math.max(a.r.top, b.r.top);
      if (a.owner !== b.owner && wide > 1 && high > 1) {
        out.push(a.text + " | " + b.text);
      }
    }
  }
  return { texts: boxes.length, overlaps: out, wide: document.documentElement.scrollWidth, room: document.documentElement.clientWidth };
})()
