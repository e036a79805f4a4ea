/** The canvas and what draws on it: as fine as the machine can do while the drawing moves, and fine in any case once it rests. */

const SOFTWARE = /swiftshader|llvmpipe|softpipe|software|basic render/i;
const REST_MS = 300; // without a frame, after which a machine without a graphics card draws a fine one
const FINEST = 2; // pixels for each pixel of the page

/** The renderer on a canvas in `host`, or null where there is no WebGL. `again` draws what there is once more. */
export function createCanvas(host, again) {
  const canvas = document.createElement("canvas");
  canvas.setAttribute("aria-hidden", "true");
  const isSlow = isSoftware();
  const renderer = rendererOn(canvas, !isSlow);
  if (!renderer) return null;
  host.append(canvas);
  let resting = null;
  let ratio = 0;

  const plain = () => Math.min(window.devicePixelRatio || 1, FINEST);

  function setRatio(value) {
    if (value === ratio) return;
    ratio = value;
    renderer.setPixelRatio(ratio);
  }

  function resize(width, height) {
    setRatio(plain());
    renderer.setSize(width, height, false);
  }

  /** Call before each frame; `isFine` for the one at rest. */
  function begin(isFine) {
    clearTimeout(resting);
    if (isSlow && !isFine && plain() < FINEST) resting = setTimeout(again, REST_MS);
    setRatio(isFine ? FINEST : plain());
    renderer.setClearColor(0x000000, 0); // a context that is new, or came back, would clear to black
    renderer.clear();
  }

  function dispose() {
    clearTimeout(resting);
    renderer.dispose();
    renderer.forceContextLoss(); // browsers allow a page only so many
  }

  return { canvas, renderer, resize, begin, dispose };
}

function rendererOn(canvas, antialias) {
  try {
    const renderer = new THREE.WebGLRenderer({ canvas, antialias, alpha: true, stencil: true });
    renderer.outputEncoding = THREE.sRGBEncoding;
    renderer.localClippingEnabled = true;
    renderer.autoClear = false;
    renderer.debug.checkShaderErrors = false; // to ask after each would wait for the driver
    return renderer;
  } catch {
    return null;
  }
}

/** Whether the processor has to draw, for want of a graphics card: then smooth edges would halve the speed. */
function isSoftware() {
  const gl = document.createElement("canvas").getContext("webgl");
  const info = gl && gl.getExtension("WEBGL_debug_renderer_info");
  const name = info ? String(gl.getParameter(info.UNMASKED_RENDERER_WEBGL)) : "";
  const loss = gl && gl.getExtension("WEBGL_lose_context");
  if (loss) loss.loseContext();
  return SOFTWARE.test(name);
}
