(() => {
  // The boxes of every text as it is drawn, line by line.
  const boxes = [];
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let node; (node = walker.nextNode());) {
    const text = node.data.trim();
    if (!text) continue;
    const element = node.parentElement;
    if (element.closest("script, style, title, desc, .hidden")) continue;
    if (!element.checkVisibility({ opacityProperty: true, visibilityProperty: true })) continue;
    const range = document.createRange();
    range.selectNodeContents(node);
    for (const box of range.getClientRects()) {
      if (box.width > 1 && box.height > 1) boxes.push({ box, node, text: text.slice(0, 40) });
    }
  }
  boxes.sort((a, b) => a.box.top - b.box.top);
  const on = [];
  for (let i = 0; i < boxes.length; i++) {
    const a = boxes[i];
    for (let k = i + 1; k < boxes.length && boxes[k].box.top < a.box.bottom - 2; k++) {
      const b = boxes[k];
      if (a.node === b.node) continue;
      const wide = Math.min(a.box.right, b.box.right) - Math.max(a.box.left, b.box.left);
      const high = Math.min(a.box.bottom, b.box.bottom) - Math.max(a.box.top, b.box.top);
      if (wide > 2 && high > 3) on.push(`"${a.text}" stands on "${b.text}"`);
    }
  }
  const edge = document.documentElement.clientWidth;
  const out = boxes.filter(({ box }) => box.right > edge + 1 || box.left < -1).map(({ box, text }) => `"${text}" ends at ${Math.round(box.right)} of ${edge}`);
  return { Texts: boxes.length, On: on.slice(0, 5), Out: out.slice(0, 5) };
})()
