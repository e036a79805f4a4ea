/** The canvas and what draws on it: as fine as the machine can do while the drawing moves, and fine in any case once it rests. */

const SOFTWARE = /swiftshader|llvmpipe|softpipe|software|basic render/i;
const REST_MS = 300; // without a frame, after which a machine without a graphics card draws a fine one
const STEP_MS = 400; // from one frame to the next of one movement, at most
const FINEST = 2; // pixels for each pixel of the page
const DENSE = 1.25; // pixels of the screen for each of the page, from which a line one of them wide is too thin

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
  let last = -Infinity;
  const hold = watchHold();

  const screen = () => window.devicePixelRatio || 1;

  const plain = () => Math.min(screen(), isSlow ? 1 : FINEST);

  /** How long until the drawing is taken to rest: where steps come slowly, as long as two of them. */
  function patience() {
    const now = performance.now();
    const step = now - last;
    last = now;
    return step < STEP_MS ? Math.max(REST_MS, 2 * step) : REST_MS;
  }

  function rest() {
    if (hold.isHeld()) resting = setTimeout(rest, REST_MS);
    else again();
  }

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
    if (isSlow && !isFine) resting = setTimeout(rest, patience());
    setRatio(isFine ? FINEST : plain());
    renderer.setClearColor(0x000000, 0); // a context that is new, or came back, would clear to black
    renderer.clear();
  }

  function dispose() {
    clearTimeout(resting);
    hold.dispose();
    renderer.dispose();
    renderer.forceContextLoss(); // browsers allow a page only so many
  }

  /** Whether lines one pixel wide would hardly be seen. */
  const isDense = () => Math.min(screen(), ratio) > DENSE;

  return { canvas, renderer, isSlow, isDense, resize, begin, dispose };
}

/** Whether a button or a finger is down anywhere on the page: a slider moves the drawing too. */
function watchHold() {
  let buttons = 0;
  const see = (event) => { buttons = event.type === "pointercancel" ? 0 : event.buttons; };
  const names = ["pointerdown", "pointermove", "pointerup", "pointercancel"];
  names.forEach((name) => window.addEventListener(name, see, true));
  const dispose = () => names.forEach((name) => window.removeEventListener(name, see, true));
  return { isHeld: () => buttons !== 0, dispose };
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
