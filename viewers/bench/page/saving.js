// Saving without ever writing over what was not seen, undo and redo, and what is said when the file or another tab moved on.

import { Refusal } from "./api.js";
import { byId, element, notice, question, say, alarm, write } from "./dom.js";

export class Saving {
  constructor(desk) {
    this.desk = desk;
    this.steps = Promise.resolve();
    byId("undo").addEventListener("click", () => this.step("undo"));
    byId("redo").addEventListener("click", () => this.step("redo"));
    byId("save").addEventListener("click", () => this.save(null));
    byId("save-as").addEventListener("click", () => this.saveAs());
    document.addEventListener("keydown", (event) => this.key(event));
    window.addEventListener("beforeunload", (event) => { if (desk.state?.dirty) event.preventDefault(); });
    window.addEventListener("focus", () => desk.glance());
    document.addEventListener("visibilitychange", () => { if (!document.hidden) desk.glance(); });
    desk.on("state", ({ cause }) => this.update(cause));
    desk.on("trouble", (error) => { notice(error.message, [], { stays: true }); alarm(error.message); });
  }

  key(event) {
    if (!(event.ctrlKey || event.metaKey) || event.altKey || byId("question").open) return;
    const key = event.key.toLowerCase();
    const isTyping = event.target.matches?.("input[type=text], input[type=search]") && (!event.target.matches(".value") || event.target.dataset.typed);
    if (key === "s") this.save(null);
    else if (isTyping) return;
    else if (key === "z") this.step(event.shiftKey ? "redo" : "undo");
    else if (key === "y") this.step("redo");
    else return;
    event.preventDefault();
  }

  // Presses that come while a step is under way wait for it: each looks at what there is to take back then.
  step(which) {
    this.steps = this.steps.then(async () => {
      await this.desk.settled();
      const words = this.desk.state[which];
      if (!words) return;
      await this.desk.act(which).then(() => say(`${which === "undo" ? "Taken back" : "Done again"}: ${words}`), (error) => alarm(error.message));
    });
  }

  update(cause) {
    const { file, based_on, prototype, edits, dirty, undo, redo, disk } = this.desk.state;
    const count = edits.length === 1 ? "1 change" : `${edits.length} changes`;
    const origin = [based_on ? `based on ${based_on}` : "", prototype ? `beside ${prototype.title}` : ""].filter(Boolean).join(", ");
    const words = `${file} · ${dirty ? `${count} not saved` : "saved"}`;
    if (byId("file").textContent !== `${words} · ${origin}`) byId("file").replaceChildren(words, element("span", {}, origin ? ` · ${origin}` : ""));
    document.title = `${dirty ? "• " : ""}${this.desk.state.title}, ${file}`;
    for (const [which, words, verb] of [["undo", undo, "Undo"], ["redo", redo, "Redo"]]) {
      if (!words && document.activeElement === byId(which)) byId("file").focus();
      byId(which).disabled = !words;
      byId(which).title = words ? `${verb} ${words}` : `Nothing to ${which}`;
      byId(which).setAttribute("aria-label", words ? `${verb} ${words}` : verb);
    }
    if (cause === "elsewhere") notice("The design was changed in another tab; this is how it stands now.");
    if (disk !== "same" && this.disk !== disk) this.tellDisk(disk, file);
    this.disk = disk;
  }

  tellDisk(disk, file) {
    const words = disk === "gone" ? `${file} is no longer on the disk. Saving writes it again.` : `${file} was changed on the disk since it was read here.`;
    notice(words, disk === "gone" ? [] : [["Read it again", () => this.readAgain()], ["Save this under another name", () => this.saveAs()]], { stays: true });
  }

  async readAgain() {
    if (this.desk.state.dirty && await question("Read the file again?", [element("p", {}, "The changes that are not saved are dropped.")], [["Read it again", true]]) === null) return;
    await this.desk.act("reload").then(() => say("The file was read again"), (error) => notice(error.message));
  }

  async save(as, replace = false) {
    try {
      const { file } = await this.desk.act("save", { as, replace });
      notice(`Saved as ${as || file}.`);
      say(`Saved as ${as || file}`);
    } catch (error) {
      if (error instanceof Refusal && error.kind === "changed on disk") await this.conflict(as);
      else if (error instanceof Refusal && error.kind === "exists") await this.exists(as, error);
      else if (!(error instanceof Refusal && error.kind === "revision")) { notice(error.message); alarm(error.message); }
    }
  }

  async conflict(as) {
    const { file, edits } = this.desk.state;
    const answer = await question(`${file} was changed on the disk`, [
      element("p", {}, "Somebody else, or an editor, wrote it since it was read here. Nothing has been written over. Your changes:"),
      element("ul", {}, ...edits.map((edit) => element("li", {}, edit.words || edit.key))),
    ], [["Save mine under another name …", "as"], ["Read the file, drop mine", "reload"], ["Write mine over it", "replace"]]);
    if (answer === "as") await this.saveAs();
    if (answer === "reload") await this.desk.act("reload").then(() => say("The file was read again"), (error) => notice(error.message));
    if (answer === "replace") await this.save(as, true);
  }

  async exists(as, error) {
    if (await question(`${as} is there already`, [element("p", {}, error.message)], [["Choose another name …", "as"], ["Write over it", "replace"]]).then(async (answer) => {
      if (answer === "as") await this.saveAs();
      return answer === "replace";
    })) await this.save(as, true);
  }

  async saveAs() {
    const stem = this.desk.state.file.replace(/\.toml$/, "");
    const input = element("input", { id: "as-name", type: "text", value: `${stem}-2.toml`, required: true, maxlength: "80", pattern: "[^\\\\\\/]+", title: "a plain file name; it goes beside the config", autocomplete: "off", spellcheck: "false" });
    const answer = await question("Save under another name", [element("label", { for: "as-name" }, "File name, in the same folder"), input], [["Save", () => input.value.trim()]]);
    if (answer) await this.save(answer.endsWith(".toml") ? answer : `${answer}.toml`);
  }
}
