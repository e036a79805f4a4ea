// Versions: what was changed from the file, and named variants side by side in three columns of numbers.

import { byId, element, notice, question, say, alarm } from "./dom.js";
import { line } from "./ruler.js";

export class Versions {
  constructor(desk, drawer) {
    this.desk = desk;
    this.drawer = drawer;
    this.chosen = null;
    this.text = "";
    this.build();
    desk.on("state", () => this.update());
    drawer.onOpen = () => this.update();
  }

  build() {
    this.edits = element("div");
    this.side = element("div", { class: "inner" });
    this.name = element("input", { id: "variant-name", type: "text", maxlength: "60", autocomplete: "off", required: true });
    const form = element("form", { class: "row", onsubmit: (event) => { event.preventDefault(); this.keep(); } },
      element("label", { for: "variant-name" }, "Keep this as"), this.name, element("button", { type: "submit" }, "Keep"));
    this.drawer.fill("Versions", element("h3", {}, "Changed from the file"), this.edits, element("h3", {}, "Side by side"), form, this.side);
  }

  update() {
    if (!this.drawer.isOpen) return;
    const { state } = this.desk;
    const text = JSON.stringify([state.edits, state.variants, state.numbers, this.chosen]);
    if (text === this.text) return;
    this.text = text;
    const hadFocus = this.drawer.node.contains(document.activeElement);
    this.listEdits(state);
    this.compare(state);
    if (hadFocus && !this.drawer.node.contains(document.activeElement)) this.drawer.title.focus();
  }

  listEdits({ edits, file }) {
    const again = element("button", { type: "button", onclick: () => this.reload() }, `Read ${file} again`);
    if (!edits.length) {
      this.edits.replaceChildren(element("p", {}, `Nothing: it is as ${file} says. `), again);
      return;
    }
    this.edits.replaceChildren(element("ul", { class: "edits" }, ...edits.map((edit) => this.edit(edit))), again);
  }

  edit({ key, words, value }) {
    const field = this.desk.fields.get(key);
    const text = words || `${key} ${value}`;
    const back = field?.filed ? element("button", { type: "button", "aria-label": `${text}: back to ${field.filed}`, onclick: () => this.takeBack(field, text) }, `back to ${field.filed}`) : null;
    return element("li", {}, element("span", {}, text), back);
  }

  takeBack(field, words) {
    this.desk.change([[field.key, line(field.key, field.filed, field)]], { words: `${words}, as filed` }).then(() => say(`${words}: back to ${field.filed}`), (error) => alarm(error.message));
  }

  async reload() {
    const { file, dirty } = this.desk.state;
    if (dirty && await question(`Read ${file} again?`, [element("p", {}, "The changes that are not saved are dropped, and so is what Undo would take back.")], [["Read it again", true]]) === null) return;
    await this.desk.act("reload").then(() => say(`${file} was read again`), (error) => notice(error.message));
  }

  async keep() {
    const name = this.name.value.trim();
    if (!name) return;
    await this.run("keep", { name }, `kept as ${name}`);
    this.chosen = name;
    this.name.value = "";
    this.update();
  }

  async run(what, body, words) {
    await this.desk.act(what, body).then(() => say(words), (error) => { alarm(error.message); notice(error.message); });
  }

  compare(state) {
    const { variants, numbers, prototype } = state;
    const kept = variants.slice(1);
    if (!kept.some((variant) => variant.name === this.chosen)) this.chosen = kept[kept.length - 1]?.name ?? null;
    const variant = kept.find((each) => each.name === this.chosen);
    const pick = element("select", { "aria-label": "Variant in the second column", onchange: (event) => { this.chosen = event.target.value; this.update(); } },
      ...kept.map((each) => element("option", { value: each.name, selected: each.name === this.chosen }, each.name)));
    const first = variants[0];
    const head = element("tr", {}, element("th", { scope: "col" }, "number"), column(prototype ? prototype.title : "as filed"), variant ? element("th", { scope: "col", class: "right" }, pick) : column("no variant kept yet"), column("now"));
    const rows = numbers.map((number, place) => element("tr", {}, element("th", { scope: "row" }, number.label),
      cell(prototype ? number.prototype : first?.numbers[place]), cell(variant?.numbers[place]), element("td", { class: "right now" }, number.text)));
    const table = element("table", {}, element("caption", { class: "unseen" }, "Versions side by side"), element("thead", {}, head), element("tbody", {}, ...rows));
    this.side.replaceChildren(table, element("ul", { class: "edits" }, ...variants.map((each) => this.variant(each))));
  }

  variant(each) {
    const isFiled = each === this.desk.state.variants[0];
    const count = each.edits === 1 ? "1 change" : `${each.edits} changes`;
    return element("li", {}, element("span", {}, each.name, element("small", {}, isFiled ? "" : ` ${count}`, each.is_current ? ", on the bench now" : "")),
      each.is_current ? null : element("button", { type: "button", "aria-label": `Open ${each.name}`, onclick: () => this.run("open", { name: each.name }, `${each.name} is on the bench; Undo goes back`) }, "Open"),
      isFiled ? null : element("button", { type: "button", "aria-label": `Forget ${each.name}`, onclick: () => this.run("forget", { name: each.name }, `${each.name} forgotten`) }, "Forget"));
  }
}

const column = (words) => element("th", { scope: "col", class: "right" }, words);
const cell = (text) => element("td", { class: "right" }, text ?? "–");
