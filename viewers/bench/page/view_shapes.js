/** Shapes by digest: fetched once, shared by every part that has them, kept while used and a little longer. */

import { softened } from "./view_mesh.js";

const SPARE = 64; // shapes kept though no part uses them: what undo or a slider going back asks for next

export function createShapes(fetchShapes) {
  const held = new Map(); // digest -> shape, the longest unused first
  const coming = new Map(); // digest -> promise

  /** Resolves when every digest is held; asks for those that are missing in one request. */
  async function need(digests) {
    for (;;) {
      const missing = [...new Set(digests)].filter((digest) => !held.has(digest));
      if (missing.length === 0) return;
      const unasked = missing.filter((digest) => !coming.has(digest));
      if (unasked.length > 0) ask(unasked);
      await Promise.all(missing.map((digest) => coming.get(digest)));
    }
  }

  function ask(digests) {
    const answer = fetchShapes(digests).then((buffer) => {
      const shapes = unpacked(buffer, digests.length);
      digests.forEach((digest, number) => held.set(digest, shapes[number]));
    });
    const done = answer.finally(() => digests.forEach((digest) => coming.delete(digest)));
    done.catch(() => {}); // whoever needs them hears of it through `coming`
    digests.forEach((digest) => coming.set(digest, done));
  }

  function take(digest) {
    const shape = held.get(digest);
    shape.users += 1;
    return shape;
  }

  function give(digest) {
    const shape = held.get(digest);
    shape.users -= 1;
    held.delete(digest);
    held.set(digest, shape);
  }

  /** Forgets the shapes longest unused. */
  function tidy() {
    const spare = [...held].filter(([, shape]) => shape.users === 0);
    for (const [digest, shape] of spare.slice(0, Math.max(0, spare.length - SPARE))) {
      release(shape);
      held.delete(digest);
    }
  }

  function dispose() {
    held.forEach(release);
    held.clear();
  }

  /** Whether every digest is held this moment. */
  const holds = (digests) => digests.every((digest) => held.has(digest));

  return { need, holds, take, give, tidy, dispose, count: () => held.size };
}

function release(shape) {
  if (shape.surface) shape.surface.dispose();
  if (shape.edges) shape.edges.dispose();
}

/** The shapes of one answer: counts of corners, triangles and inked edges, then the numbers themselves. */
export function unpacked(buffer, count) {
  const shapes = [];
  let at = 0;
  for (let k = 0; k < count; k += 1) {
    const [corners, triangles, edges] = new Uint32Array(buffer, at, 3);
    at += 12;
    const positions = new Float32Array(buffer, at, 3 * corners);
    at += 12 * corners;
    const index = new Uint32Array(buffer, at, 3 * triangles);
    at += 12 * triangles;
    const ends = new Float32Array(buffer, at, 6 * edges).slice();
    at += 24 * edges;
    shapes.push(made(positions, index, ends));
  }
  if (at !== buffer.byteLength) throw new Error("the shapes that came are not those that were asked for");
  return shapes;
}

function made(positions, index, ends) {
  const shape = { users: 0, surface: null, edges: null, triangles: index.length / 3, isRound: false, box: new THREE.Box3() };
  if (index.length > 0) {
    const { corners, normals, smooth } = softened(positions, index);
    shape.surface = new THREE.BufferGeometry();
    shape.surface.setAttribute("position", new THREE.BufferAttribute(corners, 3));
    shape.surface.setAttribute("normal", new THREE.BufferAttribute(normals, 3));
    shape.surface.computeBoundingSphere();
    shape.isRound = smooth > 0.3;
    shape.box.setFromArray(corners);
  }
  if (ends.length > 0) {
    shape.edges = new THREE.BufferGeometry();
    shape.edges.setAttribute("position", new THREE.BufferAttribute(ends, 3));
    if (index.length === 0) shape.box.setFromArray(ends);
  }
  return shape;
}
