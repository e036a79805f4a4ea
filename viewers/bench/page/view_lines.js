/** Ink lines: one pixel wide where the screen's pixels are coarse, strips of constant width where they are too fine for that. */

import { paper } from "./view_outline.js";

const [THIN, THICK] = [1, 2]; // layers of which the eye sees one
const STRIP_PX = 1; // of the page, for a line of width 1

const VERTEX = `
  attribute vec3 start;
  attribute vec3 end;
  attribute vec2 runs;
  uniform vec2 paper;
  uniform float width;
  varying float run;
  #include <clipping_planes_pars_vertex>
  void main() {
    vec4 mvPosition = modelViewMatrix * vec4(mix(start, end, position.x), 1.0);
    vec2 way = ((projectionMatrix * modelViewMatrix) * vec4(end - start, 0.0)).xy * paper;
    way = length(way) > 0.0 ? normalize(way) : vec2(1.0, 0.0);
    gl_Position = projectionMatrix * mvPosition;
    gl_Position.xy += (vec2(-way.y, way.x) * position.y + way * position.z) * width / paper * gl_Position.w;
    run = mix(runs.x, runs.y, position.x);
    #include <clipping_planes_vertex>
  }`;

const FRAGMENT = `
  uniform vec3 ink;
  uniform float opacity;
  uniform vec2 dash;
  varying float run;
  #include <clipping_planes_pars_fragment>
  void main() {
    #include <clipping_planes_fragment>
    if (dash.x > 0.0 && mod(run, dash.x + dash.y) > dash.x) discard;
    gl_FragColor = vec4(ink, opacity);
    #include <encodings_fragment>
  }`;

const strips = new WeakMap(); // of a geometry or a material, and thrown away with it

/** Segments between every two points of `geometry`, in the ink of a line's `material`; `order` among what is drawn. */
export function inkLines(geometry, material, order = 0) {
  const lines = new THREE.LineSegments(geometry, material);
  measure(lines);
  const thick = new THREE.Mesh(stripsOf(geometry), stripInk(material));
  lines.layers.set(THIN);
  thick.layers.set(THICK);
  thick.matrixAutoUpdate = false;
  thick.onBeforeRender = () => follow(thick.material, material);
  lines.add(thick);
  setOrder(lines, order);
  return lines;
}

/** Other segments for lines that stay: their material does, and with it the compiled shader. */
export function setSegments(lines, geometry) {
  lines.geometry.dispose();
  lines.geometry = geometry;
  measure(lines);
  lines.children[0].geometry = stripsOf(geometry);
}

/** Dashes need to know how far along they are. */
function measure(lines) {
  const { position, lineDistance } = lines.geometry.attributes;
  if (lines.material.isLineDashedMaterial && position && !lineDistance) lines.computeLineDistances();
}

export function setOrder(lines, order) {
  lines.renderOrder = lines.children[0].renderOrder = order;
}

/** Has a camera see lines as strips or as lines one pixel wide. */
export function setThick(camera, isThick) {
  camera.layers.enable(isThick ? THICK : THIN);
  camera.layers.disable(isThick ? THIN : THICK);
}

/** A strip for each segment: its corners are reckoned from the segment's ends when it is drawn. */
function stripsOf(geometry) {
  if (strips.has(geometry)) return strips.get(geometry);
  const points = geometry.attributes.position ? geometry.attributes.position.array : new Float32Array(0);
  const made = new THREE.InstancedBufferGeometry();
  const corner = [0, -1, -1, 1, -1, 1, 1, 1, 1, 0, 1, -1]; // along the segment, across it, beyond its end
  made.setAttribute("position", new THREE.Float32BufferAttribute(corner, 3));
  made.setIndex([0, 1, 2, 0, 2, 3]);
  const ends = new THREE.InstancedInterleavedBuffer(points, 6);
  made.setAttribute("start", new THREE.InterleavedBufferAttribute(ends, 3, 0));
  made.setAttribute("end", new THREE.InterleavedBufferAttribute(ends, 3, 3));
  made.setAttribute("runs", new THREE.InstancedBufferAttribute(runsOf(points), 2));
  made.instanceCount = points.length / 6;
  if (points.length > 0) geometry.computeBoundingSphere();
  made.boundingSphere = geometry.boundingSphere;
  geometry.addEventListener("dispose", () => made.dispose());
  strips.set(geometry, made);
  return made;
}

/** How far each segment's ends have come along all of them, for dashes. */
function runsOf(points) {
  const runs = new Float32Array(points.length / 3);
  let run = 0;
  for (let k = 0; k < points.length; k += 6) {
    runs[k / 3] = run;
    run += Math.hypot(points[k + 3] - points[k], points[k + 4] - points[k + 1], points[k + 5] - points[k + 2]);
    runs[k / 3 + 1] = run;
  }
  return runs;
}

function stripInk(material) {
  if (strips.has(material)) return strips.get(material);
  const uniforms = {
    ink: { value: material.color }, opacity: { value: 1 }, dash: { value: new THREE.Vector2() }, paper, width: { value: STRIP_PX * material.linewidth },
  };
  const made = new THREE.ShaderMaterial({
    uniforms, vertexShader: VERTEX, fragmentShader: FRAGMENT, side: THREE.DoubleSide, clipping: true, transparent: material.transparent,
  });
  material.addEventListener("dispose", () => made.dispose());
  strips.set(material, made);
  return made;
}

/** What the line's material says now holds for the strips too. */
function follow(strip, material) {
  strip.uniforms.opacity.value = material.opacity;
  if (material.isLineDashedMaterial) strip.uniforms.dash.value.set(material.dashSize, material.gapSize);
  strip.depthTest = material.depthTest;
  strip.clippingPlanes = material.clippingPlanes;
}
