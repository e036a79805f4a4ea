/** The outline of the whole on the paper, near enough to keep figures off it and to fit it in. */

const WAYS = [-1, 0, 1].flatMap((x) => [-1, 0, 1].flatMap((y) => [-1, 0, 1].map((z) => [x, y, z]))).filter((way) => way.some(Boolean));

/** The few of many points (x, y, z in turn) that reach farthest, each way. */
export function outermost(points) {
  const found = new Set();
  for (const [x, y, z] of WAYS) {
    let best = 0;
    let reach = -Infinity;
    for (let k = 0; k < points.length; k += 3) {
      const far = x * points[k] + y * points[k + 1] + z * points[k + 2];
      if (far > reach + 1e-6) [best, reach] = [k, far];
    }
    found.add(best);
  }
  return [...found].map((k) => points.slice(k, k + 3));
}

/** The convex outline of points on the paper, corner by corner. */
export function hull(points) {
  const sorted = [...points].sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  const half = (row) => {
    const kept = [];
    for (const point of row) {
      while (kept.length > 1 && turnOf(kept[kept.length - 2], kept[kept.length - 1], point) <= 0) kept.pop();
      kept.push(point);
    }
    return kept.slice(0, -1);
  };
  return [...half(sorted), ...half(sorted.reverse())];
}

const turnOf = (a, b, c) => (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);

/** How far the outline reaches along `normal` between two places along `way`; -Infinity if it is not there at all. */
export function reachOver(outline, way, normal, from, to) {
  let most = -Infinity;
  outline.forEach((start, k) => {
    const end = outline[(k + 1) % outline.length];
    const [a, b] = [start, end].map((point) => point[0] * way[0] + point[1] * way[1]);
    const [p, q] = [start, end].map((point) => point[0] * normal[0] + point[1] * normal[1]);
    for (const place of [a, b, from, to]) {
      if (place < from || place > to || place < Math.min(a, b) || place > Math.max(a, b)) continue;
      most = Math.max(most, a === b ? Math.max(p, q) : p + ((place - a) / (b - a)) * (q - p));
    }
  });
  return most;
}
