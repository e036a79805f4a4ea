// The strip over the working drawing and what it does: where it is seen from, what is drawn, cut and pulled apart.

import { api } from "./api.js";
import { byId, button, element, write, say } from "./dom.js";
import { createView } from "./view.js";
import { PartCard } from "./part_card.js";
import { line, newStroke, spoken } from "./ruler.js";

const LOOKS = [["three-quarter", "Aslant"], ["side", "Side"], ["front", "Front"], ["top", "Top"]];
const NOT_CUT = 100; // the slider's right end
const HALF_MM = 50; // of a body whose width is not known

export class Drawing {
  constructor(desk) {
    this.desk = desk;
    this.hidden = new Set();
    this.stroke = null;
    this.card = new PartCard(desk, () => this.pick(null));
    this.view = createView(byId("view"), {
      fetchShapes: api.shapes,
      onPick: (name) => this.pick(name),
      onDrag: (drag, value, phase) => this.drag(drag, value, phase),
    });
    this.build();
    desk.on("state", (detail) => this.update(detail));
  }

  build() {
    this.looks = new Map(LOOKS.map(([name, words]) =>
      [name, button(words, () => this.look(name), { "aria-pressed": "false" })]));
    byId("looks").append(...this.looks.values());
    this.xray = toggle("See through", (isOn) => this.view.setXray(isOn));
    this.ghost = toggle("Prototype", (isOn) => this.view.setGhostShown(isOn), true);
    this.groups = this.groupsMenu();
    byId("switches").append(this.xray, this.ghost, this.groups);
    byId("section").addEventListener("input", () => this.cut());
    byId("explode").addEventListener("input", () => this.explode());
    byId("view").addEventListener("pointermove", (event) => { if (event.buttons) this.tell(null); });
    byId("view").addEventListener("keydown", ({ key }) => {
      if (LOOKS[key - 1]) this.tell(LOOKS[key - 1][0]);
      else if (key.startsWith("Arrow")) this.tell(null);
    });
    this.cut();
    this.explode();
    this.look("three-quarter");
  }

  groupsMenu() {
    const summary = element("summary", {}, "Parts");
    const menu = element("details", { class: "groups" }, summary, element("div", { class: "group-list" }));
    menu.addEventListener("keydown", (event) => {
      if (event.key !== "Escape") return;
      menu.open = false;
      summary.focus();
    });
    document.addEventListener("pointerdown", (event) => { if (!menu.contains(event.target)) menu.open = false; });
    return menu;
  }

  look(name) {
    this.view.look(name);
    this.tell(name);
  }

  // Which view it is; none, once it has been turned by hand.
  tell(name) {
    for (const [each, press] of this.looks) press.setAttribute("aria-pressed", String(each === name));
  }

  // The slider is in hundredths of half the body's width; its right end leaves the body whole.
  cut() {
    const share = Number(byId("section").value);
    const half = this.half();
    const at = share >= NOT_CUT ? null : (share / NOT_CUT) * half;
    this.view.setSection(at);
    const off = () => (Math.abs(at) < 0.5 ? "centre" : `${this.length(Math.abs(at))} ${at > 0 ? "right" : "left"}`);
    const text = at === null ? "whole" : off();
    write(byId("section-text"), text);
    byId("section").setAttribute("aria-valuetext", at === null ? "not cut" : `cut along the body, ${text}`);
  }

  length(mm) {
    return this.desk.system === "imperial" ? `${(mm / 25.4).toFixed(2)} in` : `${Math.round(mm)} mm`;
  }

  half() {
    const width = this.desk.fields.get("fuselage.width");
    if (!width) return HALF_MM;
    return (width.unit === "in" ? width.value * 25.4 : width.value) / 2;
  }

  explode() {
    const share = Number(byId("explode").value);
    this.view.setExplode(share / 100);
    write(byId("explode-text"), share ? `${share} %` : "");
    byId("explode").setAttribute("aria-valuetext", share ? `pulled apart ${share} %` : "together");
  }

  update({ cause }) {
    const { state } = this.desk;
    this.shown = this.view.show(state.scene);
    if (this.prototype !== state.prototype) {
      this.prototype = state.prototype;
      this.view.setGhost(state.prototype?.ghost?.parts || null);
      this.ghost.hidden = !state.prototype;
      this.view.setGhostShown(this.ghost.getAttribute("aria-pressed") === "true");
    }
    this.listGroups(state.scene.parts);
    if (byId("section").value < NOT_CUT && cause !== "system") this.cut();
    this.card.update();
  }

  listGroups(parts) {
    const names = [...new Set(parts.map((part) => part.group))];
    const box = this.groups.lastChild;
    const all = parts.map((part) => part.name).join();
    if (box.dataset.names === all) return;
    box.dataset.names = all;
    box.replaceChildren(element("p", {}, "Shown:"), ...names.map((name) => this.groupBox(name)), this.partList(names, parts));
  }

  groupBox(name) {
    const onchange = (event) => this.hide(name, !event.target.checked);
    return element("label", {}, element("input", { type: "checkbox", checked: !this.hidden.has(name), onchange }), ` ${name}`);
  }

  // For the keyboard: every part by its name.
  partList(names, parts) {
    const option = ({ name }) => element("option", { value: name }, name);
    const onchange = (event) => this.pick(event.target.value || null);
    return element("select", { "aria-label": "Pick a part by its name", onchange },
      element("option", { value: "" }, "pick a part …"),
      ...names.map((label) => element("optgroup", { label }, ...parts.filter(({ group }) => group === label).map(option))));
  }

  hide(name, isHidden) {
    if (isHidden) this.hidden.add(name);
    else this.hidden.delete(name);
    this.view.setHidden(new Set(this.hidden));
    write(this.groups.firstChild, this.hidden.size ? `Parts (${this.hidden.size} hidden)` : "Parts");
  }

  pick(name) {
    this.view.select(name);
    this.card.show(name);
    if (name) say(this.card.words());
  }

  point(names) {
    const there = names.find((name) => this.desk.state.scene.parts.some((part) => part.name === name));
    if (there) this.view.select(there);
  }

  // What is on the screen as a picture of its own: the canvas, and over it the sheet with its lettering.
  picture() {
    const [canvas, sheet] = [byId("view").querySelector("canvas"), byId("view").querySelector("svg")];
    if (!canvas || !canvas.width) return null;
    const made = element("div", { class: "printed-drawing view-host", "data-paper": "light" },
      element("img", { src: canvas.toDataURL("image/png"), alt: "" }));
    made.style.setProperty("--ratio", canvas.width / canvas.height);
    if (sheet) made.append(sheet.cloneNode(true));
    return made;
  }

  drag(drag, value, phase) {
    if (phase === "start") this.stroke = newStroke();
    const field = this.desk.fields.get(drag.key);
    const text = spoken(value, { unit: drag.unit, step: field?.step || 1 });
    const setting = [drag.key, line(drag.key, text, { kind: "number", unit: drag.unit })];
    this.desk.change([setting], { stroke: this.stroke, words: `${drag.part} to ${text}` }).catch((error) => say(error.message));
    if (phase === "end") this.stroke = null;
  }
}

function toggle(words, act, isOn = false) {
  const made = button(words, () => {
    const isNow = made.getAttribute("aria-pressed") !== "true";
    made.setAttribute("aria-pressed", String(isNow));
    act(isNow);
  }, { "aria-pressed": String(isOn) });
  return made;
}
