/** Where the drawing is looked at from: an axonometric eye, so that one scale holds everywhere on the paper. */

import { hull } from "./view_hull.js";

const HOME = {
  "three-quarter": [-2.45, 0.42],
  side: [-Math.PI / 2, 0],
  front: [Math.PI, 0],
  top: [-Math.PI / 2, Math.PI / 2],
};
const MARGIN = 16; // pixels left free at the paper's edge
const FITTINGS = 4; // rounds until scale and lettering agree
const LEAST_SCALE = 0.05; // pixels for each millimetre
const MOST_SCALE = 60;

export function createEye() {
  const camera = new THREE.OrthographicCamera(-1, 1, 1, -1, 1, 2);
  const size = { width: 1, height: 1 };
  const target = new THREE.Vector3();
  const toward = new THREE.Vector3();
  const right = new THREE.Vector3();
  const up = new THREE.Vector3();
  let [azimuth, rise] = HOME["three-quarter"];
  let scale = 1; // pixels per millimetre
  let points = [];
  let isOwn = false; // moved by hand since it was last fitted
  let isLoose = true; // to be fitted before it is next drawn

  function aim() {
    const level = Math.cos(rise);
    toward.set(Math.cos(azimuth) * level, Math.sin(azimuth) * level, Math.sin(rise));
    right.set(-Math.sin(azimuth), Math.cos(azimuth), 0);
    up.crossVectors(toward, right);
  }

  /** Puts the camera where the eye is; call before drawing. */
  function apply(reach) {
    const far = 8 * reach;
    camera.left = -size.width / 2 / scale;
    camera.right = size.width / 2 / scale;
    camera.top = size.height / 2 / scale;
    camera.bottom = -size.height / 2 / scale;
    camera.near = 1;
    camera.far = 2 * far;
    camera.position.copy(target).addScaledVector(toward, far);
    camera.quaternion.setFromRotationMatrix(new THREE.Matrix4().makeBasis(right, up, toward));
    camera.updateProjectionMatrix();
    camera.updateMatrixWorld();
  }

  function project(point) {
    const x = point[0] - target.x;
    const y = point[1] - target.y;
    const z = point[2] - target.z;
    return [
      size.width / 2 + (x * right.x + y * right.y + z * right.z) * scale,
      size.height / 2 - (x * up.x + y * up.y + z * up.z) * scale,
    ];
  }

  /** A direction of the aeroplane's frame on the paper, pixels for each millimetre. */
  function slant(way) {
    return [
      (way[0] * right.x + way[1] * right.y + way[2] * right.z) * scale,
      -(way[0] * up.x + way[1] * up.y + way[2] * up.z) * scale,
    ];
  }

  /** Fits into the paper what `measure` says there is on it, [left, top, right, bottom] in pixels: figures keep their size. */
  function fit(measure) {
    isLoose = isOwn = false;
    for (let k = 0; k < FITTINGS; k += 1) {
      const [left, top, rightmost, bottom] = measure();
      shift(size.width / 2 - (left + rightmost) / 2, size.height / 2 - (top + bottom) / 2);
      const factor = Math.min((size.width - 2 * MARGIN) / (rightmost - left), (size.height - 2 * MARGIN) / (bottom - top));
      scale = Math.max(LEAST_SCALE, Math.min(MOST_SCALE, scale * factor));
    }
    isOwn = false;
  }

  /** Tells it the aeroplane's outermost points; unless moved by hand it steps back from one that outgrows the paper. */
  function setPoints(outermost) {
    const isFirst = points.length === 0;
    points = outermost;
    const isOut = points.map(project).some(([x, y]) => x < 0 || y < 0 || x > size.width || y > size.height);
    if (isFirst || isOut) loosen();
  }

  /** Has it fitted anew, unless the hand has chosen what is seen. */
  function loosen() {
    isLoose = isLoose || !isOwn;
  }

  function setSize(width, height) {
    Object.assign(size, { width: Math.max(width, 1), height: Math.max(height, 1) });
    loosen();
  }

  function look(name) {
    [azimuth, rise] = HOME[name] || HOME["three-quarter"];
    aim();
    isLoose = true;
  }

  function turn(sideways, upwards) {
    azimuth += sideways;
    rise = Math.max(-Math.PI / 2, Math.min(Math.PI / 2, rise + upwards));
    aim();
  }

  function shift(dx, dy) {
    target.addScaledVector(right, -dx / scale).addScaledVector(up, dy / scale);
    isOwn = true;
  }

  /** Closer by `factor`; what lies under (x, y) stays there. */
  function zoom(factor, x = size.width / 2, y = size.height / 2) {
    const before = scale;
    scale = Math.max(LEAST_SCALE, Math.min(MOST_SCALE, scale * factor));
    const slip = 1 / before - 1 / scale;
    target.addScaledVector(right, (x - size.width / 2) * slip).addScaledVector(up, -(y - size.height / 2) * slip);
    isOwn = true;
  }

  aim();
  return {
    camera, size, toward, right, up, apply, project, slant, fit, setPoints, setSize, loosen, look, turn, shift, zoom,
    refit: () => { isLoose = true; }, isLoose: () => isLoose, scale: () => scale, outline: () => hull(points.map(project)),
  };
}
