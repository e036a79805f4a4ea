// The edge of the bench: the groups of dimensions as tabs, the main ones of a group as rulers, all of them on demand.

import { byId, button, element, say } from "./dom.js";
import { Ruler } from "./ruler.js";
import { TrayStrips } from "./tray.js";

// What the rulers were built for: with other fields, kinds or bounds they are built anew.
const shapes = (wanted) => wanted.map(([, { key, kind, unit, low, high }]) => [key, kind, unit, low, high].join(" ")).join();

export class Dimensions {
  constructor(desk, view) {
    this.desk = desk;
    this.group = null;
    this.isAll = false;
    this.rulers = new Map();
    this.tray = new TrayStrips(desk, view);
    byId("all").addEventListener("click", () => this.showAll(!this.isAll));
    byId("search").addEventListener("input", () => this.fill());
    byId("search").addEventListener("keydown", (event) => { if (event.key === "Escape") this.choose(this.group); });
    byId("groups").addEventListener("keydown", (event) => this.walk(event));
    desk.on("state", ({ isRebuilt }) => (isRebuilt ? this.rebuild() : this.refresh()));
    desk.on("slow", () => (this.group === "carried" && this.tray.isOutdated ? this.fill() : this.tray.update()));
  }

  get groups() {
    return this.desk.state.groups;
  }

  rebuild() {
    const kept = this.groups.map((group) => group.name).join();
    if (this.kept !== kept) this.tabs();
    this.kept = kept;
    if (this.shown === shapes(this.wanted()) && this.rulers.size) this.refresh();
    else this.fill();
  }

  tabs() {
    if (!this.groups.some((group) => group.name === this.group)) this.group = this.groups[0]?.name ?? null;
    byId("groups").replaceChildren(...this.groups.map(({ name, title }) =>
      button(title, () => this.choose(name), { role: "tab", id: `tab-${name}`, "aria-controls": "fields" })));
    this.mark();
  }

  mark() {
    for (const tab of byId("groups").children) {
      const isHere = tab.id === `tab-${this.group}` && !byId("search").value;
      tab.setAttribute("aria-selected", String(isHere));
      tab.tabIndex = tab.id === `tab-${this.group}` ? 0 : -1;
    }
    byId("fields").setAttribute("aria-labelledby", `tab-${this.group}`);
  }

  walk(event) {
    const at = this.groups.findIndex((group) => group.name === this.group);
    const to = { ArrowRight: at + 1, ArrowLeft: at - 1, Home: 0, End: this.groups.length - 1 }[event.key];
    if (to === undefined) return;
    event.preventDefault();
    this.choose(this.groups[(to + this.groups.length) % this.groups.length].name);
    byId(`tab-${this.group}`).focus();
  }

  choose(name) {
    byId("search").value = "";
    this.group = name;
    this.fill();
  }

  showAll(isAll) {
    this.isAll = isAll;
    byId("all").setAttribute("aria-pressed", String(isAll));
    document.body.classList.toggle("all-dimensions", isAll);
    this.fill();
  }

  // Brings the ruler of a key to hand: from a finding, a part or the drawing.
  find(key) {
    const group = this.groups.find((each) => each.fields.some((field) => field.key === key));
    if (!group) return;
    this.choose(group.name);
    if (!this.rulers.has(key)) this.showAll(true);
    this.rulers.get(key)?.entry.focus();
  }

  wanted() {
    const words = byId("search").value.trim().toLowerCase().split(/\s+/).filter(Boolean);
    const all = this.groups.flatMap((group) => group.fields.map((field) => [group, field]));
    if (words.length) {
      return all.filter(([group, field]) => {
        const text = `${group.title} ${field.label} ${field.key} ${field.help || ""}`.toLowerCase();
        return words.every((word) => text.includes(word));
      });
    }
    const own = all.filter(([group]) => group.name === this.group);
    const main = own.filter(([, field]) => field.main);
    return this.isAll || !main.length ? own : main;
  }

  fill() {
    const wanted = this.wanted();
    const isSearch = Boolean(byId("search").value.trim());
    document.body.classList.toggle("searching", isSearch);
    this.shown = shapes(wanted);
    this.rulers.clear();
    const send = (settings, how) => this.desk.change(settings, how);
    for (const [group, field] of wanted) {
      if (this.tray.has(field.key) && !isSearch && !this.isAll) continue;
      this.rulers.set(field.key, new Ruler(field, group.title, send, isSearch ? `${group.title}: ` : ""));
    }
    const box = byId("fields");
    const strips = this.group === "carried" && !isSearch ? this.tray.nodes() : [];
    box.replaceChildren(...strips, ...[...this.rulers.values()].map((ruler) => ruler.node));
    const none = isSearch ? "No dimension is called that." : "Nothing of this group is in this aeroplane.";
    if (!wanted.length) box.append(element("p", { class: "empty" }, none));
    if (isSearch) say(`${wanted.length} dimensions found`);
    box.scrollTop = 0;
    this.mark();
    this.tray.update();
  }

  refresh() {
    for (const [key, ruler] of this.rulers) {
      const field = this.desk.fields.get(key);
      if (field) ruler.update(field);
    }
    this.tray.update();
  }
}
