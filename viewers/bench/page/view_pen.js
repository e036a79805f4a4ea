/** The sheet laid over the model: lines, symbols and lettering of constant size, drawn anew at every frame. */

const SVG = "http://www.w3.org/2000/svg";
export const LINE_PX = 18; // from one line of lettering to the next

export function createPen(host) {
  const sheet = document.createElementNS(SVG, "svg");
  sheet.setAttribute("class", "view-sheet");
  sheet.setAttribute("aria-hidden", "true");
  host.append(sheet);
  const layers = ["lines", "marks", "letters"].map((name) => {
    const group = document.createElementNS(SVG, "g");
    group.setAttribute("class", `view-${name}`);
    sheet.append(group);
    return group;
  });
  const [lines, marks, letters] = layers;
  const kept = new Map(layers.map((layer) => [layer, []])); // elements in the order in which they were first drawn
  const used = new Map();
  const widths = new Map();
  const ruler = document.createElementNS(SVG, "text"); // measures lettering in whatever type the page is set
  ruler.setAttribute("visibility", "hidden");
  sheet.append(ruler);
  let taken = [];

  /** A fresh sheet; elements of the last one are used again. */
  function begin(width, height) {
    sheet.setAttribute("viewBox", `0 0 ${width} ${height}`);
    layers.forEach((layer) => used.set(layer, 0));
    taken = [];
  }

  function end() {
    for (const layer of layers) {
      for (const spare of kept.get(layer).slice(used.get(layer))) spare.setAttribute("visibility", "hidden");
    }
  }

  function element(layer, kind, name) {
    const row = kept.get(layer);
    const number = used.get(layer);
    if (number === row.length) {
      row.push(document.createElementNS(SVG, kind));
      layer.append(row[number]);
    }
    used.set(layer, number + 1);
    row[number].setAttribute("visibility", "visible");
    row[number].setAttribute("class", name);
    return row[number];
  }

  function path(name, d, layer = lines) {
    element(layer, "path", name).setAttribute("d", d);
  }

  /** A line of lettering about its middle. */
  function text(name, words, x, y) {
    const found = element(letters, "text", name);
    found.setAttribute("x", x.toFixed(1));
    found.setAttribute("y", (y + 4.5).toFixed(1));
    if (found.textContent !== words) found.textContent = words;
  }

  function width(words) {
    if (!widths.has(words)) {
      if (widths.size > 500) widths.clear();
      ruler.textContent = words;
      widths.set(words, ruler.getComputedTextLength());
    }
    return widths.get(words);
  }

  /** Takes the first of the places [x, y] where these words hide nothing and stay on the paper; the number of that place, or -1. */
  function letter(name, words, places, size) {
    const half = [width(words) / 2 + 4, LINE_PX / 2];
    for (const [number, [x, y]] of places.entries()) {
      const isOn = x > half[0] && x < size.width - half[0] && y > half[1] && y < size.height - half[1];
      if (!isOn || !isFree(x, y, half)) continue;
      taken.push([x, y, ...half]);
      text(name, words, x, y);
      return number;
    }
    return -1;
  }

  const isFree = (x, y, half) => taken.every(([u, v, p, q]) => Math.abs(u - x) > p + half[0] || Math.abs(v - y) > q + half[1]);

  /** Keeps lettering off a spot. */
  const keep = (x, y, radius) => taken.push([x, y, radius, radius]);

  /** Keeps lettering off a line. */
  function keepLine([x0, y0], [x1, y1]) {
    const steps = Math.min(200, Math.ceil(Math.hypot(x1 - x0, y1 - y0) / 10) + 1);
    for (let k = 0; k <= steps; k += 1) keep(x0 + ((x1 - x0) * k) / steps, y0 + ((y1 - y0) * k) / steps, 3);
  }

  return { begin, end, path, letter, keep, keepLine, width, marks, sheet };
}

export const polyline = (points) => `M${points.map(([x, y]) => `${x.toFixed(1)} ${y.toFixed(1)}`).join("L")}`;

/** A filled arrowhead with its tip at `tip`, pointing along the unit vector `way`. */
export function arrow(tip, way, length = 9) {
  const back = [tip[0] - way[0] * length, tip[1] - way[1] * length];
  const wide = length * 0.28;
  return `${polyline([tip, [back[0] - way[1] * wide, back[1] + way[0] * wide], [back[0] + way[1] * wide, back[1] - way[0] * wide]])}Z`;
}
