// The card of a part that was picked: what it is, what it weighs and how that is known, its cutting outline.

import { api } from "./api.js";
import { byId, button, element } from "./dom.js";

const BASIS = { estimated: "an estimate", calculated: "calculated from its drawing", weighed: "weighed" };

export class PartCard {
  constructor(desk, onClose) {
    this.desk = desk;
    this.onClose = onClose;
    this.name = null;
    this.shape = null;
    byId("card").addEventListener("keydown", (event) => { if (event.key === "Escape") this.close(); });
  }

  part() {
    return this.desk.state.scene.parts.find((part) => part.name === this.name) || null;
  }

  words() {
    const part = this.part();
    return part ? `${part.name}: ${part.material}, ${part.mass}, ${BASIS[part.basis] || part.basis}` : "";
  }

  show(name) {
    this.name = name;
    this.shape = null;
    this.update();
  }

  close() {
    this.show(null);
    this.onClose();
    byId("view").focus();
  }

  update() {
    const part = this.name ? this.part() : null;
    const box = byId("card");
    box.hidden = !part;
    if (!part) return;
    const text = this.words();
    if (this.text === text && this.shape === part.shape) return;
    this.text = text;
    const isSame = this.shape === part.shape;
    const old = isSame ? box.querySelector(".outline") : null;
    this.shape = part.shape;
    const swatch = element("i", { class: "swatch" });
    swatch.style.background = part.colour;
    const outline = old || element("div", { class: "outline" });
    box.replaceChildren(
      button("✕", () => this.close(), { class: "plain", "aria-label": "Close the card of this part" }),
      element("h3", {}, swatch, part.name),
      element("p", {}, `${part.material} · ${part.mass}`),
      element("p", { class: "detail" }, `${BASIS[part.basis] || part.basis} · group ${part.group}`), outline);
    if (part.template && !old) this.draw(part.name, outline);
  }

  // An image, not markup of ours: what is inside it can run nothing.
  async draw(name, outline) {
    outline.textContent = "its cutting outline is being drawn …";
    try {
      const text = await api.template(name);
      if (this.name !== name) return;
      const url = URL.createObjectURL(new Blob([text], { type: "image/svg+xml" }));
      const picture = element("img", { src: url, alt: `Cutting outline of ${name} with its sizes` });
      picture.addEventListener("load", () => URL.revokeObjectURL(url), { once: true });
      outline.replaceChildren(picture);
    } catch (error) {
      outline.textContent = error.message;
    }
  }
}
