/** A cut along the fuselage: what lies nearer than the plane is taken away and the cut faces are hatched.
 *
 *  As in any shop drawing the section goes through what is built, not through what is bought: motor, batteries, servos
 *  and push-rods stay whole. A cut face is found by counting surfaces in the stencil: where more backs than fronts of a
 *  closed part are seen, the eye looks into it.
 */

import { linear } from "./view_inks.js";
import { inkLines, setSegments } from "./view_lines.js";
import { cutAcross } from "./view_mesh.js";

const WHOLE = new Set(["propulsion", "electrical", "payload", "controls"]);
const HATCH_PX = 7; // from one hatch line to the next, on the paper
const FIRST = 100; // drawn after everything else that is opaque, one cut part after the other

export function createSection(root) {
  const nothing = new THREE.BufferGeometry();
  const plane = new THREE.Plane(new THREE.Vector3(0, 1, 0), 0);
  const caps = new THREE.Group();
  const count = [counter(THREE.BackSide, THREE.IncrementWrapStencilOp), counter(THREE.FrontSide, THREE.DecrementWrapStencilOp)];
  count.forEach((material) => { material.clippingPlanes = [plane]; });
  const hatches = [hatch(1), hatch(-1)];
  const outline = inkLines(new THREE.BufferGeometry(), new THREE.LineBasicMaterial(), 10 * FIRST);
  const kept = [];
  let level = null;
  root.add(caps, outline);

  const isCut = (part) => level !== null && !WHOLE.has(part.data.group);

  /** Cuts at `mm` from the centre plane, or nothing for null; call again whenever parts have moved. */
  function update(parts, mm, colours) {
    level = mm;
    plane.constant = -(mm || 0);
    for (const part of parts) {
      const planes = isCut(part) ? [plane] : null;
      for (const drawn of [part.solid, part.ink, part.rim]) if (drawn) setPlanes(drawn.material, planes);
    }
    const segments = [];
    const crossing = parts.filter((part) => isCut(part) && part.solid && part.data.kind === "body" && part.group.visible && crosses(part, mm));
    crossing.forEach((part, number) => {
      cutAcross(part.shape.surface.attributes.position.array, part.group.matrix, mm - 0.05, segments);
      place(part, number);
    });
    kept.forEach((trio, number) => trio.forEach((thing) => {
      thing.visible = number < crossing.length;
      if (number >= crossing.length && thing !== trio[2]) thing.geometry = nothing;
    }));
    ink(segments, colours);
  }

  function crosses(part, mm) {
    const box = part.shape.box.clone().applyMatrix4(part.group.matrix);
    return box.min.y < mm && box.max.y > mm;
  }

  /** Three things for a cut part, made once and used again: backs counted up, fronts counted down, the cut face. */
  function place(part, number) {
    if (number === kept.length) {
      const trio = [...count.map((material) => new THREE.Mesh(nothing, material)), new THREE.Mesh(sheet(), capMaterial(hatches[number % 2]))];
      trio.forEach((thing, k) => {
        thing.matrixAutoUpdate = false;
        thing.renderOrder = FIRST + 2 * number + (k === 2 ? 1 : 0);
      });
      kept.push(trio);
      caps.add(...trio);
    }
    const [backs, fronts, face] = kept[number];
    for (const thing of [backs, fronts]) {
      thing.geometry = part.shape.surface;
      thing.matrix.copy(part.group.matrix);
    }
    spread(face.geometry, part.shape.box.clone().applyMatrix4(part.group.matrix), level);
    face.material.color.copy(linear(part.data.colour));
  }

  function ink(segments, colours) {
    setSegments(outline, new THREE.BufferGeometry().setAttribute("position", new THREE.Float32BufferAttribute(segments, 3)));
    outline.material.color.copy(linear(colours.hatch));
    outline.visible = segments.length > 0;
  }

  /** Keeps the hatching's spacing on the paper; call before drawing. */
  function scale(pixelsPerMm) {
    hatches.forEach((texture) => texture.repeat.setScalar(pixelsPerMm / (HATCH_PX * Math.SQRT2)));
  }

  function dispose() {
    for (const thing of [outline, ...kept.map((trio) => trio[2])]) {
      thing.geometry.dispose();
      thing.material.dispose();
    }
    [...count, ...hatches].forEach((thing) => thing.dispose());
  }

  /** The butt line, mm, from which on a part is still there. */
  const floorOf = (part) => (isCut(part) ? level - 1e-6 : -Infinity);

  /** Whether a point of a part has been cut away. */
  const isGone = (part, point) => point.y < floorOf(part);

  return { update, scale, floorOf, isGone, dispose };
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

function capMaterial(map) {
  return new THREE.MeshBasicMaterial({
    map, side: THREE.DoubleSide, stencilWrite: true, stencilRef: 0, stencilFunc: THREE.NotEqualStencilFunc,
    stencilFail: THREE.ReplaceStencilOp, stencilZFail: THREE.ReplaceStencilOp, stencilZPass: THREE.ReplaceStencilOp,
  });
}

function sheet() {
  const geometry = new THREE.BufferGeometry();
  geometry.setAttribute("position", new THREE.BufferAttribute(new Float32Array(12), 3));
  geometry.setAttribute("uv", new THREE.BufferAttribute(new Float32Array(8), 2));
  geometry.setIndex([0, 1, 2, 0, 2, 3]);
  return geometry;
}

/** Lays a sheet over the part of the cutting plane that a box reaches; the hatching runs on from part to part. */
function spread(geometry, box, level) {
  const [x0, x1, z0, z1] = [box.min.x - 1, box.max.x + 1, box.min.z - 1, box.max.z + 1];
  [[x0, z0], [x1, z0], [x1, z1], [x0, z1]].forEach(([x, z], k) => {
    geometry.attributes.position.setXYZ(k, x, level, z);
    geometry.attributes.uv.setXY(k, x, z);
  });
  geometry.attributes.position.needsUpdate = geometry.attributes.uv.needsUpdate = true;
  geometry.computeBoundingSphere();
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
