(() => {
  // The boxes of every text as it is drawn, line by line; under a dialog its own alone, as far as they are not
  // scrolled out of sight.
  const boxes = [];
  const dialog = document.querySelector("dialog:modal");
  const seen = (box, element) => {
    let { left, top, right, bottom } = box;
    for (let e = element; e && e !== dialog; e = e.parentElement) {
      if (getComputedStyle(e).overflowY === "visible") continue;
      const r = e.getBoundingClientRect();
      [top, bottom] = [Math.max(top, r.top), Math.min(bottom, r.bottom)];
    }
    return { left, top, right, bottom, width: right - left, height: bottom - top };
  };
  const walker = document.createTreeWalker(dialog ?? document.body, NodeFilter.SHOW_TEXT);
  for (let node; (node = walker.nextNode());) {
    const text = node.data.trim();
    if (!text) continue;
    const element = node.parentElement;
    if (element.closest("script, style, title, desc, .hidden")) continue;
    if (!element.checkVisibility({ opacityProperty: true, visibilityProperty: true })) continue;
    const range = document.createRange();
    range.selectNodeContents(node);
    for (const drawn of range.getClientRects()) {
      const box = dialog ? seen(drawn, element) : drawn;
      if (box.width > 1 && box.height > 1) boxes.push({ box, node, text: text.slice(0, 40) });
    }
  }
  // What is pinned to the window on a ground of its own lies over what is scrolled under it: each is a layer.
  const layer = (node) => {
    for (let e = node.parentElement; e; e = e.parentElement) {
      const style = getComputedStyle(e);
      if ((style.position === "fixed" || style.position === "sticky") && !/^rgba\(.*, 0\)$/.test(style.backgroundColor)) return e;
    }
    return null;
  };
  for (const b of boxes) b.layer = layer(b.node);
  boxes.sort((a, b) => a.box.top - b.box.top);
  const on = [];
  for (let i = 0; i < boxes.length; i++) {
    const a = boxes[i];
    for (let k = i + 1; k < boxes.length && boxes[k].box.top < a.box.bottom - 2; k++) {
      const b = boxes[k];
      if (a.node === b.node || a.layer !== b.layer) continue;
      const wide = Math.min(a.box.right, b.box.right) - Math.max(a.box.left, b.box.left);
      const high = Math.min(a.box.bottom, b.box.bottom) - Math.max(a.box.top, b.box.top);
      if (wide > 2 && high > 3) on.push(`"${a.text}" stands on "${b.text}"`);
    }
  }
  const edge = dialog ? dialog.getBoundingClientRect().right : document.documentElement.clientWidth;
  const out = boxes.filter(({ box }) => box.right > edge + 1 || box.left < -1).map(({ box, text }) => `"${text}" ends at ${Math.round(box.right)} of ${edge}`);
  return { Texts: boxes.length, On: on.slice(0, 5), Out: out.slice(0, 5) };
})()
