// Saving without ever writing over what was not seen, undo and redo, and what is said when file or tabs moved on.

import { Refusal } from "./api.js";
import { alarm, byId, complain, element, notice, question, say, write } from "./dom.js";
import { askWeighed, askWhere } from "./saving_as.js";

const is = (error, kind) => error instanceof Refusal && error.kind === kind;

export class Saving {
  constructor(desk) {
    this.desk = desk;
    this.steps = Promise.resolve();
    byId("undo").addEventListener("click", () => this.step("undo"));
    byId("redo").addEventListener("click", () => this.step("redo"));
    byId("save").addEventListener("click", () => this.saveHere());
    byId("save-as").addEventListener("click", () => this.saveAs());
    document.addEventListener("keydown", (event) => this.key(event));
    window.addEventListener("beforeunload", (event) => { if (desk.state?.dirty) event.preventDefault(); });
    window.addEventListener("focus", () => desk.glance());
    document.addEventListener("visibilitychange", () => { if (!document.hidden) desk.glance(); });
    desk.on("state", ({ cause }) => this.update(cause));
    desk.on("trouble", (error) => this.tellTrouble(error));
  }

  // A bench that is gone takes what was not saved with it: the page can still show it, to be noted down.
  tellTrouble(error) {
    const versions = byId("open-versions");
    const show = () => { if (versions.getAttribute("aria-expanded") !== "true") versions.click(); };
    notice(error.message, this.desk.state?.dirty ? [["Show what is not saved", show]] : [], { stays: true });
    alarm(error.message);
  }

  // What is being typed is undone by the browser; what was sent, by the bench.
  key(event) {
    if (!(event.ctrlKey || event.metaKey) || event.altKey || byId("question").open) return;
    const { target } = event;
    const isText = target.matches?.("input[type=text], input[type=search]") || false;
    const isTyping = isText && (!target.matches(".value") || target.dataset.typed);
    const key = event.key.toLowerCase();
    if (key === "s") this.saveHere();
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
      if (words) await this.act(which, `${which === "undo" ? "Taken back" : "Done again"}: ${words}`);
    });
  }

  act(name, words) {
    return this.desk.act(name).then(() => say(words), complain);
  }

  update(cause) {
    this.tellFile();
    this.tellSteps();
    if (cause === "elsewhere") notice("The design was changed in another tab; this is how it stands now.");
    const { disk } = this.desk.state;
    if (disk !== "same" && this.disk !== disk) this.tellDisk();
    this.disk = disk;
  }

  tellFile() {
    const { title, file, based_on, prototype, edits, dirty } = this.desk.state;
    const count = edits.length === 1 ? "1 change" : `${edits.length} changes`;
    const words = `${file} · ${dirty ? `${count} not saved` : "saved"}`;
    const origin = [based_on && `based on ${based_on}`, prototype && `beside ${prototype.title}`].filter(Boolean).join(", ");
    const rest = origin ? ` · ${origin}` : "";
    if (byId("file").textContent !== words + rest) byId("file").replaceChildren(words, element("span", {}, rest));
    document.title = `${dirty ? "• " : ""}${title}, ${file}`;
  }

  tellSteps() {
    for (const [which, verb] of [["undo", "Undo"], ["redo", "Redo"]]) {
      const words = this.desk.state[which];
      const button = byId(which);
      if (!words && document.activeElement === button) byId("file").focus();
      button.disabled = !words;
      button.title = words ? `${verb} ${words}` : `Nothing to ${which}`;
      button.setAttribute("aria-label", words ? `${verb} ${words}` : verb);
    }
  }

  tellDisk() {
    const { disk, file } = this.desk.state;
    if (disk === "gone") {
      notice(`${file} is no longer on the disk. Saving writes it again.`, [], { stays: true });
      return;
    }
    const again = ["Read it again", () => this.readAgain()];
    const other = ["Save this under another name", () => this.saveAs()];
    notice(`${file} was changed on the disk since it was read here.`, [again, other]);
  }

  async readAgain() {
    const text = element("p", {}, "The changes that are not saved are dropped, and so is what Undo would take back.");
    const isSure = !this.desk.state.dirty || await question("Read the file again?", [text], [["Read it again", true]]);
    if (isSure) await this.act("reload", "The file was read again");
  }

  // The log of an aeroplane that was weighed speaks of it as it was: a redesign is proposed first.
  async saveHere() {
    await this.desk.settled();
    const { state } = this.desk;
    const answer = state.remarks?.length ? await askWeighed(state) : "same";
    if (answer === "as") await this.saveAs(true);
    if (answer === "same") await this.save(null);
  }

  async save(as, { replace = false, redesign = null } = {}) {
    try {
      const isWeighed = this.desk.state.remarks?.length > 0;
      const { file, based_on } = await this.desk.act("save", { as, replace, redesign });
      const words = redesign ? `Saved as ${file}, a redesign of ${based_on}.` : `Saved as ${as || file}.`;
      notice(redesign && isWeighed ? `${words} Nothing of it is weighed yet, so its numbers are predicted anew.` : words);
      say(words);
    } catch (error) {
      if (is(error, "changed on disk")) await this.conflict(as);
      else if (is(error, "exists")) await this.exists(as, redesign, error);
      else if (!is(error, "revision")) complain(error);
    }
  }

  async conflict(as) {
    const { file, edits } = this.desk.state;
    const contents = [
      element("p", {}, "An editor, or another program, wrote it since it was read here; nothing is written over. Your changes:"),
      element("ul", {}, ...edits.map((edit) => element("li", {}, edit.words || edit.key))),
    ];
    const answers = [
      ["Save mine under another name …", "as"],
      ["Read the file, drop mine", "reload"],
      ["Write mine over it", "replace"],
    ];
    const answer = await question(`${file} was changed on the disk`, contents, answers);
    if (answer === "as") await this.saveAs();
    if (answer === "reload") await this.act("reload", "The file was read again");
    if (answer === "replace") await this.save(as, { replace: true });
  }

  async exists(as, redesign, error) {
    const answers = [["Choose another name …", "as"], ["Write over it", "replace"]];
    const answer = await question(`${as} is there already`, [element("p", {}, error.message)], answers);
    if (answer === "as") await this.saveAs();
    if (answer === "replace") await this.save(as, { replace: true, redesign });
  }

  async saveAs(isTold = false) {
    await this.desk.settled();
    const answer = await askWhere(this.desk.state, isTold);
    if (answer) await this.save(answer.as, { redesign: answer.redesign });
  }
}
