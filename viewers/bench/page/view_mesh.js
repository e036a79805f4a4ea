/** Arithmetic on triangles: soft shading up to a crease, and the line along which a plane cuts them. */

const CREASE = Math.cos((25 * Math.PI) / 180); // the angle from which edges are inked (viewers/edges.py)
const FLAT = Math.cos((0.5 * Math.PI) / 180);
const WELD = 1e3; // corners that agree to a thousandth of a millimetre are one corner

/** Every triangle's own three corners with normals: even over round surfaces, broken at creases.
 *  `smooth` is the share of corners that are rounded. */
export function softened(positions, index) {
  const corners = new Float32Array(3 * index.length);
  const normals = new Float32Array(3 * index.length);
  for (let k = 0; k < index.length; k += 1) {
    for (let axis = 0; axis < 3; axis += 1) corners[3 * k + axis] = positions[3 * index[k] + axis];
  }
  const faces = faceNormals(corners);
  const around = new Map();
  const keys = new Array(index.length);
  for (let k = 0; k < index.length; k += 1) {
    keys[k] = [0, 1, 2].map((axis) => Math.round(corners[3 * k + axis] * WELD)).join();
    if (!around.has(keys[k])) around.set(keys[k], []);
    around.get(keys[k]).push(Math.floor(k / 3));
  }
  let rounded = 0;
  for (let k = 0; k < index.length; k += 1) {
    const own = faces[Math.floor(k / 3)];
    const sum = [0, 0, 0];
    let isRounded = false;
    for (const other of around.get(keys[k])) {
      const { unit, area } = faces[other];
      const cosine = dot(own.unit, unit);
      if (cosine < CREASE) continue;
      isRounded = isRounded || cosine < FLAT;
      for (let axis = 0; axis < 3; axis += 1) sum[axis] += unit[axis] * area;
    }
    const length = Math.hypot(...sum) || 1;
    for (let axis = 0; axis < 3; axis += 1) normals[3 * k + axis] = sum[axis] / length;
    rounded += isRounded ? 1 : 0;
  }
  return { corners, normals, smooth: rounded / index.length };
}

const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

function faceNormals(corners) {
  const faces = [];
  for (let k = 0; k < corners.length; k += 9) {
    const [ax, ay, az, bx, by, bz, cx, cy, cz] = corners.subarray(k, k + 9);
    const across = [
      (by - ay) * (cz - az) - (bz - az) * (cy - ay),
      (bz - az) * (cx - ax) - (bx - ax) * (cz - az),
      (bx - ax) * (cy - ay) - (by - ay) * (cx - ax),
    ];
    const area = Math.hypot(...across);
    faces.push({ unit: area > 0 ? across.map((v) => v / area) : [0, 0, 0], area });
  }
  return faces;
}

/** Ends of the segments where the plane y = level cuts the triangles, moved by `matrix` first; into `out`. */
export function cutAcross(corners, matrix, level, out) {
  const e = matrix.elements;
  const moved = new Float64Array(9);
  for (let k = 0; k < corners.length; k += 9) {
    for (let c = 0; c < 9; c += 3) {
      const [x, y, z] = [corners[k + c], corners[k + c + 1], corners[k + c + 2]];
      moved[c] = e[0] * x + e[4] * y + e[8] * z + e[12];
      moved[c + 1] = e[1] * x + e[5] * y + e[9] * z + e[13] - level;
      moved[c + 2] = e[2] * x + e[6] * y + e[10] * z + e[14];
    }
    cutTriangle(moved, level, out);
  }
}

function cutTriangle(t, level, out) {
  const found = [];
  for (let c = 0; c < 9; c += 3) {
    const d = (c + 3) % 9;
    if (t[c + 1] < 0 === t[d + 1] < 0) continue;
    const share = t[c + 1] / (t[c + 1] - t[d + 1]);
    found.push(t[c] + share * (t[d] - t[c]), level, t[c + 2] + share * (t[d + 2] - t[c + 2]));
  }
  if (found.length === 6) out.push(...found);
}
