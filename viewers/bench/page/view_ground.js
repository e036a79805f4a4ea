/** The ground it stands on, hatched, with the wheels' track, the lines it tips over, and a plumb line from the balance point. */

import { linear } from "./view_inks.js";

const APRON_MM = 70; // ground drawn beyond the wheels
const HATCH_MM = 26;
const FRINGE_MM = 9; // strokes below the ground's edge: seen from the side they make it ground

export function createGround(root) {
  const group = new THREE.Group();
  const made = [];
  root.add(group);

  function lines(name, points, options = {}) {
    if (points.length === 0) return;
    const geometry = new THREE.BufferGeometry().setFromPoints(points);
    const Material = options.dash ? THREE.LineDashedMaterial : THREE.LineBasicMaterial;
    const material = new Material({ transparent: true, opacity: options.opacity || 1 });
    const drawn = new THREE.LineSegments(geometry, material);
    if (options.dash) Object.assign(material, { dashSize: options.dash, gapSize: options.gap });
    if (options.dash) drawn.computeLineDistances();
    group.add(drawn);
    made.push({ name, drawn });
  }

  function update(scene) {
    clear();
    const base = ground(scene);
    if (base) {
      const { rim, strokes, fringe } = hatching(base);
      lines("ground", strokes, { opacity: 0.5 });
      lines("ground", [...rim, ...fringe]);
      const balance = new THREE.Vector3(...scene.balance.point);
      const foot = balance.clone().addScaledVector(base.up, -base.up.dot(balance.clone().sub(base.origin)));
      lines("balance", [balance, foot], { dash: 6, gap: 4 });
      lines("balance", cross(base, foot, 12));
    }
    lines("dimension", scene.tipping.flat().map((point) => new THREE.Vector3(...point)), { dash: 16, gap: 6 });
    if (scene.disc) addDisc(scene.disc.map((point) => new THREE.Vector3(...point)));
  }

  function addDisc(rim) {
    lines("disc", rim.slice(1).flatMap((point, k) => [rim[k], point]), { dash: 9, gap: 4 });
    const middle = rim.reduce((sum, point) => sum.add(point), new THREE.Vector3()).divideScalar(rim.length);
    const fan = rim.slice(1).flatMap((point, k) => [middle, rim[k], point]);
    const geometry = new THREE.BufferGeometry().setFromPoints(fan);
    const material = new THREE.MeshBasicMaterial({ transparent: true, opacity: 0.07, side: THREE.DoubleSide, depthWrite: false });
    const drawn = new THREE.Mesh(geometry, material);
    group.add(drawn);
    made.push({ name: "disc", drawn });
  }

  function clear() {
    for (const { drawn } of made.splice(0)) {
      group.remove(drawn);
      drawn.geometry.dispose();
      drawn.material.dispose();
    }
  }

  function paint(ink) {
    for (const { name, drawn } of made) drawn.material.color.copy(linear(ink[name]));
  }

  return { update, paint, dispose: clear, setShown: (value) => { group.visible = value; } };
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
  return { rim, strokes, fringe };
}

function cross({ aft, right }, point, size) {
  return [aft, right].flatMap((way) => [-size, size].map((step) => point.clone().addScaledVector(way, step)));
}
