// "Find the value": one dimension is tried until a finding passes; what came of it goes on the bench in one press.

import { api } from "./api.js";
import { button, complain, element, say } from "./dom.js";
import { isOpen } from "./findings.js";
import { VERDICTS } from "./numbers.js";
import { Range } from "./range.js";
import { capital, keyOf, plainly } from "./settings.js";

export const ANSWER = "-answer.json"; // the ending of the file that the answer is read from
const LONGEST = 70; // letters of a finding in the list
const PLACES = ["station", "water_line", "butt_line"];
const USUAL = { fit: ["fuselage.width"], ground: ["gear.track", "gear.axle_station", "gear.height"], propeller: ["gear.height"] };
const SHOWN_IN = { // what the SI units of an answer are shown in; other units are shown as they are
  m: { metric: [1e3, "mm"], imperial: [1 / 0.0254, "in"] },
  kg: { metric: [1e3, "g"], imperial: [1 / 0.028349523125, "oz"] },
};
const KNOWN = new Set(["deg", "%", "m/s", "N"]);

export class Solving {
  constructor(desk) {
    this.desk = desk;
    this.messages = new Map(); // of findings by their codes: one that is mended is no longer in the list
    this.range = new Range(desk, "Dimension to look for");
    this.finding = element("select", { "aria-label": "Finding that it is to mend", onchange: () => this.turn() });
    const { key, from, to } = this.range;
    this.none = element("p", { class: "detail" }, "Nothing fails or needs caution now: there is nothing to mend.");
    this.asked = element("div", { class: "row ranged" }, key, "between", from, "and", to, "that mends", this.finding);
    this.node = element("div", { class: "solving" }, this.none, this.asked);
    this.answer = element("div", { class: "answer", role: "status", tabindex: "-1" });
    desk.on("state", () => this.mark());
  }

  get open() {
    return (this.desk.slow?.findings || []).filter(isOpen);
  }

  get isReady() {
    return this.open.length > 0;
  }

  update() {
    this.none.hidden = this.isReady;
    this.asked.hidden = !this.isReady;
    const chosen = this.finding.value;
    const listed = JSON.stringify(this.open.map(({ code, message }) => [code, message]));
    if (this.listed !== listed) {
      this.listed = listed;
      this.finding.replaceChildren(...this.open.map(option));
      for (const { code, message } of this.open) this.messages.set(code, message);
      if (this.open.some(({ code }) => code === chosen)) this.finding.value = chosen;
      else this.range.isOwn = false;
    }
    this.listKeys();
  }

  listKeys() {
    const finding = this.open.find(({ code }) => code === this.finding.value);
    if (finding) this.range.list(likely(finding, this.desk));
  }

  // To another finding, which other dimensions may mend.
  turn() {
    this.range.isOwn = false;
    this.listKeys();
  }

  choose(code) {
    this.update();
    this.finding.value = code;
    this.turn();
    this.range.key.focus();
  }

  read() {
    this.askedAt = this.desk.state.revision;
    return { key: this.range.key.value, code: this.finding.value, between: this.range.ends };
  }

  async hear(job) {
    this.heard = job.id;
    this.setting = null;
    this.answer.replaceChildren();
    const file = job.state === "done" && job.files.find(({ name }) => name.endsWith(ANSWER));
    if (!file) return;
    try {
      const found = await api.answer(job.id, file.name);
      if (this.heard === job.id) this.tell(found);
    } catch (error) {
      this.answer.replaceChildren(element("p", { class: "error" }, error.message));
    }
  }

  tell(found) {
    const lines = [...this.subject(found), ...(found.answer ? this.told(found) : this.missed(found)), ...this.meanwhile()];
    this.answer.replaceChildren(...lines.map((text) => element("p", {}, text)));
    this.setting = found.answer?.setting ?? null;
    if (this.setting) this.offer();
    this.answer.scrollIntoView({ block: "nearest" });
  }

  offer() {
    this.press = button("", () => this.put(), { class: "apply" });
    this.answer.append(this.press);
    this.mark();
  }

  subject({ now, answer, nearest }) {
    const [condition] = [now, answer, nearest].flatMap((one) => one?.conditions ?? []);
    const code = condition?.condition.replace(/ passes$/, "");
    return code ? [`To be mended: ${this.messages.get(code) ?? code.replaceAll(/[.-]/g, " ")}`] : [];
  }

  meanwhile() {
    const isSame = this.askedAt === undefined || this.askedAt === this.desk.state.revision;
    return isSame ? [] : ["The design was changed while this was looked for: the findings tell whether it still holds."];
  }

  told({ answer, now, at_the_cost_of: costs }) {
    const [before, after] = [now, answer].map(({ conditions }) => shown(conditions[0], this.desk.system));
    const change = after ? `: ${after}${before ? ` instead of ${before}` : ""}` : "";
    const rough = answer.is_round ? "" : " No round value will do.";
    const worse = costs.map(({ verdict, message }) => `${VERDICTS[verdict]?.[1] ?? verdict}: ${capital(message)}`);
    return [`${capital(this.words(answer.setting))} mends it${change}.${rough}`,
      worse.length ? "At the cost of:" : "No other finding gets worse.", ...worse];
  }

  missed({ key, unit, holds_now: isMended, nearest, cannot_be_built: unbuilt }) {
    if (isMended) return ["It passes already: nothing need change."];
    const why = unbuilt.length ? [`Some values cannot be built: ${unbuilt[0].message.replaceAll("_", " ")}.`] : [];
    if (!nearest) return ["Nothing that was tried can be built.", ...why];
    const place = shown({ value: nearest.value, unit }, this.desk.system, 4);
    const at = place ? this.words(`${key}=${place}`) : this.words(nearest.setting);
    return [`No value between these ends mends it. It comes nearest with ${at}.`, ...why, "Try other ends, or another dimension."];
  }

  // An exact value may have fifteen digits: nobody reads more than three after the point.
  words(setting) {
    return plainly(setting, this.desk.fields).replace(/(\.\d{3})\d+/, "$1");
  }

  async put() {
    const words = `${this.words(this.setting)}, as found`;
    try {
      await this.desk.change([[keyOf(this.setting), this.setting]], { words, cause: "remedy" });
      this.answer.focus({ preventScroll: true });
      say(`Done: ${words}. Undo takes it back. The findings are being worked out anew.`);
    } catch (error) {
      complain(error);
    }
  }

  // Pressed already: that can be seen, until it is taken back.
  mark() {
    if (!this.setting || !this.press) return;
    const field = this.desk.fields.get(keyOf(this.setting));
    const isThere = field !== undefined && this.words(`${field.key}="${field.text}"`) === this.words(this.setting);
    const words = this.words(this.setting);
    this.press.disabled = isThere;
    this.press.textContent = isThere ? `${capital(words)} is on the bench` : `Put ${words} on the bench`;
  }
}

function option({ code, verdict, message }) {
  const words = `${VERDICTS[verdict].join(" ")}: ${message}`;
  return element("option", { value: code }, words.length > LONGEST ? `${words.slice(0, LONGEST).replace(/\s\S*$/, "")} …` : words);
}

// Keys that its remedies set, then the places of the items that it names behind the colon, then what is usual.
function likely({ code, remedies = [] }, { fields, state }) {
  const touched = remedies.flatMap(({ settings }) => settings.map(keyOf));
  const items = code.split(": ").slice(1).join(": ").split(", ").filter(Boolean);
  const isPlace = (key) => items.some((item) => PLACES.some((place) => key.replaceAll('"', "") === `equipment.${item}.${place}`));
  const batteries = (state.scene.drags || []).filter((drag) => drag.is_battery).map((drag) => drag.key);
  const usual = USUAL[code.split(".")[0]] || [];
  return [...new Set([...touched, ...[...fields.keys()].filter(isPlace), ...(code.startsWith("balance.") ? batteries : usual)])];
}

// In the page's units; nothing where there is no number, or none that a builder would know.
function shown(condition, system, figures = 3) {
  const { value = null, unit = "" } = condition ?? {};
  const [scale, name] = SHOWN_IN[unit]?.[system] ?? [1, KNOWN.has(unit) ? unit : ""];
  if (value === null || !name) return "";
  return `${Number((value * scale).toPrecision(figures))} ${name}`;
}
