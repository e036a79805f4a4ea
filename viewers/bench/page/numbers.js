// The title block with mass and balance, and the table of numbers: now, the prototype, the change, the verdict.

import { byId, element, write } from "./dom.js";

export const VERDICTS = {
  fail: ["✗", "fails"],
  caution: ["!", "caution"],
  pass: ["✓", "passes"],
  info: ["i", "note"],
};
// The heading of the estimates says that they are: not each again.
export const called = (label) => label.replace(/: estimate$/, "");

// A number and its unit stay on one line.
const whole = (text) => text?.replaceAll(" ", "\u00a0");

const LEADING = ["mass", "balance"];

export function mark(verdict) {
  const [sign, word] = VERDICTS[verdict] || ["", ""];
  return element("span", { class: `verdict ${verdict}` }, element("span", { "aria-hidden": "true" }, sign), ` ${word}`);
}

export class Numbers {
  constructor(desk) {
    this.desk = desk;
    this.shown = "";
    for (const event of ["state", "slow", "unfinished"]) {
      desk.on(event, () => {
        this.block();
        this.table();
      });
    }
  }

  block() {
    const { state } = this.desk;
    const leading = LEADING.map((code) => state.numbers.find((number) => number.code === code)).filter(Boolean);
    const words = leading.map((number) => `${number.label} ${number.text}`).join(", ");
    write(byId("title"), state.title);
    byId("leading").replaceChildren(...leading.map(large));
    byId("view").setAttribute("aria-label", `Working drawing of ${state.title}: ${words}`);
  }

  // Made anew only where a text differs, so that a reader's place and the memory stay.
  table() {
    const { state, slow, isStale } = this.desk;
    const later = slow?.numbers || [];
    const text = JSON.stringify([state.numbers, later, isStale, state.prototype?.title]);
    if (text === this.shown) return;
    this.shown = text;
    const isPair = Boolean(state.prototype);
    const rows = (numbers) => numbers.map((number) => row(number, isPair));
    byId("numbers").replaceChildren(element("table", {},
      element("caption", { class: "unseen" }, "Numbers of the design"),
      element("thead", {}, head(state.prototype)),
      element("tbody", {}, ...rows(state.numbers)),
      element("tbody", { class: isStale ? "stale" : null }, subhead(isStale, isPair), ...rows(later))));
  }
}

function large({ code, label, text, verdict, limit, prototype, change }) {
  const detail = limit ? `should be ${limit}` : change ? `prototype ${whole(prototype)}, ${whole(change)}` : "";
  return element("div", { class: code },
    element("dt", {}, label),
    element("dd", {}, element("b", {}, text), verdict ? mark(verdict) : ""),
    element("dd", { class: "detail" }, detail));
}

function head(prototype) {
  const column = (words, kind, title = null) => element("th", { scope: "col", class: kind, title }, words);
  const pair = prototype ? [column("prototype", "right was", prototype.title), column("change", "right")] : [];
  return element("tr", {}, column("number"), column("now", "right"), ...pair, column("verdict"));
}

function subhead(isStale, isPair) {
  const words = isStale ? "flight, estimates: being worked out …" : "flight, estimates";
  return element("tr", { class: "group" }, element("th", { scope: "rowgroup", colspan: isPair ? 5 : 3 }, words));
}

// "7.5 m/s (7.2 to 7.9 m/s)": an estimate's band goes under it.
function figure(text, kind) {
  const [, value, band] = /^(.*?)(?: \((.*)\))?$/.exec(text ?? "–");
  return element("td", { class: `right ${kind}` }, value, band ? element("span", { class: "limit" }, band) : "");
}

function row({ code, label, text, prototype, change, verdict, limit }, isPair) {
  const pair = isPair ? [figure(prototype, "was"), figure(change, "change")] : [];
  const range = limit ? element("span", { class: "limit" }, limit) : "";
  return element("tr", { "data-code": code },
    element("th", { scope: "row" }, called(label)),
    figure(text, "now"), ...pair,
    element("td", {}, verdict ? mark(verdict) : "", range));
}
