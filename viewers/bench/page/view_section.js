/** A cut along the fuselage: what lies nearer than the plane is taken away and the cut faces are hatched.
 *
 *  As in any shop drawing the section goes through what is built, not through what is bought: motor, batteries, servos
 *  and push-rods stay whole. A cut face is found by counting surfaces in the stencil: where more backs than fronts of a
 *  closed part are seen, the eye looks into it.
 */

import { linear } from "./view_inks.js";
import { cutAcross } from "./view_mesh.js";

const WHOLE = new Set(["propulsion", "electrical", "payload", "controls"]);
const HATCH_PX = 7; // from one hatch line to the next, on the paper
const FIRST = 100; // drawn after everything else that is opaque, one cut part after the other

export function createSection(root) {
  const plane = new THREE.Plane(new THREE.Vector3(0, 1, 0), 0);
  const caps = new THREE.Group();
  const count = [counter(THREE.BackSide, THREE.IncrementWrapStencilOp), counter(THREE.FrontSide, THREE.DecrementWrapStencilOp)];
  count.forEach((material) => { material.clippingPlanes = [plane]; });
  const hatches = [hatch(1), hatch(-1)];
  let level = null;
  root.add(caps);

  const isCut = (part) => level !== null && !WHOLE.has(part.data.group);

  /** Cuts at `mm` from the centre plane, or nothing for null; call again whenever parts have moved. */
  function update(parts, mm, ink) {
    level = mm;
    clear();
    plane.constant = -(mm || 0);
    for (const part of parts) {
      const planes = isCut(part) ? [plane] : null;
      for (const drawn of [part.solid, part.ink, part.rim]) if (drawn) setPlanes(drawn.material, planes);
    }
    if (mm === null) return;
    const segments = [];
    const crossing = parts.filter((part) => isCut(part) && part.data.kind === "body" && part.group.visible && crosses(part, mm));
    crossing.forEach((part, number) => {
      cutAcross(part.shape.surface.attributes.position.array, part.group.matrix, mm - 0.05, segments);
      addCap(part, number);
    });
    addOutline(segments, ink);
  }

  function crosses(part, mm) {
    const box = part.shape.box.clone().applyMatrix4(part.group.matrix);
    return box.min.y < mm && box.max.y > mm;
  }

  function addCap(part, number) {
    count.forEach((material) => {
      const mesh = new THREE.Mesh(part.shape.surface, material);
      mesh.matrixAutoUpdate = false;
      mesh.matrix.copy(part.group.matrix);
      mesh.renderOrder = FIRST + 2 * number;
      caps.add(mesh);
    });
    const face = new THREE.Mesh(sheet(part.shape.box.clone().applyMatrix4(part.group.matrix), level), new THREE.MeshBasicMaterial({
      color: linear(part.data.colour), map: hatches[number % 2], side: THREE.DoubleSide,
      stencilWrite: true, stencilRef: 0, stencilFunc: THREE.NotEqualStencilFunc,
      stencilFail: THREE.ReplaceStencilOp, stencilZFail: THREE.ReplaceStencilOp, stencilZPass: THREE.ReplaceStencilOp,
    }));
    face.renderOrder = FIRST + 2 * number + 1;
    face.userData.isOwn = true;
    caps.add(face);
  }

  function addOutline(segments, ink) {
    if (segments.length === 0) return;
    const geometry = new THREE.BufferGeometry();
    geometry.setAttribute("position", new THREE.Float32BufferAttribute(segments, 3));
    const lines = new THREE.LineSegments(geometry, new THREE.LineBasicMaterial({ color: linear(ink.hatch) }));
    lines.renderOrder = 10 * FIRST;
    lines.userData.isOwn = true;
    caps.add(lines);
  }

  function clear() {
    for (const drawn of [...caps.children]) {
      caps.remove(drawn);
      if (!drawn.userData.isOwn) continue;
      drawn.geometry.dispose();
      drawn.material.dispose();
    }
  }

  /** Keeps the hatching's spacing on the paper; call before drawing. */
  function scale(pixelsPerMm) {
    hatches.forEach((texture) => texture.repeat.setScalar(pixelsPerMm / (HATCH_PX * Math.SQRT2)));
  }

  function dispose() {
    clear();
    [...count, ...hatches].forEach((thing) => thing.dispose());
  }

  /** Whether a point of a part has been cut away. */
  const isGone = (part, point) => isCut(part) && point.y < level - 1e-6;

  return { update, scale, isGone, dispose };
}

function setPlanes(material, planes) {
  if ((material.clippingPlanes === null) !== (planes === null)) material.needsUpdate = true;
  material.clippingPlanes = planes;
}

function counter(side, operation) {
  return new THREE.MeshBasicMaterial({
    side, depthWrite: false, depthTest: false, colorWrite: false, stencilWrite: true, stencilFunc: THREE.AlwaysStencilFunc,
    stencilFail: operation, stencilZFail: operation, stencilZPass: operation,
  });
}

/** The part of the cutting plane that a box reaches, with hatching that runs on from part to part. */
function sheet(box, level) {
  const geometry = new THREE.BufferGeometry();
  const [x0, x1, z0, z1] = [box.min.x - 1, box.max.x + 1, box.min.z - 1, box.max.z + 1];
  const corners = [[x0, z0], [x1, z0], [x1, z1], [x0, z1]];
  geometry.setAttribute("position", new THREE.Float32BufferAttribute(corners.flatMap(([x, z]) => [x, level, z]), 3));
  geometry.setAttribute("uv", new THREE.Float32BufferAttribute(corners.flatMap(([x, z]) => [x, z]), 2));
  geometry.setIndex([0, 1, 2, 0, 2, 3]);
  return geometry;
}

function hatch(slope) {
  const side = 64;
  const canvas = document.createElement("canvas");
  canvas.width = canvas.height = side;
  const pen = canvas.getContext("2d");
  pen.fillStyle = "#ffffff";
  pen.fillRect(0, 0, side, side);
  pen.strokeStyle = "rgba(42, 38, 51, 0.75)";
  pen.lineWidth = 9;
  for (const shift of [-side, 0, side]) {
    pen.beginPath();
    pen.moveTo(shift - side, slope > 0 ? 2 * side : -side);
    pen.lineTo(shift + 2 * side, slope > 0 ? -side : 2 * side);
    pen.stroke();
  }
  const texture = new THREE.CanvasTexture(canvas);
  texture.wrapS = texture.wrapT = THREE.RepeatWrapping;
  texture.encoding = THREE.sRGBEncoding;
  texture.anisotropy = 4;
  return texture;
}
