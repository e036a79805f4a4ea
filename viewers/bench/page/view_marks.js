/** Symbols over the model: the balance point, the wheels' contacts, and their names where there is room for them. */

import { LINE_PX } from "./view_pen.js";

const RADIUS = 9;
const LEVEL = 0.2; // looked at flatter than this, lines on the ground are one line
const STEEP = 0.8; // looked at from higher than this, the wheels are under the wing
const TIPS = "tips over this line";

export function drawMarks(pen, eye, scene, isWhole) {
  const [x, y] = eye.project(scene.balance.point);
  pen.path("view-balance-field", disc(x, y, RADIUS), pen.marks);
  pen.path("view-balance", quarters(x, y, RADIUS), pen.marks);
  pen.keep(x, y, RADIUS + 2);
  if (!isWhole) return;
  for (const contact of scene.contacts) {
    const [u, v] = eye.project(contact.point);
    pen.path("view-contact", `M${u - 7} ${v}H${u + 7}M${u} ${v}m-4 0a4 4 0 1 0 8 0a4 4 0 1 0 -8 0`, pen.marks);
    pen.keep(u, v, 5);
  }
}

/** What there is to say of the balance point, line by line: before all other lettering, for it matters most. */
export function letterBalance(pen, eye, scene, lines) {
  const [x, y] = eye.project(scene.balance.point);
  let side = -1;
  lines.forEach((words, row) => {
    const beside = RADIUS + 8 + pen.width(words) / 2;
    const [up, down] = [-1, 1].map((way) => y + way * (RADIUS + 4 + LINE_PX / 2));
    const places = [[x + beside, y], [x - beside, y], [x, down], [x, up]].map(([u, v]) => [u, v + row * (LINE_PX + 1)]);
    side = pen.letter("view-figure view-of-balance", words, side < 0 ? places : [places[side], ...places], eye.size);
  });
}

/** Names of lines and wheels on the ground, where there is room for them. */
export function letterGround(pen, eye, scene) {
  const steepness = Math.abs(eye.toward.z);
  if (steepness > LEVEL) letterTipping(pen, eye, scene.tipping);
  if (steepness < STEEP) letterContacts(pen, eye, scene.contacts);
}

/** Names the wheels, the nearest first; of two that are one behind the other, only the nearer. */
function letterContacts(pen, eye, contacts) {
  const near = (contact) => contact.point.reduce((sum, value, axis) => sum + value * eye.toward.getComponent(axis), 0);
  const seen = [];
  for (const contact of [...contacts].sort((a, b) => near(b) - near(a))) {
    const [u, v] = eye.project(contact.point);
    if (seen.some(([p, q]) => Math.hypot(u - p, v - q) < LINE_PX)) continue;
    seen.push([u, v]);
    const side = pen.width(contact.name) / 2 + 12;
    pen.letter("view-figure view-of-contact", contact.name, [[u, v + LINE_PX], [u + side, v + 4], [u - side, v + 4], [u, v + 1.7 * LINE_PX]], eye.size);
  }
}

/** Names the line over which it tips that is seen best, if it is long enough to carry its name. */
function letterTipping(pen, eye, tipping) {
  const seen = tipping.map((line) => line.map(eye.project)).map(([a, b]) => ({ a, b, length: Math.hypot(b[0] - a[0], b[1] - a[1]) }));
  seen.sort((one, other) => other.length - one.length);
  for (const { a, b, length } of seen) {
    if (length < 1.2 * pen.width(TIPS)) return;
    const places = [0.5, 0.4, 0.6, 0.3, 0.7].map((share) => [0, 1].map((k) => a[k] + (b[k] - a[k]) * share));
    if (pen.letter("view-figure view-of-tipping", TIPS, places, eye.size) >= 0) return;
  }
}

const disc = (x, y, r) => `M${x - r} ${y}a${r} ${r} 0 1 0 ${2 * r} 0a${r} ${r} 0 1 0 ${-2 * r} 0Z`;

/** A circle with two opposite quarters filled. */
const quarters = (x, y, r) => `${disc(x, y, r)}M${x} ${y}V${y - r}A${r} ${r} 0 0 1 ${x + r} ${y}ZM${x} ${y}V${y + r}A${r} ${r} 0 0 1 ${x - r} ${y}Z`;
