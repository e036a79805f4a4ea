// The title block with mass and balance, and the table of numbers: now, the prototype, the change, the verdict in words.

import { byId, element, write } from "./dom.js";

export const VERDICTS = { fail: ["✗", "fails"], caution: ["!", "caution"], pass: ["✓", "passes"], info: ["i", "note"] };

export function mark(verdict) {
  const [sign, word] = VERDICTS[verdict] || ["", ""];
  return element("span", { class: `verdict ${verdict}` }, element("span", { "aria-hidden": "true" }, sign), ` ${word}`);
}

export class Numbers {
  constructor(desk) {
    this.desk = desk;
    this.shown = "";
    desk.on("state", () => this.update());
    desk.on("slow", () => this.update());
    desk.on("unfinished", () => this.update());
  }

  update() {
    this.block();
    this.table();
  }

  block() {
    const { state } = this.desk;
    write(byId("title"), state.title);
    const leading = ["mass", "balance"].map((code) => state.numbers.find((number) => number.code === code)).filter(Boolean);
    byId("leading").replaceChildren(...leading.map((number) => element("div", { class: number.code },
      element("dt", {}, number.label),
      element("dd", {}, element("b", {}, number.text), number.verdict ? mark(number.verdict) : ""),
      element("dd", { class: "detail" }, number.limit ? `should be ${number.limit}` : number.change ? `prototype ${number.prototype}, ${number.change}` : ""))));
    byId("view").setAttribute("aria-label", `Working drawing of ${state.title}: ${leading.map((number) => `${number.label} ${number.text}`).join(", ")}`);
  }

  // The body is made anew only where a text differs, so that a reader's place and the memory stay.
  table() {
    const { state, slow, isStale } = this.desk;
    const later = slow?.numbers || [];
    const text = JSON.stringify([state.numbers, later, isStale, state.prototype?.title]);
    if (text === this.shown) return;
    this.shown = text;
    const isPair = Boolean(state.prototype);
    const head = element("tr", {}, element("th", { scope: "col" }, "number"), element("th", { scope: "col", class: "right" }, "now"));
    if (isPair) head.append(element("th", { scope: "col", class: "right was", title: state.prototype.title }, "prototype"), element("th", { scope: "col", class: "right" }, "change"));
    head.append(element("th", { scope: "col" }, "verdict"));
    const quick = element("tbody", {}, ...state.numbers.map((number) => row(number, isPair)));
    const flight = element("tbody", { class: isStale ? "stale" : null }, subhead(isStale, isPair), ...later.map((number) => row(number, isPair)));
    byId("numbers").replaceChildren(element("table", {}, element("caption", { class: "unseen" }, "Numbers of the design"), element("thead", {}, head), quick, flight));
  }
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

function row(number, isPair) {
  const name = number.label.replace(/: estimate$/, "");
  const cells = [element("th", { scope: "row" }, name), figure(number.text, "now")];
  if (isPair) cells.push(figure(number.prototype, "was"), figure(number.change, "change"));
  cells.push(element("td", {}, number.verdict ? mark(number.verdict) : "", number.limit ? element("span", { class: "limit" }, number.limit) : ""));
  return element("tr", { "data-code": number.code }, ...cells);
}
