// The sheet that is printed: the drawing as it stands on the screen, numbers, findings, changes, date.

import { byId, element } from "./dom.js";
import { CLEAR, isOpen } from "./findings.js";
import { VERDICTS, called } from "./numbers.js";
import { SAFETY } from "./safety.js";

const FOOT = ["Everything here is estimated from the drawing: no clearance to fly. Balance the finished model before each "
  + "first flight.", ...SAFETY].join(" ");

export function setUpPrinting(desk, drawing) {
  // The drawing is made for white paper first; the browser's own menu prints it as it is.
  const print = async () => {
    const { theme } = document.documentElement.dataset;
    await drawing.view.setTheme("light");
    window.print();
    drawing.view.setTheme(theme);
  };
  byId("print").addEventListener("click", print);
  document.addEventListener("keydown", (event) => {
    if (!(event.ctrlKey || event.metaKey) || event.key.toLowerCase() !== "p") return;
    event.preventDefault();
    print();
  });
  window.addEventListener("beforeprint", () => lay(desk, drawing));
  window.addEventListener("afterprint", () => byId("printed").replaceChildren());
}

const titled = (title, ...contents) => [element("h2", {}, title), ...contents];

function lay({ state, slow, isStale }, drawing) {
  const later = slow?.numbers || [];
  const unsaved = state.dirty ? " · with changes that are not saved" : "";
  const left = [
    ...titled("Numbers", table(state.numbers, state.prototype)),
    ...(later.length ? titled("Flight, estimates", table(later, state.prototype)) : []),
  ];
  const waiting = isStale ? " of the state before: not all is worked out yet" : "";
  const right = [
    ...titled(`Findings${waiting}`, ...findings(slow?.findings || [])),
    ...titled("Changed from the file", edits(state.edits)),
  ];
  byId("printed").replaceChildren(
    element("div", { class: "printed-top" }, element("h1", {}, state.title),
      element("p", {}, `${state.file} · ${new Date().toLocaleString()}${unsaved}`)),
    drawing.picture() || "",
    element("div", { class: "printed-pair" }, element("div", {}, ...left), element("div", {}, ...right)),
    element("p", { class: "printed-foot" }, FOOT));
}

function table(numbers, prototype) {
  const row = (kind, ...texts) => element("tr", {}, ...texts.map(([text, name], place) => element(place ? kind : "th", { class: name }, text)));
  const pair = (was, change) => (prototype ? [[was], [change, "change"]] : []);
  const ranges = numbers.map(({ verdict, limit }) => [verdict ? VERDICTS[verdict][1] : "", limit].filter(Boolean).join(", "));
  const judged = (text) => (ranges.some(Boolean) ? [[text]] : []);
  const body = numbers.map(({ label, text, prototype: was, change }, place) =>
    row("td", [called(label)], [text], ...pair(was ?? "–", change ?? "–"), ...judged(ranges[place])));
  const head = row("th", [""], ["now"], ...pair(prototype?.title, "change"), ...judged("range"));
  return element("table", {}, element("thead", {}, head), element("tbody", {}, ...body));
}

function findings(all) {
  const open = all.filter(isOpen);
  if (!open.length) return [element("p", {}, CLEAR)];
  return open.map(({ verdict, message, remedies }) => {
    const words = (remedies || []).map((remedy) => remedy.text).join("; or ");
    const remedy = words ? element("i", {}, ` Remedy: ${words}.`) : "";
    return element("p", {}, element("b", {}, VERDICTS[verdict].join(" ")), ` ${message}`, remedy);
  });
}

function edits(all) {
  if (!all.length) return element("p", {}, "Nothing.");
  return element("ul", {}, ...all.map(({ words, key, value }) => element("li", {}, words || `${key} ${value}`)));
}
