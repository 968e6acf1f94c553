(() => {
  // Labels of a picture, as the browser sets them.
  const boxes = Array.from(document.querySelectorAll("text")).filter(text => text.textContent.trim()).map(text => { const r = text.getBoundingClientRect(); return [r.left, r.top, r.right, r.bottom, text.textContent.trim()]; });
  const svg = document.documentElement.getBoundingClientRect();
  const overlaps = [];
  for (let i = 0; i < boxes.length; i++) {
    for (let j = i + 1; j < boxes.length; j++) {
      const across = Math.min(boxes[i][2], boxes[j][2]) - Math.max(boxes[i][0], boxes[j][0]);
      const down = Math.min(boxes[i][3], boxes[j][3]) - Math.max(boxes[i][1], boxes[j][1]);
      if (across > 1 && down > 4) { overlaps.push(boxes[i][4] + " | " + boxes[j][4]); }
    }
  }
  return { labels: boxes.map(box => box[4]), overlaps, outside: boxes.filter(box => box[0] < svg.left - 1 || box[2] > svg.right + 1 || box[3] > svg.bottom + 1 || box[1] < svg.top - 1).map(box => box[4]) };
})()
