/** The prototype as a tracing laid over the drawing: pale dashed ink, its own hidden lines left out. */

import { createCopy } from "./view_copy.js";
import { linear } from "./view_inks.js";
import { inkLines } from "./view_lines.js";
import { outline } from "./view_outline.js";

const DASH_PX = 5;

export function createGhost(shapes) {
  const scene = new THREE.Scene();
  const mask = new THREE.MeshBasicMaterial({
    colorWrite: false, side: THREE.DoubleSide, polygonOffset: true, polygonOffsetFactor: 2, polygonOffsetUnits: 4,
  });
  const pen = new THREE.LineDashedMaterial({ transparent: true, opacity: 0.65 });
  const rims = [];
  const copy = createCopy(draw);
  let used = [];
  let turn = 0;
  let isShown = true;
  let painted = null;

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
    if (shape.edges) drawn.push(inkLines(shape.edges, pen, 2));
    for (const thing of drawn) {
      thing.matrixAutoUpdate = false;
      thing.matrix.set(...part.place);
      scene.add(thing);
    }
  }

  function clear() {
    scene.clear();
    copy.forget();
    used.forEach(shapes.give);
    used = [];
    rims.splice(0).forEach((material) => material.dispose());
  }

  function draw(renderer, camera) {
    renderer.clearDepth();
    renderer.render(scene, camera);
  }

  const isThere = () => isShown && used.length > 0;

  /** Call on a clear canvas, before anything else is drawn on it. */
  function prepare(renderer, camera) {
    if (isThere()) copy.keep(renderer, camera);
  }

  /** Lays the tracing over what is drawn. */
  function lay(renderer, camera) {
    if (isThere()) copy.lay(renderer, camera);
  }

  /** Call before drawing: the scale of the paper, and whether to be quick rather than exact. */
  function ready(pixelsPerMm, isQuick) {
    mask.side = isQuick ? THREE.FrontSide : THREE.DoubleSide;
    pen.dashSize = DASH_PX / pixelsPerMm;
    pen.gapSize = (0.7 * DASH_PX) / pixelsPerMm;
  }

  function paint(ink) {
    if (ink !== painted) copy.forget();
    painted = ink;
    pen.color.copy(linear(ink.ghost));
    rims.forEach((material) => material.uniforms.ink.value.copy(linear(ink.ghost)));
  }

  function dispose() {
    turn += 1;
    clear();
    copy.dispose();
    mask.dispose();
    pen.dispose();
  }

  return { set, ready, prepare, lay, paint, dispose, forget: copy.forget, setShown: (value) => { isShown = value; } };
}
