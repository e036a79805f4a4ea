// One dimension as the builder sets it: label, ruler to slide along, field to type into, filed and prototype values.

import { element, write, alarm } from "./dom.js";

const NOTHING = "none"; // what leaves out something that may be left out
const UNSAID = "not stated";

let strokes = 0;
export const newStroke = () => `${Date.now().toString(36)}-${(strokes += 1)}`;

const places = (step) => (String(step).split(".")[1] || "").length;

// "3.25 in", as a hand would write it: no noughts at the end.
export function spoken(value, field) {
  const number = Number(Number(value).toFixed(Math.min(4, places(field.step ?? 0.01))));
  return field.unit ? `${number} ${field.unit}` : number;
}

const isOn = (value) => value === true || ["true", "yes", "on", "fitted"].includes(String(value).toLowerCase());

// The --set line of a value: quantities and words in quotes, plain numbers and switches bare.
export function line(key, text, field) {
  if (field.kind === "switch") return `${key}=${isOn(text)}`;
  const isBare = !field.unit && field.kind === "number" && /^[-+]?[\d.]+(e[-+]?\d+)?$/i.test(text);
  return `${key}=${isBare ? text : JSON.stringify(text)}`;
}

// "95" beside a field that shows millimetres means 95 mm; everything else goes to the server as typed.
export function withUnit(text, field) {
  const isBare = /^[-+]?(\d+([.,]\d+)?|\.\d+|(\d+\s+)?\d+\/\d+)$/.test(text);
  return field.unit && isBare ? `${text.replace(",", ".")} ${field.unit}` : text;
}

// Whether it has two ends to slide between.
export const isRuled = ({ kind, low, high }) => kind === "number" && Number.isFinite(low) && Number.isFinite(high) && high > low;

const share = (value, field) => Math.max(0, Math.min(1, (value - field.low) / (field.high - field.low)));

// Where the rule is graduated: the first tick as a share of its length, the step as a share of what follows.
export function ticks(low, high, step) {
  const span = high - low;
  const rough = span / 12;
  const power = 10 ** Math.floor(Math.log10(rough || 1));
  const each = Math.max(step || 0, [1, 2, 5, 10].map((n) => n * power).find((n) => n >= rough) || power);
  const from = (Math.ceil(low / each - 1e-9) * each - low) / span;
  return { each: each / span / (1 - from), from };
}

// The number in "92 mm", "1/8 in" or "2 1/2 in": where the filed and the prototype's value are marked on the ruler.
export function measure(text, field) {
  const found = /^([-+]?)(?:(\d+)\s+)?(?:(\d+)\/(\d+)|(\d*\.?\d+))\s*(\D.*)?$/.exec(text || "");
  if (!found || (found[6] || "") !== field.unit) return null;
  const size = Number(found[2] || 0) + (found[3] ? found[3] / found[4] : Number(found[5]));
  return found[1] === "-" ? -size : size;
}

// What it is called away from its heading: "wing root chord", but "body width" and "track".
export function named(title, label) {
  const head = title.toLowerCase();
  return head.includes(" ") || label.toLowerCase().startsWith(head) ? label : `${head} ${label}`;
}

export class Ruler {
  constructor(field, title, send, prefix = "") {
    this.key = field.key;
    this.field = field;
    this.title = title;
    this.send = send;
    this.prefix = prefix;
    this.stroke = null;
    this.id = `f-${field.key.replace(/[^a-z0-9]+/gi, "-")}`;
    this.slider = null;
    this.node = element("div", { class: "field", "data-key": field.key, "data-kind": field.kind });
    this.build();
    this.update(field);
  }

  build() {
    const { field, id } = this;
    const note = `${id}-note`;
    const common = { id, "aria-describedby": `${note} ${id}-error` };
    this.entry = field.kind === "number" || field.kind === "text" ? this.textField(common)
      : field.kind === "choice" ? this.choiceField(common) : this.switchField(common);
    this.back = element("button", { type: "button", class: "plain back", onclick: () => this.reset() }, "↺");
    this.noted = element("span");
    this.ends = [element("span"), element("span")];
    this.note = element("p", { id: note, class: "filed" }, this.ends[0], this.noted, this.ends[1]);
    this.error = element("p", { id: `${id}-error`, class: "error", hidden: true });
    const name = element("label", { for: id, title: field.help || null }, `${this.prefix}${field.label}`);
    this.node.append(element("div", { class: "head" }, name, this.back, this.entry));
    if (isRuled(field)) this.buildSlider();
    this.node.append(this.note, this.error);
  }

  textField(common) {
    const input = element("input", { ...common, class: "value", type: "text", autocomplete: "off", spellcheck: "false",
      placeholder: this.field.optional ? UNSAID : null });
    input.addEventListener("keydown", (event) => {
      if (event.key === "Enter") this.apply(input.value.trim());
      if (event.key === "Escape") { this.forget(); input.select(); event.stopPropagation(); }
    });
    input.addEventListener("change", () => { if (input.value.trim() !== this.sent) this.apply(input.value.trim()); });
    input.addEventListener("input", () => { this.isTyped = true; this.sent = null; });
    input.addEventListener("focus", () => input.select());
    return input;
  }

  choiceField(common) {
    const select = element("select", { ...common, onchange: () => this.apply(select.value) });
    const { choices = [], text, optional } = this.field;
    if (!text && !optional) select.append(element("option", { value: "", disabled: true }, "not stated"));
    const all = choices.includes(text) || !text ? choices : [text, ...choices];
    select.append(...all.map((choice) => element("option", { value: choice }, optional && choice === NOTHING ? UNSAID : choice)));
    return select;
  }

  switchField(common) {
    return element("input", { ...common, type: "checkbox", onchange: () => this.apply(String(this.entry.checked)) });
  }

  buildSlider() {
    this.slider = element("input", { type: "range", "aria-describedby": `${this.id}-note ${this.id}-error` });
    this.slider.addEventListener("input", () => this.slide(Number(this.slider.value)));
    // A key held down is one stroke, though the browser tells of a change at each of its steps.
    let isHeld = false;
    const end = () => { this.stroke = null; };
    this.slider.addEventListener("keydown", () => { isHeld = true; });
    this.slider.addEventListener("keyup", () => { isHeld = false; end(); });
    this.slider.addEventListener("change", () => { if (!isHeld) end(); });
    this.slider.addEventListener("blur", () => { isHeld = false; end(); });
    this.marks = element("div", { class: "marks", "aria-hidden": "true" });
    this.rail = element("div", { class: "ruler" }, this.marks, this.slider);
    this.node.append(this.rail);
  }

  // Typed and not sent yet: an answer must not write over it, and the browser's own undo is for it.
  get isTyped() {
    return this.entry?.dataset.typed === "true";
  }

  set isTyped(isIt) {
    if (isIt) this.entry.dataset.typed = "true";
    else delete this.entry.dataset.typed;
  }

  // A value typed in inches is shown in inches from then on, and so is its ruler.
  graduate() {
    const { low, high, step, unit } = this.field;
    const scale = [low, high, step, unit].join();
    if (!this.slider || this.scale === scale) return;
    this.scale = scale;
    Object.assign(this.slider, { min: low, max: high, step: step || "any" });
    this.slider.setAttribute("aria-label", `${this.words}, ruler${unit ? ` in ${unit}` : ""}`);
    [low, high].forEach((value, end) => write(this.ends[end], String(Number(value.toFixed(4)))));
    const { each, from } = ticks(low, high, step);
    this.rail.style.setProperty("--each", each);
    this.rail.style.setProperty("--from", from);
  }

  get words() {
    return named(this.title, this.field.label);
  }

  slide(value) {
    const text = spoken(value, this.field);
    this.entry.value = text;
    this.slider.setAttribute("aria-valuetext", text);
    this.stroke ??= newStroke();
    this.isTyped = false;
    this.put(text, this.stroke);
  }

  apply(text) {
    this.stroke = null;
    this.isTyped = false;
    this.sent = text; // the browser tells of the same text again when the field is left
    // What is asked for may still be on its way: the same as before is then a change again.
    if (text === this.field.text && !this.pending) this.settle();
    else if (!text && this.field.optional) this.put(NOTHING, null);
    else this.put(this.field.kind === "number" ? withUnit(text, this.field) : text, null);
  }

  async put(text, stroke) {
    this.pending = text;
    try {
      await this.send([[this.key, line(this.key, text, this.field)]], { stroke, words: `${this.words} ${text === NOTHING ? UNSAID : text}` });
      if (this.pending === text) this.settle();
    } catch (error) {
      if (this.pending === text) this.refuse(error);
    }
  }

  // What was typed meanwhile stays.
  settle() {
    this.pending = null;
    this.error.hidden = true;
    this.entry.removeAttribute("aria-invalid");
    this.update(this.field);
  }

  // What was given stays to be mended; the ruler goes back to what holds.
  refuse(error) {
    this.pending = null;
    if (error.kind === "revision") {
      this.settle();
      return;
    }
    const problems = error.body?.problems || [];
    const own = problems.find((problem) => problem.key === this.key);
    const message = own ? own.message : error.message;
    this.error.textContent = `${message} (${this.field.text} kept)`;
    this.error.hidden = false;
    this.entry.setAttribute("aria-invalid", "true");
    this.isTyped = document.activeElement === this.entry;
    this.update(this.field);
    alarm(`${this.words}: ${this.error.textContent}`);
  }

  forget() {
    this.isTyped = false;
    this.settle();
  }

  // A filed value that was inherited or a default is taken back by asking for it again; one that was left out, by "none".
  reset() {
    this.stroke = null;
    this.isTyped = false;
    this.put(this.field.filed ?? NOTHING, null);
    this.entry.focus();
  }

  update(field) {
    this.field = field;
    const filed = field.filed ?? (field.optional ? UNSAID : null);
    const isChanged = filed !== null && filed !== (field.text || UNSAID);
    this.back.hidden = !isChanged;
    this.back.title = `back to ${filed}, as filed`;
    this.back.setAttribute("aria-label", `${this.words} back to ${filed}, as filed`);
    this.node.classList.toggle("changed", isChanged);
    write(this.noted, [
      isChanged ? `filed ${filed}` : field.stated === false ? "as filed, not stated" : "as filed",
      field.prototype && field.prototype !== field.text ? `prototype ${field.prototype}` : null,
    ].filter(Boolean).join(" · "));
    if (this.pending) return;
    if (field.kind === "switch") this.entry.checked = isOn(field.value ?? field.text);
    else if (field.kind === "choice" && field.optional) this.entry.value = field.text || NOTHING;
    else if (!this.isTyped) this.entry.value = field.text;
    this.place();
  }

  place() {
    const { field, slider } = this;
    if (!slider) return;
    this.graduate();
    slider.value = field.value;
    slider.setAttribute("aria-valuetext", field.text);
    const marks = ["filed", "prototype"].map((kind) => [kind, measure(field[kind], field)]);
    this.marks.replaceChildren(...marks.filter(([, value]) => value !== null).map(([kind, value]) => {
      const mark = element("i", { class: `at-${kind}` });
      mark.style.setProperty("--at", share(value, field));
      return mark;
    }));
  }
}
