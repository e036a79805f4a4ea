/** A copy of what has been drawn once, laid down again for as long as the eye stays where it is. */

const VERTEX = `
  varying vec2 spot;
  void main() {
    spot = position.xy * 0.5 + 0.5;
    gl_Position = vec4(position.xy, 0.0, 1.0);
  }`;

const FRAGMENT = `
  uniform sampler2D image;
  varying vec2 spot;
  void main() { gl_FragColor = texture2D(image, spot); }`;

/** Keeps a copy of what `draw(renderer, camera)` makes on a clear canvas. */
export function createCopy(draw) {
  const scene = new THREE.Scene();
  const image = { value: null };
  const material = new THREE.ShaderMaterial({
    uniforms: { image }, vertexShader: VERTEX, fragmentShader: FRAGMENT, transparent: true, premultipliedAlpha: true,
    depthTest: false, depthWrite: false,
  });
  const sheet = new THREE.Mesh(new THREE.PlaneGeometry(2, 2), material);
  const size = new THREE.Vector2();
  let seen = null; // from where it was last looked at
  let kept = null; // from where the image was made
  sheet.frustumCulled = false;
  scene.add(sheet);

  /** Call on a clear canvas, which is clear afterwards: makes the image once the eye stays for a second frame. */
  function keep(renderer, camera) {
    const place = from(renderer, camera);
    if (place === seen && place !== kept) {
      draw(renderer, camera);
      copy(renderer);
      renderer.clear();
      kept = place;
    }
    seen = place;
  }

  function from(renderer, { matrixWorld, projectionMatrix, layers }) {
    renderer.getDrawingBufferSize(size);
    return [...matrixWorld.elements, ...projectionMatrix.elements, layers.mask, size.x, size.y].join();
  }

  function copy(renderer) {
    const old = image.value;
    if (!old || old.image.width !== size.x || old.image.height !== size.y) {
      if (old) old.dispose();
      image.value = new THREE.FramebufferTexture(size.x, size.y, THREE.RGBAFormat);
    }
    renderer.copyFramebufferToTexture(new THREE.Vector2(), image.value);
  }

  /** Draws, or lays the image down if it was made from here. */
  function lay(renderer, camera) {
    if (from(renderer, camera) === kept) renderer.render(scene, camera);
    else draw(renderer, camera);
  }

  function forget() {
    seen = kept = null;
  }

  function dispose() {
    forget();
    if (image.value) image.value.dispose();
    sheet.geometry.dispose();
    material.dispose();
  }

  return { keep, lay, forget, dispose };
}
