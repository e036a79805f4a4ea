/** The parts as they stand on the drawing: one instance each, touched only when its shape, place or colours change. */

import { linear } from "./view_inks.js";
import { inkLines, setOrder } from "./view_lines.js";
import { outline } from "./view_outline.js";

const HALO_PX = 3;
const FAINT = 0.14; // opacity of what is looked through

export function createParts(shapes, root) {
  const parts = new Map();
  const state = { explode: 0, hidden: new Set(), isXray: false, chosen: null, hovered: null, origin: new THREE.Vector3() };
  let touched = 0;
  let around = null;

  /** Takes over a scene whose shapes are all held. */
  function update(scene) {
    touched = 0;
    state.origin.fromArray(scene.balance.point);
    const names = new Set(scene.parts.map((data) => data.name));
    for (const [name, part] of parts) if (!names.has(name)) remove(name, part);
    for (const data of scene.parts) {
      const known = parts.get(data.name);
      if (!known || known.data.shape !== data.shape || known.data.kind !== data.kind) {
        if (known) remove(data.name, known);
        parts.set(data.name, added(data));
        touched += 1;
      } else if (isMoved(known.data.place, data.place)) {
        touched += 1;
      }
      const part = parts.get(data.name);
      part.data = data;
      part.place.set(...data.place);
    }
    shapes.tidy();
    settle();
  }

  function added(data) {
    const shape = shapes.take(data.shape);
    const part = { data, shape, place: new THREE.Matrix4(), group: new THREE.Group(), solid: null, ink: null, rim: null, echo: new THREE.Vector3() };
    part.group.matrixAutoUpdate = false;
    if (shape.surface) {
      const nearer = data.kind === "coat" ? 1 : 2;
      const material = new THREE.MeshLambertMaterial({
        side: THREE.DoubleSide, polygonOffset: true, polygonOffsetFactor: nearer, polygonOffsetUnits: 2 * nearer,
      });
      material.defines = { DOUBLE_SIDED: "" }; // lit on both sides, whichever are drawn
      part.solid = new THREE.Mesh(shape.surface, material);
      part.solid.userData.part = part;
      part.group.add(part.solid);
      if (shape.isRound) part.group.add((part.rim = outline(shape.surface)));
    }
    if (shape.edges) {
      part.ink = inkLines(shape.edges, new THREE.LineBasicMaterial({ transparent: true }));
      part.group.add(part.ink);
    }
    root.add(part.group);
    return part;
  }

  function remove(name, part) {
    root.remove(part.group);
    if (part.solid) part.solid.material.dispose();
    if (part.ink) part.ink.material.dispose();
    if (part.rim) part.rim.material.dispose();
    shapes.give(part.data.shape);
    parts.delete(name);
  }

  /** Places every part: pulled apart, and moved by a hand that has hold of it. A coat goes with what it lies on. */
  function settle() {
    for (const part of parts.values()) {
      const under = parts.get(part.data.on) || part;
      const away = middle(under).sub(state.origin).multiplyScalar(state.explode).add(under.echo);
      part.group.matrix.copy(part.place);
      part.group.matrix.elements[12] += away.x;
      part.group.matrix.elements[13] += away.y;
      part.group.matrix.elements[14] += away.z;
      part.group.matrixWorldNeedsUpdate = true;
      part.group.visible = !state.hidden.has(part.data.group) && !state.hidden.has(under.data.group);
    }
  }

  function middle(part) {
    return part.shape.box.getCenter(new THREE.Vector3()).applyMatrix4(part.place);
  }

  /** The part's box in the aeroplane's frame, as drawn. */
  function box(name) {
    const part = parts.get(name);
    return part.shape.box.clone().applyMatrix4(part.group.matrix);
  }

  /** Corners (x, y, z in turn) of every part's own box, as drawn, put together. */
  function corners() {
    const all = [];
    const point = new THREE.Vector3();
    for (const { shape: { box: own }, group: { matrix } } of parts.values()) {
      if (own.isEmpty()) continue;
      for (let k = 0; k < 8; k += 1) {
        point.set(k & 1 ? own.max.x : own.min.x, k & 2 ? own.max.y : own.min.y, k & 4 ? own.max.z : own.min.z).applyMatrix4(matrix);
        all.push(point.x, point.y, point.z);
      }
    }
    return all;
  }

  function paint(ink) {
    halo(ink);
    for (const part of parts.values()) {
      const isChosen = part.data.name === state.chosen;
      const isFaint = !isChosen && state.isXray && part.data.skin;
      if (part.solid) paintSurface(part, isChosen, isFaint, ink);
      if (part.ink) paintEdges(part, isChosen, isFaint, ink);
    }
  }

  function paintSurface(part, isChosen, isFaint, ink) {
    const { material } = part.solid;
    const own = part.data.opacity;
    const opacity = isFaint ? Math.min(own, FAINT) : isChosen ? 1 : own;
    material.color.copy(linear(part.data.colour));
    material.transparent = opacity < 1;
    material.depthWrite = opacity === 1;
    material.opacity = opacity;
    material.emissive.copy(linear(part.data.name === state.hovered ? ink.hover : "#000000"));
    if (!part.rim) return;
    part.rim.visible = opacity === 1;
    part.rim.material.uniforms.ink.value.copy(linear(ink.rim));
  }

  /** Leaves out the backs of closed bodies that hide them: all but a few pixels where lines meet look the same. */
  function setQuick(isQuick) {
    for (const { solid, data } of parts.values()) {
      if (!solid) continue;
      const { material } = solid;
      const isHidden = data.kind === "body" && !material.transparent && !material.clippingPlanes;
      material.side = isQuick && isHidden ? THREE.FrontSide : THREE.DoubleSide;
    }
  }

  function paintEdges(part, isChosen, isFaint, ink) {
    const { material } = part.ink;
    const own = part.data.kind === "line" ? part.data.colour : isFaint ? ink.ink : ink.edge;
    material.color.copy(linear(isChosen ? ink.chosen : own));
    material.depthTest = !isChosen; // shows where it is through what covers it
    setOrder(part.ink, isChosen ? 1 : 0);
    material.opacity = isFaint ? 0.3 : part.data.kind === "line" ? 1 : 0.85;
  }

  /** A broad line around the chosen part. */
  function halo(ink) {
    const part = parts.get(state.chosen);
    if (around && (!part || around.geometry !== part.shape.surface)) {
      around.parent.remove(around);
      around.material.dispose();
      around = null;
    }
    if (!part || !part.solid) return;
    around = around || outline(part.shape.surface, HALO_PX);
    part.group.add(around);
    around.material.uniforms.ink.value.copy(linear(ink.chosen));
    around.material.clippingPlanes = part.solid.material.clippingPlanes;
  }

  /** What may be pointed at: coats let the hand through to the part under them. */
  const solids = () => [...parts.values()]
    .filter((part) => part.solid && part.group.visible && part.data.kind === "body")
    .map((part) => part.solid);

  function clear() {
    for (const [name, part] of [...parts]) remove(name, part);
  }

  function stats() {
    const shown = [...parts.values()].filter((part) => part.group.visible);
    return {
      partsShown: shown.length, triangles: shown.reduce((sum, part) => sum + part.shape.triangles, 0), touched,
    };
  }

  return { parts, state, update, settle, paint, setQuick, solids, box, corners, clear, stats };
}

const isMoved = (a, b) => a.some((value, k) => value !== b[k]);
