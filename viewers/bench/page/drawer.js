// A loose sheet laid over the drawing, opened and closed by a button of the rail; the rest of the page stays usable.

import { byId, button, element } from "./dom.js";

const all = [];

export class Drawer {
  constructor(id) {
    this.node = byId(id);
    this.button = byId(`open-${id}`);
    this.onOpen = () => {};
    this.button.addEventListener("click", () => this.toggle(!this.isOpen));
    document.addEventListener("keydown", (event) => {
      const isHere = this.node.contains(event.target) || event.target === document.body || event.target === this.button;
      if (event.key === "Escape" && this.isOpen && isHere) this.toggle(false);
    });
    all.push(this);
  }

  get isOpen() {
    return !this.node.hidden;
  }

  fill(title, ...contents) {
    this.title = element("h2", { tabindex: "-1" }, title);
    const close = button("✕", () => this.toggle(false), { class: "plain", "aria-label": `Close ${title}` });
    const top = element("div", { class: "drawer-top" }, this.title, close);
    this.node.replaceChildren(top, element("div", { class: "drawer-in" }, ...contents));
  }

  toggle(isOpen) {
    if (isOpen) for (const other of all) if (other !== this && other.isOpen) other.toggle(false);
    this.node.hidden = !isOpen;
    this.button.setAttribute("aria-expanded", String(isOpen));
    if (isOpen) {
      this.onOpen();
      this.title.focus();
    } else this.button.focus();
  }
}
