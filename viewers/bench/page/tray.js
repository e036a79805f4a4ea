// The battery's tray as a strip: where there is room, where it balances, where it lies now; a row for each case.

import { element, write } from "./dom.js";
import { line, newStroke, spoken, ticks } from "./ruler.js";

const ROUNDING = 0.05; // of the band's ends as they are shown
const ROOM = 0.06; // of the strip's length beyond its ends

export class TrayStrips {
  constructor(desk, view) {
    this.desk = desk;
    this.view = view;
    this.strips = new Map();
    this.laid = "";
  }

  drags() {
    return (this.desk.state.scene.drags || []).filter((drag) => drag.is_battery);
  }

  get isOutdated() {
    return this.drags().map((drag) => drag.key).join() !== this.laid;
  }

  has(key) {
    return this.drags().some((drag) => drag.key === key);
  }

  nodes() {
    this.strips.clear();
    this.laid = this.drags().map((drag) => drag.key).join();
    for (const drag of this.drags()) this.strips.set(drag.key, new Strip(drag, this.desk));
    return [...this.strips.values()].map((strip) => strip.node);
  }

  update() {
    const bands = this.desk.slow?.bands || [];
    this.view()?.setBands(bands);
    for (const drag of this.drags()) {
      const own = bands.filter((band) => band.key === drag.key);
      this.strips.get(drag.key)?.update(drag, own, this.desk.isStale);
    }
  }
}

class Strip {
  constructor(drag, desk) {
    this.drag = drag;
    this.desk = desk;
    this.stroke = null;
    const id = `tray-${drag.part.replace(/[^a-z0-9]+/gi, "-")}`;
    this.reading = element("output", { class: "value", for: id });
    const step = desk.fields.get(drag.key)?.step || 1;
    this.slider = element("input", { id, type: "range", min: drag.low, max: drag.high, step });
    this.slider.addEventListener("input", () => this.slide(Number(this.slider.value)));
    for (const end of ["change", "blur", "keyup"]) this.slider.addEventListener(end, () => { this.stroke = null; });
    this.rows = element("div", { class: "tray-rows" });
    this.error = element("p", { class: "error", hidden: true });
    this.words = element("p", { class: "filed" });
    this.rail = element("div", { class: "ruler" }, this.slider);
    this.node = element("div", { class: "tray", role: "group", "aria-label": `${drag.part} along its tray` },
      element("div", { class: "head" }, element("label", { for: id }, `${drag.part} along its tray`), this.reading),
      this.rows, element("div", { class: "tray-row" }, element("span", {}, "slide it"), this.rail), this.words, this.error);
  }

  field() {
    return this.desk.fields.get(this.drag.key) || { kind: "number", unit: this.drag.unit, step: 1 };
  }

  async slide(value) {
    this.stroke ??= newStroke();
    const text = spoken(value, { ...this.field(), unit: this.drag.unit });
    this.wanted = text;
    write(this.reading, text);
    this.mark(value);
    try {
      await this.desk.change([[this.drag.key, line(this.drag.key, text, { ...this.field(), unit: this.drag.unit })]],
        { stroke: this.stroke, words: `${this.drag.part} to ${text}` });
      this.error.hidden = true;
    } catch (error) {
      this.error.textContent = error.message;
      this.error.hidden = false;
    }
    if (this.wanted === text) {
      this.wanted = null;
      this.update(this.drag, this.bands, this.desk.isStale);
    }
  }

  // Both the bands and the slider lie on one scale.
  update(drag, bands, isStale) {
    this.drag = drag;
    this.bands = bands;
    this.node.classList.toggle("stale", isStale);
    if (this.wanted) return;
    const ends = bands.flatMap((band) => band.free || []).concat(drag.low, drag.high);
    const [low, high] = [Math.min(...ends), Math.max(...ends)];
    const spare = (high - low) * ROOM;
    const step = this.field().step || 1;
    // The slider counts its steps from its low end, so that must lie on one.
    this.scale = [Math.floor((low - spare) / step) * step, Math.ceil((high + spare) / step) * step];
    Object.assign(this.slider, { min: this.scale[0], max: this.scale[1] });
    this.slider.value = drag.value;
    const { each, from } = ticks(...this.scale, this.field().step);
    this.rail.style.setProperty("--each", each);
    this.rail.style.setProperty("--from", from);
    const text = this.desk.fields.get(drag.key)?.text || spoken(drag.value, { unit: drag.unit, step: 0.1 });
    write(this.reading, text);
    this.slider.setAttribute("aria-valuetext", `${text}; ${this.verdict(drag.value)}`);
    this.rows.replaceChildren(...bands.map((band) => this.row(band)));
    write(this.words, bands.length ? this.verdict(drag.value) : "the usable band is being worked out …");
    this.mark(drag.value);
  }

  verdict(value) {
    const current = this.bands?.find((band) => band.is_current);
    if (!current) return "";
    if (!current.usable) return `${current.case}: nowhere on the tray does it balance`;
    const [low, high] = current.usable;
    const range = `${spoken(low, { step: 0.1 })} to ${spoken(high, { step: 0.1, unit: current.unit })}`;
    const isIn = value >= low - ROUNDING && value <= high + ROUNDING;
    return `${isIn ? "in" : "outside"} its usable band, ${range}`;
  }

  row(band) {
    const bar = (kind, ends) => {
      if (!ends) return null;
      const made = element("i", { class: kind });
      made.style.setProperty("--at", this.share(ends[0]));
      made.style.setProperty("--to", this.share(ends[1]));
      return made;
    };
    const text = ([low, high]) => `${spoken(low, { step: 0.1 })} to ${spoken(high, { step: 0.1, unit: band.unit })}`;
    const ends = (pair) => (pair ? text(pair) : "none");
    const bars = [bar("free", band.free), bar("usable", band.usable), element("b", { class: "now" })];
    const label = `${band.case}: room ${ends(band.free)}, balances ${ends(band.usable)}`;
    return element("div", { class: band.is_current ? "tray-row current" : "tray-row", role: "img", "aria-label": label },
      element("span", {}, band.case), element("div", { class: "bars" }, ...bars),
      element("span", {}, band.usable ? ends(band.usable) : "does not balance"));
  }

  share(value) {
    return (value - this.scale[0]) / (this.scale[1] - this.scale[0]);
  }

  mark(value) {
    this.node.style.setProperty("--now", this.share(value));
  }
}
