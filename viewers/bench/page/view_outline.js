/** The ink line around round things, which have no edges of their own: wheels, wires, a spinner. */

const VERTEX = `
  uniform vec2 paper;
  uniform float width;
  #include <clipping_planes_pars_vertex>
  void main() {
    #include <begin_vertex>
    #include <project_vertex>
    vec3 outward = normalize(normalMatrix * normal);
    float flat_length = length(outward.xy);
    if (flat_length > 0.0) gl_Position.xy += outward.xy / flat_length * width * 2.0 / paper * gl_Position.w;
    #include <clipping_planes_vertex>
  }`;

const FRAGMENT = `
  uniform vec3 ink;
  #include <clipping_planes_pars_fragment>
  void main() {
    #include <clipping_planes_fragment>
    gl_FragColor = vec4(ink, 1.0);
    #include <encodings_fragment>
  }`;

export const paper = { value: null }; // the drawing's size in pixels, shared by every outline and strip

/** Tells the outlines how large the drawing is. */
export function setPaper(width, height) {
  paper.value = paper.value || new THREE.Vector2();
  paper.value.set(width, height);
}

/** The back of a surface, drawn `width` pixels larger than its front, so that only a rim of ink is left to see. */
export function outline(surface, width = 1.1) {
  const uniforms = { ink: { value: new THREE.Color() }, paper, width: { value: width } };
  const material = new THREE.ShaderMaterial({
    uniforms, vertexShader: VERTEX, fragmentShader: FRAGMENT, side: THREE.BackSide, clipping: true,
    polygonOffset: true, polygonOffsetFactor: 3, polygonOffsetUnits: 6,
  });
  return new THREE.Mesh(surface, material);
}
