// The findings as notes on the drawing: worst first, each with what would mend it, one press applying it.

import { byId, button, complain, element, say, write } from "./dom.js";
import { mark } from "./numbers.js";
import { SAFETY } from "./safety.js";
import { capital, keyOf, plainly } from "./settings.js";

const OPEN = new Set(["fail", "caution"]);
export const isOpen = (finding) => OPEN.has(finding.verdict);
const SHORT = 2; // settings that a remedy may list beside its button; more are folded away
export const CLEAR = "Nothing fails and nothing needs caution in what is checked here.";
// A remedy's text tells what it does, then what it spoils: the first goes on the button, the second below it.
const COST = ", at the cost of ";

export class Findings {
  constructor(desk, onParts, onSeek) {
    this.desk = desk;
    this.onParts = onParts;
    this.onSeek = onSeek;
    this.list = element("div");
    byId("findings").append(this.list, caution());
    desk.on("state", () => this.stale());
    desk.on("slow", () => this.update());
    desk.on("unfinished", (error) => write(byId("notes-count"), `not worked out: ${error.message}`));
  }

  stale() {
    byId("notes").classList.toggle("stale", this.desk.isStale);
    byId("notes").dataset.tried = String(this.desk.isTried);
    if (this.desk.isStale) write(byId("notes-count"), "being worked out …");
  }

  update() {
    this.stale();
    const findings = this.desk.slow.findings;
    write(byId("notes-count"), summary(findings) + (this.desk.isTried ? "" : "; trying remedies …"));
    const isHere = this.list.contains(document.activeElement);
    const open = findings.filter(isOpen);
    const rest = findings.filter((finding) => !OPEN.has(finding.verdict));
    const articles = open.map((finding) => this.article(finding));
    const isUnfolded = this.list.querySelector("details.rest")?.open || false;
    this.list.replaceChildren(...(open.length ? articles : [element("p", { class: "clear" }, CLEAR)]), ...this.folded(rest, isUnfolded));
    if (isHere) byId("findings").focus({ preventScroll: true });
    if (open[0]?.code !== this.worst) byId("findings").scrollTop = 0;
    this.worst = open[0]?.code;
  }

  folded(rest, isUnfolded) {
    if (!rest.length) return [];
    return [element("details", { open: isUnfolded, class: "rest" },
      element("summary", {}, `what passes, and notes (${rest.length})`), ...rest.map((finding) => this.article(finding)))];
  }

  article(finding) {
    const remedies = finding.remedies || [];
    const made = element("article", { class: `finding ${finding.verdict}`, "data-code": finding.code },
      element("p", {}, mark(finding.verdict), " ", capital(finding.message)));
    if (finding.parts?.length) {
      made.addEventListener("pointerenter", () => this.onParts(finding.parts));
    }
    if (!isOpen(finding)) return made;
    made.append(...remedies.map((remedy) => this.remedy(remedy)));
    if (!finding.on_trial && !remedies.some((remedy) => remedy.settings.length)) made.append(this.seek(finding));
    if (finding.on_trial) made.append(element("p", { class: "remedy trial" }, "trying what would mend it …"));
    return made;
  }

  remedy(remedy) {
    const [does, spoils] = remedy.text.split(COST);
    if (!remedy.settings.length) return element("p", { class: "remedy" }, `By hand: ${remedy.text}`);
    const lines = remedy.settings.map((setting) => plainly(setting, this.desk.fields));
    const press = button(capital(does), () => this.apply(remedy, press), { class: "apply" });
    return element("div", { class: "remedy" }, press,
      ...(spoils ? [element("p", { class: "sets" }, `at the cost of ${spoils}`)] : []),
      lines.length <= SHORT ? element("p", { class: "sets" }, `sets ${lines.join(", ")}`) : list(lines));
  }

  // Where no press of a button mends it, one dimension may: which one, the builder says.
  seek({ code, message }) {
    const words = "Find a value that mends it …";
    const press = button(words, () => this.onSeek(code), { class: "seek", "aria-label": `${words} ${capital(message)}` });
    return element("p", { class: "remedy" }, press);
  }

  async apply(remedy, press) {
    press.disabled = true;
    try {
      const settings = remedy.settings.map((setting) => [keyOf(setting), setting]);
      await this.desk.change(settings, { words: remedy.text, cause: "remedy" });
      say(`Done: ${remedy.text}. Undo takes it back. The findings are being worked out anew.`);
      byId("findings").focus({ preventScroll: true });
    } catch (error) {
      complain(error);
      press.disabled = false;
    }
  }
}

export function summary(findings) {
  const count = (verdict) => findings.filter((finding) => finding.verdict === verdict).length;
  const [fails, cautions, passes] = ["fail", "caution", "pass"].map(count);
  const words = (number, one, many) => (number ? `${number} ${number === 1 ? one : many}` : "");
  const counts = [words(fails, "fails", "fail"), words(cautions, "caution", "cautions"), words(passes, "passes", "pass")];
  return counts.filter(Boolean).join(", ");
}

function list(lines) {
  const items = lines.map((text) => element("li", {}, text));
  const summary = element("summary", {}, `sets ${lines.length} values`);
  return element("details", { class: "sets" }, summary, element("ul", {}, ...items));
}

function caution() {
  return element("div", { class: "safety" }, ...SAFETY.map((text) => element("p", {}, text)));
}
