// A dimension and two ends: what a sweep runs through, and where a value is looked for.

import { element } from "./dom.js";
import { isRuled, withUnit } from "./ruler.js";

export class Range {
  constructor(desk, words) {
    this.desk = desk;
    this.key = element("select", { "aria-label": words });
    [this.from, this.to] = ["From", "To"].map((end) =>
      element("input", { type: "text", "aria-label": end, autocomplete: "off", spellcheck: "false" }));
    this.isOwn = false; // whether the builder chose the dimension: then no list chooses another
    this.key.addEventListener("change", () => {
      this.isOwn = true;
      this.bounds();
    });
  }

  // Both ends as the commands take them: a bare number means the dimension's own unit.
  get ends() {
    const field = this.desk.fields.get(this.key.value);
    const ends = [this.from, this.to].map((end) => withUnit(end.value.trim(), field));
    if (!ends.every(Boolean)) throw new Error("Say between which two values, each with its unit.");
    return ends;
  }

  bounds() {
    const field = this.desk.fields.get(this.key.value);
    if (!field) return;
    this.from.value = `${field.low} ${field.unit}`.trim();
    this.to.value = `${field.high} ${field.unit}`.trim();
  }

  // The main dimensions by their headings, and before them what the matter in hand is most likely mended by.
  list(likely = []) {
    const fields = this.desk.state.groups.flatMap(({ title, fields }) => fields.filter(isRuled).map((field) => [title, field]));
    const first = likely.map((key) => fields.find(([, field]) => field.key === key)).filter(Boolean);
    const rest = fields.filter(([, field]) => field.main && !likely.includes(field.key));
    const keys = [...first, ...rest].map(([, field]) => field.key);
    if (this.listed === keys.join()) return;
    this.listed = keys.join();
    const chosen = this.key.value;
    const options = (pairs) => pairs.map(([title, { key, label }]) => element("option", { value: key }, `${title}: ${label}`));
    const grouped = (label, pairs) => element("optgroup", { label }, ...options(pairs));
    this.key.replaceChildren(...(first.length ? [grouped("likely", first), grouped("others", rest)] : options(rest)));
    const wanted = [this.isOwn ? chosen : first[0]?.[1].key, chosen, "gear.track", keys[0]];
    this.key.value = wanted.find((key) => keys.includes(key)) ?? "";
    if (this.key.value !== chosen) this.bounds();
  }
}
