/** The prototype as a tracing laid over the drawing: pale dashed ink, its own hidden lines left out. */

import { linear } from "./view_inks.js";
import { outline } from "./view_outline.js";

const DASH_PX = 5;

export function createGhost(shapes) {
  const scene = new THREE.Scene();
  const mask = new THREE.MeshBasicMaterial({
    colorWrite: false, side: THREE.DoubleSide, polygonOffset: true, polygonOffsetFactor: 2, polygonOffsetUnits: 4,
  });
  const pen = new THREE.LineDashedMaterial({ transparent: true, opacity: 0.65 });
  const rims = [];
  let used = [];
  let turn = 0;
  let isShown = true;

  /** Lays these parts down, or nothing for null; late shapes of an earlier tracing are dropped. */
  async function set(ghost) {
    turn += 1;
    const mine = turn;
    const parts = (ghost && (ghost.parts || ghost)) || [];
    const digests = parts.map((part) => part.shape);
    do await shapes.need(digests); while (mine === turn && !shapes.holds(digests));
    if (mine !== turn) return false;
    clear();
    parts.forEach(add);
    shapes.tidy();
    return true;
  }

  function add(part) {
    const shape = shapes.take(part.shape);
    used.push(part.shape);
    const drawn = [];
    if (shape.surface) {
      drawn.push(new THREE.Mesh(shape.surface, mask));
      if (shape.isRound) {
        const rim = outline(shape.surface);
        rims.push(rim.material);
        drawn.push(rim);
      }
    }
    if (shape.edges) {
      const lines = new THREE.LineSegments(shape.edges, pen);
      if (!shape.edges.attributes.lineDistance) lines.computeLineDistances();
      lines.renderOrder = 2;
      drawn.push(lines);
    }
    for (const thing of drawn) {
      thing.matrixAutoUpdate = false;
      thing.matrix.set(...part.place);
      scene.add(thing);
    }
  }

  function clear() {
    scene.clear();
    used.forEach(shapes.give);
    used = [];
    rims.splice(0).forEach((material) => material.dispose());
  }

  function draw(renderer, camera, pixelsPerMm) {
    if (!isShown || used.length === 0) return;
    pen.dashSize = DASH_PX / pixelsPerMm;
    pen.gapSize = (0.7 * DASH_PX) / pixelsPerMm;
    renderer.clearDepth();
    renderer.render(scene, camera);
  }

  function paint(ink) {
    pen.color.copy(linear(ink.ghost));
    rims.forEach((material) => material.uniforms.ink.value.copy(linear(ink.ghost)));
  }

  function dispose() {
    turn += 1;
    clear();
    mask.dispose();
    pen.dispose();
  }

  return { set, draw, paint, dispose, setShown: (value) => { isShown = value; } };
}
