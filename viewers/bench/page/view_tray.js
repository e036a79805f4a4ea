/** The way an item may go along its tray, with the room that is free and the places from which the aeroplane balances. */

import { polyline } from "./view_pen.js";

export const MM = { mm: 1, cm: 10, in: 25.4 };

/** Drawn under the item of `drag`, whose box as drawn is `box` and whose value just now is `value`. */
export function drawTray(pen, eye, drag, box, value, band) {
  const axis = new THREE.Vector3(...drag.axis);
  const foot = box.getCenter(new THREE.Vector3());
  foot.z = box.min.z;
  const half = Math.max((box.max.y - box.min.y) / 2, 4);
  const at = (worth, v = 0) => {
    const point = foot.clone().addScaledVector(axis, (worth - value) * MM[drag.unit]);
    return eye.project([point.x, point.y + v, point.z]);
  };
  const strip = ([from, to], wide) => `${polyline([at(from, -wide), at(to, -wide), at(to, wide), at(from, wide)])}Z`;
  pen.path("view-tray", polyline([at(drag.low), at(drag.high)]), pen.marks);
  for (const end of [drag.low, drag.high]) pen.path("view-tray", tick(at(end), 6), pen.marks);
  if (band && band.free) pen.path("view-free", strip(band.free, half), pen.marks);
  if (band && band.usable) {
    pen.path("view-usable", strip(band.usable, half * 0.6), pen.marks);
    const core = polyline(band.usable.map((end) => at(end)));
    pen.path("view-usable-casing", core, pen.marks);
    pen.path("view-usable-core", core, pen.marks);
  }
  const here = at(value);
  pen.path("view-here", `M${here[0]} ${here[1]}l-6 11h12Z`, pen.marks);
  const words = `${shown(value)} ${drag.unit}`;
  pen.letter("view-figure view-of-size", words, [[here[0], here[1] + 22], [here[0], here[1] + 40]], eye.size);
  if (!band) return;
  const note = band.usable ? `balances from ${shown(band.usable[0])} to ${shown(band.usable[1])} ${drag.unit}` : "balances from no place here";
  const middle = at((drag.low + drag.high) / 2);
  pen.letter("view-figure view-of-contact", note, [1, 2, 3, -2, -3].map((row) => [middle[0], middle[1] + 22 + 18 * row]), eye.size);
}

const tick = ([x, y], size) => `M${x} ${y - size}V${y + size}`;

const shown = (value) => String(Number(value.toFixed(Math.abs(value) < 10 ? 2 : 1)));

/** How far along the axis (mm) the hand at (x, y) has come from (x0, y0), or null where the axis is seen end on. */
export function along(eye, axis, dx, dy) {
  const [u, v] = eye.slant(axis);
  const square = u * u + v * v;
  return square < (0.15 * eye.scale()) ** 2 ? null : (dx * u + dy * v) / square;
}
