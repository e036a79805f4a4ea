/** The aeroplane as a working drawing that can be turned, cut, pulled apart and taken hold of. */

import { createCanvas } from "./view_canvas.js";
import { BALANCE, drawDimensions, layDimensions, roomOf } from "./view_dimensions.js";
import { createEye } from "./view_eye.js";
import { createGhost } from "./view_ghost.js";
import { createGround } from "./view_ground.js";
import { takeHands } from "./view_hands.js";
import { dress, INTERRUPTED, NO_PICTURE, note, noView } from "./view_host.js";
import { outermost } from "./view_hull.js";
import { inks } from "./view_inks.js";
import { setThick } from "./view_lines.js";
import { drawMarks, letterBalance, letterGround } from "./view_marks.js";
import { setPaper } from "./view_outline.js";
import { createParts } from "./view_parts.js";
import { createPen } from "./view_pen.js";
import { createPick } from "./view_pick.js";
import { createSection } from "./view_section.js";
import { createShapes } from "./view_shapes.js";
import { drawTray, MM } from "./view_tray.js";

/** Fills `host` with the drawing. `calls`: fetchShapes(digests) -> Promise<ArrayBuffer>, onPick(name or null),
 *  onDrag(drag, value, "start" | "move" | "end") with the value in the drag's unit. */
export function createView(host, calls) {
  const dressed = dress(host);
  const sheet = createCanvas(host, () => view.refine());
  if (!sheet) {
    note(host, NO_PICTURE);
    return noView();
  }
  const view = drawnView(host, sheet, { ...calls, dressed });
  return view;
}

function drawnView(host, sheet, calls) {
  const { canvas, renderer } = sheet;
  const stage = new THREE.Scene();
  const model = new THREE.Group();
  const lamp = new THREE.DirectionalLight(0xffffff, 0.6);
  stage.add(model, new THREE.HemisphereLight(0xffffff, 0xd8c8b0, 0.64), lamp, lamp.target);
  const shapes = createShapes(calls.fetchShapes);
  const parts = createParts(shapes, model);
  const section = createSection(model);
  const ghost = createGhost(shapes);
  const ground = createGround(stage);
  const pen = createPen(host);
  const eye = createEye();
  const pick = createPick(parts, section, eye);
  const state = { theme: "light", cut: null, bands: [], held: null, value: 0, scene: null, turn: 0, reach: 1000, frames: 0 };
  const dirty = { settled: false, painted: false };
  let waiting = null;

  // --- drawing, when something has changed and not before ---------------------------------------------

  /** Asks for a frame; resolves when it has been drawn. */
  function draw() {
    if (!waiting) {
      waiting = new Promise((resolve, reject) => {
        const act = () => {
          waiting = null;
          try {
            frame();
            resolve(true);
          } catch (error) {
            reject(error);
          }
        };
        if (document.hidden) setTimeout(act);
        else requestAnimationFrame(act);
      });
    }
    return waiting;
  }

  function refresh(isSettled) {
    dirty.settled = dirty.settled || isSettled;
    dirty.painted = true;
    return draw();
  }

  function frame(isFine = false) {
    if (!state.scene || renderer.getContext().isContextLost()) return;
    const ink = inks(state.theme);
    if (dirty.settled) {
      echo();
      parts.settle();
      eye.setPoints(outermost(parts.corners()));
      section.update([...parts.parts.values()], state.cut, ink);
      ground.setShown(isWhole());
    }
    if (dirty.painted) {
      parts.paint(ink);
      ground.paint(ink);
      ghost.paint(ink);
    }
    dirty.settled = dirty.painted = false;
    if (eye.isLoose()) eye.fit(occupied);
    eye.apply(state.reach);
    lamp.position.copy(eye.toward).multiplyScalar(2).addScaledVector(eye.right, -0.9).addScaledVector(eye.up, 1.1);
    setPaper(eye.size.width, eye.size.height);
    section.scale(eye.scale());
    const isQuick = sheet.isSlow && !isFine;
    parts.setQuick(isQuick);
    ghost.ready(eye.scale(), isQuick);
    sheet.begin(isFine);
    setThick(eye.camera, sheet.isDense());
    if (isWhole() && isQuick) ghost.prepare(renderer, eye.camera);
    renderer.render(stage, eye.camera);
    if (isWhole()) ghost.lay(renderer, eye.camera);
    letters();
    state.frames += 1;
  }

  const isWhole = () => parts.state.explode === 0;

  /** What model and dimensions take of the paper. */
  function occupied() {
    const outline = eye.outline();
    const points = isWhole() ? [...outline, ...roomOf(pen, layDimensions(eye, state.scene))] : outline;
    const [across, down] = [0, 1].map((axis) => points.map((point) => point[axis]));
    return [Math.min(...across), Math.min(...down), Math.max(...across), Math.max(...down)];
  }

  function letters() {
    const { scene } = state;
    pen.begin(eye.size.width, eye.size.height);
    drawMarks(pen, eye, scene, isWhole());
    const laid = isWhole() ? layDimensions(eye, scene) : [];
    const balance = scene.dimensions.find((dimension) => dimension.name === BALANCE);
    const isSaid = !isWhole() || !balance || laid.some((item) => item.name === BALANCE);
    letterBalance(pen, eye, scene, isSaid ? ["balance point"] : ["balance point", balance.text]);
    drawDimensions(pen, eye, laid);
    const drag = isWhole() ? state.held || dragOf(parts.state.chosen) : null;
    if (drag && parts.parts.has(drag.part)) letterTray(drag);
    if (isWhole()) letterGround(pen, eye, scene);
    pen.end();
  }

  function letterTray(drag) {
    const bands = state.bands.filter((band) => band.key === drag.key);
    const band = bands.find((one) => one.is_current) || bands[0];
    drawTray(pen, eye, drag, parts.box(drag.part), state.held ? state.value : drag.value, band);
  }

  // --- what is to be seen ---------------------------------------------------------------------------------

  /** Draws a scene; false if a newer one came first. */
  async function show(scene) {
    state.turn += 1;
    const mine = state.turn;
    const digests = scene.parts.map((part) => part.shape);
    await calls.dressed;
    do await shapes.need(digests); while (mine === state.turn && !shapes.holds(digests));
    if (mine !== state.turn) return false;
    state.scene = scene;
    state.reach = Math.hypot(...[0, 1, 2].map((axis) => scene.high[axis] - scene.low[axis])) / 2 + 100;
    parts.update(scene);
    ground.update(scene);
    return refresh(true);
  }

  const dragOf = (name) => (state.scene && name && state.scene.drags.find((drag) => drag.part === name)) || null;

  /** A held item is drawn where the hand has it, whatever the scene that came last says of it. */
  function echo() {
    for (const part of parts.parts.values()) part.echo.set(0, 0, 0);
    const drag = state.held && dragOf(state.held.part);
    if (!drag || !parts.parts.has(drag.part)) return;
    const way = (state.value - drag.value) * MM[drag.unit];
    parts.parts.get(drag.part).echo.set(...drag.axis).multiplyScalar(way);
  }

  function held(drag, value) {
    state.held = drag;
    state.value = value;
    refresh(true);
  }

  // --- pointing at parts -------------------------------------------------------------------------------------

  function hover(name) {
    canvas.dataset.over = dragOf(name) ? "drag" : name ? "part" : "";
    if (parts.state.hovered === name) return;
    parts.state.hovered = name;
    refresh(false);
  }

  // --- the paper's size, the driver's moods ---------------------------------------------------------------------

  function resize() {
    const { clientWidth, clientHeight } = host;
    if (clientWidth === 0 || clientHeight === 0) return;
    sheet.resize(clientWidth, clientHeight);
    eye.setSize(clientWidth, clientHeight);
    draw();
  }

  let trouble = null;
  canvas.addEventListener("webglcontextlost", (event) => {
    event.preventDefault();
    if (canvas.isConnected) trouble = trouble || note(host, INTERRUPTED);
  });
  canvas.addEventListener("webglcontextrestored", () => {
    if (trouble) trouble.remove();
    trouble = null;
    ghost.forget();
    refresh(true);
  });
  const watch = new ResizeObserver(resize);
  watch.observe(host);
  const letGo = takeHands(host, canvas, {
    eye, draw, pick, drag: dragOf, hover, held,
    onPick: (name) => calls.onPick && calls.onPick(name),
    onDrag: (...all) => calls.onDrag && calls.onDrag(...all),
  });
  // What is on the canvas can be copied only in the task that drew it.
  const print = () => frame(true);
  window.addEventListener("beforeprint", print);
  resize();

  function dispose() {
    state.turn += 1;
    state.scene = null;
    letGo();
    watch.disconnect();
    parts.clear();
    section.dispose();
    ghost.dispose();
    ground.dispose();
    shapes.dispose();
    window.removeEventListener("beforeprint", print);
    host.replaceChildren();
    sheet.dispose();
  }

  return {
    show,
    setGhost: async (tracing) => (await ghost.set(tracing)) && refresh(false),
    setGhostShown: (isShown) => { ghost.setShown(isShown); return draw(); },
    setHidden: (groups) => { parts.state.hidden = new Set(groups); return refresh(true); },
    setXray: (isXray) => { parts.state.isXray = isXray; return refresh(false); },
    setSection: (mm) => { state.cut = mm; return refresh(true); },
    setExplode: (share) => { parts.state.explode = share; eye.loosen(); return refresh(true); },
    look: (name) => { eye.look(name); return draw(); },
    select: (name) => { parts.state.chosen = name; return refresh(false); },
    setBands: (bands) => { state.bands = bands || []; return draw(); },
    setTheme: (theme) => { state.theme = theme; host.dataset.paper = theme; return refresh(true); },
    stats: () => ({ frames: state.frames, shapesHeld: shapes.count(), ...parts.stats(), geometries: renderer.info.memory.geometries }),
    /** Where a point of the aeroplane's frame (mm) is on the paper: pixels from the host's top left corner. */
    project: (point) => eye.project(point),
    /** Draws once more, as finely as can be. */
    refine: () => { if (!waiting) frame(true); },
    dispose,
  };
}
