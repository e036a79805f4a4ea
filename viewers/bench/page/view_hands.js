/** Hands on the drawing: mouse, pen, fingers and keys. */

import { along, MM } from "./view_tray.js";

const STILL_PX = 5; // a press that moves less than this is a tap
const TURN = 0.008; // radians for each pixel
const STEP = 0.12; // radians for each press of an arrow key
const REACH_PX = { mouse: 6, touch: 22 }; // what lies as near as this is meant where there is nothing under it
const HAND = { fine: "(hover: hover) and (pointer: fine)" };

/** `view` offers: eye, draw(), pick(x, y, reach) -> part name, drag(name) -> drag or null, hover(name), held(drag, value), onPick, onDrag. */
export function takeHands(host, canvas, view) {
  const { eye } = view;
  const fingers = new Map();
  const isFine = window.matchMedia(HAND.fine);
  const off = [];
  let press = null;
  let hovering = null;

  function listen(target, name, act, options) {
    target.addEventListener(name, act, options);
    off.push(() => target.removeEventListener(name, act, options));
  }

  function spot(event) {
    const box = canvas.getBoundingClientRect();
    return [event.clientX - box.left, event.clientY - box.top];
  }

  const reachOf = (event) => REACH_PX[event.pointerType] || REACH_PX.mouse;

  function down(event) {
    canvas.setPointerCapture(event.pointerId);
    host.focus({ preventScroll: true });
    const at = spot(event);
    fingers.set(event.pointerId, at);
    if (fingers.size > 1) {
      letGo(false);
      press = null;
      return;
    }
    const name = event.button === 0 && !event.shiftKey ? view.pick(...at, reachOf(event)) : null;
    press = { at, name, moved: 0, drag: name ? view.drag(name) : null, isDragging: false, value: null, isTap: event.button === 0 };
  }

  function move(event) {
    const at = spot(event);
    const before = fingers.get(event.pointerId);
    if (!before) {
      if (event.pointerType === "mouse" && isFine.matches) hover(at);
      return;
    }
    fingers.set(event.pointerId, at);
    const [dx, dy] = [at[0] - before[0], at[1] - before[1]];
    if (fingers.size === 2) return pinch(event.pointerId, before, at);
    if (!press) return;
    press.moved += Math.hypot(dx, dy);
    if (press.moved < STILL_PX) return;
    if (press.drag) pull(at);
    else if (event.shiftKey || event.buttons & 6) eye.shift(dx, dy);
    else eye.turn(-dx * TURN, dy * TURN);
    view.draw();
  }

  function pinch(id, before, at) {
    const other = [...fingers].find(([key]) => key !== id)[1];
    const was = Math.hypot(before[0] - other[0], before[1] - other[1]);
    const is = Math.hypot(at[0] - other[0], at[1] - other[1]);
    eye.shift((at[0] - before[0]) / 2, (at[1] - before[1]) / 2);
    if (was > 1 && is > 1) eye.zoom(is / was, (at[0] + other[0]) / 2, (at[1] + other[1]) / 2);
    view.draw();
  }

  /** Moves the held item along its axis; looked at end on, the hand turns the drawing instead. */
  function pull(at) {
    const { drag } = press;
    const way = along(eye, drag.axis, at[0] - press.at[0], at[1] - press.at[1]);
    if (way === null) {
      press.drag = null;
      return;
    }
    const value = Math.max(drag.low, Math.min(drag.high, drag.value + way / MM[drag.unit]));
    const phase = press.isDragging ? "move" : "start";
    press.isDragging = true;
    if (value === press.value) return;
    press.value = value;
    view.held(drag, value);
    view.onDrag(drag, value, phase);
  }

  function letGo(isTap) {
    if (!press) return;
    if (press.isDragging) {
      view.held(null);
      view.onDrag(press.drag, press.value, "end");
    } else if (isTap && press.isTap && press.moved < STILL_PX) {
      view.onPick(press.name);
    }
  }

  function up(event) {
    fingers.delete(event.pointerId);
    letGo(event.type === "pointerup");
    press = null;
  }

  function hover(at) {
    if (hovering) {
      hovering = at;
      return;
    }
    hovering = at;
    requestAnimationFrame(() => {
      view.hover(hovering ? view.pick(...hovering, REACH_PX.mouse) : null);
      hovering = null;
    });
  }

  function key(event) {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const looks = ["three-quarter", "side", "front", "top"];
    const acts = {
      ArrowLeft: () => eye.turn(-STEP, 0), ArrowRight: () => eye.turn(STEP, 0),
      ArrowUp: () => eye.turn(0, STEP), ArrowDown: () => eye.turn(0, -STEP),
      "+": () => eye.zoom(1.15), "=": () => eye.zoom(1.15), "-": () => eye.zoom(1 / 1.15), 0: () => eye.refit(),
      Escape: () => view.onPick(null),
    };
    looks.forEach((name, number) => { acts[number + 1] = () => eye.look(name); });
    const act = acts[event.key];
    if (!act) return;
    act();
    event.preventDefault();
    view.draw();
  }

  listen(canvas, "pointerdown", down);
  listen(canvas, "pointermove", move);
  listen(canvas, "pointerup", up);
  listen(canvas, "pointercancel", up);
  listen(canvas, "pointerleave", () => { hovering = null; view.hover(null); });
  listen(canvas, "contextmenu", (event) => event.preventDefault());
  listen(canvas, "wheel", (event) => {
    event.preventDefault();
    eye.zoom(Math.exp(-Math.max(-60, Math.min(60, event.deltaY)) * 0.004), ...spot(event));
    view.draw();
  }, { passive: false });
  listen(host, "keydown", key);
  return () => off.forEach((stop) => stop());
}
