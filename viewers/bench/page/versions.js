// Versions: what was changed from the file, and named variants side by side in three columns of numbers.

import { button, complain, element, question, say } from "./dom.js";
import { line } from "./ruler.js";

const kept = (name) => `kept ${name}`; // as a choice of a column, beside "prototype" and "filed"

export class Versions {
  constructor(desk, drawer) {
    this.desk = desk;
    this.drawer = drawer;
    this.first = null;
    this.chosen = null;
    this.text = "";
    this.build();
    desk.on("state", () => this.update());
    drawer.onOpen = () => this.update();
  }

  build() {
    this.edits = element("div");
    this.side = element("div", { class: "inner" });
    this.name = element("input", { id: "variant-name", type: "text", maxlength: "40", autocomplete: "off", required: true });
    const onsubmit = (event) => {
      event.preventDefault();
      this.keep();
    };
    const form = element("form", { class: "row", onsubmit },
      element("label", { for: "variant-name" }, "Keep this as"), this.name, element("button", { type: "submit" }, "Keep"));
    const title = (words) => element("h3", {}, words);
    this.drawer.fill("Versions", title("Changed from the file"), this.edits, title("Side by side"), form, this.side);
  }

  update() {
    if (!this.drawer.isOpen) return;
    const { state } = this.desk;
    const text = JSON.stringify([state.edits, state.variants, state.numbers, this.first, this.chosen]);
    if (text === this.text) return;
    this.text = text;
    const hadFocus = this.drawer.node.contains(document.activeElement);
    this.listEdits(state);
    const variants = state.variants.map((each) => this.variant(each));
    this.side.replaceChildren(this.compare(state), element("ul", { class: "edits" }, ...variants));
    if (hadFocus && !this.drawer.node.contains(document.activeElement)) this.drawer.title.focus();
  }

  listEdits({ edits, file }) {
    const again = button(`Read ${file} again`, () => this.reload());
    const list = edits.length ? element("ul", { class: "edits" }, ...edits.map((edit) => this.edit(edit)))
      : element("p", {}, `Nothing: it is as ${file} says.`);
    this.edits.replaceChildren(list, again);
  }

  edit({ key, words, value }) {
    const field = this.desk.fields.get(key);
    const text = words || `${key} ${value}`;
    if (!field?.filed) return element("li", {}, element("span", {}, text));
    const back = `back to ${field.filed}`;
    const press = button(back, () => this.takeBack(field, text), { "aria-label": `${text}: ${back}` });
    return element("li", {}, element("span", {}, text), press);
  }

  takeBack(field, words) {
    const setting = [field.key, line(field.key, field.filed, field)];
    this.desk.change([setting], { words: `${words}, as filed` }).then(() => say(`${words}: back to ${field.filed}`), complain);
  }

  async reload() {
    const { file, dirty } = this.desk.state;
    const text = element("p", {}, "The changes that are not saved are dropped, and so is what Undo would take back.");
    const isSure = !dirty || await question(`Read ${file} again?`, [text], [["Read it again", true]]);
    if (isSure) await this.run("reload", {}, `${file} was read again`);
  }

  async keep() {
    const name = this.name.value.trim();
    if (!name) return;
    await this.run("keep", { name }, `kept as ${name}`);
    this.chosen = kept(name);
    this.name.value = "";
    this.update();
  }

  run(what, body, words) {
    return this.desk.act(what, body).then(() => say(words), complain);
  }

  // Two that the builder chooses among the prototype, the design as filed and what is kept; and now.
  compare({ variants, numbers, prototype }) {
    const [filed, ...others] = variants;
    const all = [
      ...(prototype ? [["prototype", prototype.title, numbers.map((number) => number.prototype)]] : []),
      ["filed", "as filed", filed.numbers],
      ...others.map((each) => [kept(each.name), each.name, each.numbers]),
    ];
    const find = (id) => all.find(([each]) => each === id);
    const first = find(this.first) ?? all[0];
    const second = find(this.chosen) ?? all.at(-1);
    const head = element("tr", {}, element("th", { scope: "col" }, "number"),
      column(this.choice(all, first, "first", "Version in the first column")),
      column(this.choice(all, second, "chosen", "Version in the second column")), column("now"));
    const rows = numbers.map((number, place) => element("tr", {},
      element("th", { scope: "row" }, number.label),
      ...[first, second].map(([, , texts]) => cell(texts[place], number.text)),
      element("td", { class: "right now" }, number.text)));
    const caption = element("caption", { class: "unseen" }, "Versions side by side");
    return element("table", {}, caption, element("thead", {}, head), element("tbody", {}, ...rows));
  }

  choice(all, [chosen], place, words) {
    const onchange = (event) => {
      this[place] = event.target.value;
      this.update();
      this.side.querySelector(`[data-place="${place}"]`).focus();
    };
    const options = all.map(([id, name]) => element("option", { value: id, selected: id === chosen }, name));
    return element("select", { "aria-label": words, "data-place": place, onchange }, ...options);
  }

  variant(each) {
    const { name, edits, is_current: isCurrent } = each;
    const isFiled = each === this.desk.state.variants[0];
    const count = edits === 1 ? " 1 change" : ` ${edits} changes`;
    const notes = element("small", {}, isFiled ? "" : count, isCurrent ? ", on the bench now" : "");
    const open = () => this.run("open", { name }, `${name} is on the bench; Undo goes back`);
    const forget = () => this.run("forget", { name }, `${name} forgotten`);
    return element("li", {}, element("span", {}, name, notes),
      isCurrent ? null : button("Open", open, { "aria-label": `Open ${name}` }),
      isFiled ? null : button("Forget", forget, { "aria-label": `Forget ${name}` }));
  }
}

const column = (words) => element("th", { scope: "col", class: "right" }, words);
const cell = (text, now) => element("td", { class: text === now ? "right" : "right other" }, text ?? "–");
