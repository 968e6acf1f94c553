(() => {
  // Every piece of text with its place; of what a sideways box cuts off only what is seen.
  const texts = [];
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  const luminance = c => { const [r, g, b] = c.map(v => { v /= 255; return v <= 0.03928 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4; }); return 0.2126 * r + 0.7152 * g + 0.0722 * b; };
  const parse = text => { const found = text.match(/[\d.]+/g).map(Number); return found.length === 4 && found[3] === 0 ? null : found.slice(0, 3); };
  const ground = element => { for (let at = element; at; at = at.parentElement) { const color = parse(getComputedStyle(at).backgroundColor); if (color) { return color; } } return [255, 255, 255]; };
  const faint = [];
  while (walker.nextNode()) {
    const node = walker.currentNode;
    const element = node.parentElement;
    if (!node.data.trim() || ["SCRIPT", "STYLE"].includes(element.tagName) || !element.checkVisibility()) { continue; }
    const box = element.closest(".wide");
    const edge = box ? box.getBoundingClientRect() : null;
    const range = document.createRange();
    range.selectNodeContents(node);
    for (const rect of range.getClientRects()) {
      const left = edge ? Math.max(rect.left, edge.left) : rect.left;
      const right = edge ? Math.min(rect.right, edge.right) : rect.right;
      if (right - left > 1 && rect.height > 1 && right > 0) { texts.push([left, rect.top + scrollY, right, rect.bottom + scrollY, node.data.trim().slice(0, 60)]); }
    }
    const [one, other] = [luminance(parse(getComputedStyle(element).color) || [0, 0, 0]), luminance(ground(element))].sort((a, b) => b - a);
    const contrast = (one + 0.05) / (other + 0.05);
    if (contrast < 4.5) { faint.push(contrast.toFixed(2) + " " + node.data.trim().slice(0, 60)); }
  }
  texts.sort((a, b) => a[1] - b[1]);
  const overlaps = [];
  for (let i = 0; i < texts.length; i++) {
    for (let j = i + 1; j < texts.length && texts[j][1] < texts[i][3] - 2; j++) {
      const across = Math.min(texts[i][2], texts[j][2]) - Math.max(texts[i][0], texts[j][0]);
      const down = Math.min(texts[i][3], texts[j][3]) - Math.max(texts[i][1], texts[j][1]);
      if (across > 2 && down > 3) { overlaps.push(texts[i][4] + " | " + texts[j][4]); }
    }
  }
  return {
    texts: texts.length,
    overlaps, faint,
    beyond: texts.filter(text => text[2] > innerWidth + 1).map(text => text[4]),
    width: document.documentElement.scrollWidth,
    window: innerWidth,
    height: document.documentElement.scrollHeight,
    answer: document.querySelector(".answer").getBoundingClientRect().bottom + scrollY,
    pictures: Array.from(document.images).map(image => { const r = image.getBoundingClientRect(); return { loaded: image.complete && image.naturalWidth > 0, left: r.left, top: r.top + scrollY, width: r.width, height: r.height, alt: image.alt.slice(0, 60) }; }),
    alive: typeof window.pwned !== "undefined",
    filters: document.querySelectorAll("label.filter").length
  };
})()
