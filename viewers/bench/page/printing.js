// The sheet that is printed: the drawing as it stands on the screen, numbers, findings, changes, date.

import { byId, element } from "./dom.js";
import { VERDICTS } from "./numbers.js";

export function setUpPrinting(desk, drawing) {
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

function lay(desk, drawing) {
  const { state, slow, isStale } = desk;
  const later = slow?.numbers || [];
  const open = (slow?.findings || []).filter((finding) => ["fail", "caution"].includes(finding.verdict));
  byId("printed").replaceChildren(
    element("div", { class: "printed-top" }, element("h1", {}, state.title), element("p", {}, `${state.file} · ${new Date().toLocaleString()}${state.dirty ? " · with changes that are not saved" : ""}`)),
    drawing.picture() || "",
    element("div", { class: "printed-pair" },
      element("div", {}, element("h2", {}, "Numbers"), table(state.numbers, state.prototype), later.length ? element("h2", {}, "Flight, estimates") : "", later.length ? table(later, state.prototype) : ""),
      element("div", {}, element("h2", {}, `Findings${isStale ? " of the state before: not all is worked out yet" : ""}`),
        ...(open.length ? open.map(finding) : [element("p", {}, "Nothing fails and nothing needs caution in what is checked here.")]),
        element("h2", {}, "Changed from the file"),
        state.edits.length ? element("ul", {}, ...state.edits.map((edit) => element("li", {}, edit.words || `${edit.key} ${edit.value}`))) : element("p", {}, "Nothing."))),
    element("p", { class: "printed-foot" }, "Everything here is estimated from the drawing: no clearance to fly. Balance the finished model before each first flight. Propellers cut; lithium batteries burn when punctured or overcharged."));
}

function table(numbers, prototype) {
  const head = element("tr", {}, element("th", {}, ""), element("th", {}, "now"), prototype ? element("th", {}, prototype.title) : "", prototype ? element("th", {}, "change") : "", element("th", {}, "range"));
  return element("table", {}, element("thead", {}, head), element("tbody", {}, ...numbers.map((number) => element("tr", {},
    element("th", {}, number.label), element("td", {}, number.text), prototype ? element("td", {}, number.prototype ?? "–") : "", prototype ? element("td", {}, number.change ?? "–") : "",
    element("td", {}, [number.verdict ? VERDICTS[number.verdict][1] : "", number.limit].filter(Boolean).join(", "))))));
}

function finding(each) {
  const remedies = (each.remedies || []).map((remedy) => remedy.text).join("; or ");
  return element("p", {}, element("b", {}, VERDICTS[each.verdict].join(" ")), ` ${each.message}`, remedies ? element("i", {}, ` Remedy: ${remedies}.`) : "");
}
