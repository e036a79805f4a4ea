/** The ground it stands on, hatched, with the wheels' track, the lines it tips over, and a plumb line from the balance point. */

import { linear } from "./view_inks.js";
import { inkLines, setSegments } from "./view_lines.js";

const APRON_MM = 70; // ground drawn beyond the wheels
const HATCH_MM = 26;
const FRINGE_MM = 9; // strokes below the ground's edge: seen from the side they make it ground

const PENS = {
  hatch: { ink: "ground", opacity: 0.5, width: 0.6 },
  rim: { ink: "ground" },
  plumb: { ink: "balance", dash: 6, gap: 4 },
  foot: { ink: "balance" },
  tipping: { ink: "dimension", dash: 16, gap: 6 },
  disc: { ink: "disc", dash: 9, gap: 4 },
};

export function createGround(root) {
  const group = new THREE.Group();
  const drawn = Object.fromEntries(Object.entries(PENS).map(([name, pen]) => [name, lines(pen)]));
  const swept = new THREE.Mesh(new THREE.BufferGeometry(), new THREE.MeshBasicMaterial({
    transparent: true, opacity: 0.07, side: THREE.DoubleSide, depthWrite: false }));
  group.add(...Object.values(drawn), swept);
  root.add(group);

  function update(scene) {
    const base = ground(scene);
    const { rim, strokes } = base ? hatching(base) : { rim: [], strokes: [] };
    const { plumb, foot } = base ? plumbLine(base, scene.balance.point) : { plumb: [], foot: [] };
    put(drawn.rim, rim);
    put(drawn.hatch, strokes);
    put(drawn.plumb, plumb);
    put(drawn.foot, foot);
    put(drawn.tipping, scene.tipping.flat().map((point) => new THREE.Vector3(...point)));
    const disc = (scene.disc || []).map((point) => new THREE.Vector3(...point));
    put(drawn.disc, disc.slice(1).flatMap((point, k) => [disc[k], point]));
    const middle = disc.reduce((sum, point) => sum.add(point), new THREE.Vector3()).divideScalar(disc.length || 1);
    spread(swept, disc.slice(1).flatMap((point, k) => [middle, disc[k], point]));
  }

  function paint(ink) {
    for (const [name, pen] of Object.entries(PENS)) drawn[name].material.color.copy(linear(ink[pen.ink]));
    swept.material.color.copy(linear(ink.disc));
  }

  function dispose() {
    for (const thing of [...Object.values(drawn), swept]) {
      thing.geometry.dispose();
      thing.material.dispose();
    }
  }

  return { update, paint, dispose, setShown: (value) => { group.visible = value; } };
}

function lines({ opacity, dash, gap, width }) {
  const basic = { transparent: true, opacity: opacity || 1, linewidth: width || 1 };
  const material = dash
    ? new THREE.LineDashedMaterial({ ...basic, dashSize: dash, gapSize: gap })
    : new THREE.LineBasicMaterial(basic);
  return inkLines(new THREE.BufferGeometry(), material);
}

function put(lines, points) {
  setSegments(lines, new THREE.BufferGeometry().setFromPoints(points));
  lines.visible = points.length > 0;
}

function spread(surface, points) {
  surface.geometry.dispose();
  surface.geometry = new THREE.BufferGeometry().setFromPoints(points);
  surface.visible = points.length > 0;
}

function plumbLine(base, point) {
  const balance = new THREE.Vector3(...point);
  const under = balance.clone().addScaledVector(base.up, -base.up.dot(balance.clone().sub(base.origin)));
  return { plumb: [balance, under], foot: cross(base, under, 12) };
}

/** The plane under the wheels, level across: its origin, the way aft along it, the way up, and how far it is drawn. */
export function ground(scene) {
  if (scene.ground.length === 0) return null;
  const points = scene.ground.map((point) => new THREE.Vector3(...point));
  const origin = points[0];
  const aft = points[points.length - 1].clone().sub(origin);
  if (aft.length() < 1) aft.set(1, 0, 0);
  aft.normalize();
  const right = new THREE.Vector3(0, 1, 0);
  const up = aft.clone().cross(right);
  const feet = scene.contacts.map((contact) => new THREE.Vector3(...contact.point));
  const along = [...feet, ...points].map((foot) => foot.clone().sub(origin).dot(aft));
  const half = Math.max(...feet.map((foot) => Math.abs(foot.y)), 0) + APRON_MM;
  return { origin, aft, right, up, from: Math.min(...along) - APRON_MM, to: Math.max(...along) + APRON_MM, half };
}

function hatching({ origin, aft, right, up, from, to, half }) {
  const at = (u, v, w = 0) => origin.clone().addScaledVector(aft, u).addScaledVector(right, v).addScaledVector(up, w);
  const corners = [[from, -half], [to, -half], [to, half], [from, half]];
  const rim = corners.flatMap((corner, k) => [at(...corner), at(...corners[(k + 1) % 4])]);
  const strokes = [];
  for (let c = from - half + HATCH_MM; c < to + half; c += HATCH_MM) {
    // The line u + v = c within the rectangle.
    const v0 = Math.max(-half, c - to);
    const v1 = Math.min(half, c - from);
    if (v1 > v0) strokes.push(at(c - v0, v0), at(c - v1, v1));
  }
  const fringe = [];
  for (let u = from + FRINGE_MM; u <= to; u += FRINGE_MM) {
    for (const v of [-half, half]) fringe.push(at(u, v), at(u - FRINGE_MM, v, -FRINGE_MM));
  }
  for (let v = -half + FRINGE_MM; v <= half; v += FRINGE_MM) {
    for (const u of [from, to]) fringe.push(at(u, v), at(u, v - FRINGE_MM, -FRINGE_MM));
  }
  return { rim: [...rim, ...fringe], strokes };
}

function cross({ aft, right }, point, size) {
  return [aft, right].flatMap((way) => [-size, size].map((step) => point.clone().addScaledVector(way, step)));
}
