// The sheet "Make": everything the commands write, with its progress, a stop, and links to the files.

import { api } from "./api.js";
import { alarm, button, element, notice, say, write } from "./dom.js";
import { Range } from "./range.js";
import { inWords } from "./settings.js";
import { ANSWER, Solving } from "./solving.js";

const LOOK_AGAIN_MS = 700;

const KINDS = [
  ["templates", "Cutting templates", "full size: pages to print, DXF, SVG, shopping list"],
  ["study", "Study", "report with weights, findings, pictures"],
  ["weigh", "Weight statement", "every part and its mass"],
  ["check", "Findings", "all of them, with remedies"],
  ["compare", "Comparison", "with the prototype, part by part"],
  ["balance", "Balance", "where each battery may sit, with its chart"],
  ["flight", "Flight estimates", "how slowly, how steadily, on what power; with charts"],
  ["picture", "Picture", "with dimensions, to print"],
  ["turnable", "Turnable model", "one page that opens anywhere"],
  ["step", "STEP", "one named solid a part"],
  ["stl", "STL", "one mesh"],
  ["glb", "GLB", "the model for other viewers"],
  ["solve", "Find the value", "of one dimension that mends a finding; written as a redesign too", "Find"],
  ["sweep", "Sweep", "one dimension through a range: table and plot"],
  ["sensitivity", "What moves what", "tip-over, mass and balance a centimetre, a gram; with a chart"],
];

const TRIED = /^variant (\d+):.*/; // how the command tells how far it is
const STATES = { running: "being made", done: "done", failed: "did not work", stopped: "stopped" };

export class Jobs {
  constructor(desk, drawer) {
    this.desk = desk;
    this.drawer = drawer;
    this.timer = null;
    this.known = new Map();
    this.running = 0;
    this.solving = new Solving(desk);
    this.rows = new Map(KINDS.map(([what, ...words]) => [what, this.row(what, ...words)]));
    this.intro = element("p", { class: "detail" });
    const rows = [...this.rows.values()].map((row) => row.node);
    drawer.fill("Make", this.intro, element("ul", { class: "jobs" }, ...rows));
    drawer.onOpen = () => { this.update(); this.look(); };
    desk.on("state", () => this.update());
    desk.on("slow", () => this.update());
  }

  row(what, words, detail, verb = "Make") {
    const options = this.options(what);
    const state = element("span", { class: "job-state" });
    const more = element("p", { class: "job-line" });
    const files = element("ul", { class: "files" });
    const go = button(verb, () => this.start(what, words, options), { "aria-label": `${verb}: ${words}` });
    const stop = button("Stop", () => this.stop(what), { hidden: true, "aria-label": `Stop: ${words}` });
    const name = element("div", { class: "job-name" }, element("b", {}, words), " ", element("small", {}, detail));
    const row = element("div", { class: "row" }, name, options?.node, state, stop, go);
    const node = element("li", { "data-what": what }, row, more, options?.answer, files);
    return { node, go, stop, state, more, files, words, what, options };
  }

  options(what) {
    if (what === "templates") return choice("Paper", "paper", ["a4", "a3", "letter", "plot"]);
    if (what === "picture") return choice("Seen from", "view", ["three-quarter", "side", "front", "top", "sheet"]);
    if (what === "sweep") return this.sweepOptions();
    return what === "solve" ? this.solving : null;
  }

  sweepOptions() {
    this.swept = new Range(this.desk, "Dimension to vary");
    const steps = { type: "number", min: "2", max: "200", value: "11", "aria-label": "How many steps" };
    const count = element("input", steps);
    const { swept } = this;
    const { key, from, to } = swept;
    const node = element("div", { class: "row ranged" }, key, from, "to", to, "in", count, "steps");
    return { node, read: () => ({ axes: [`${key.value}=${swept.ends.join(":")}:${count.value}`] }) };
  }

  update() {
    if (!this.drawer.isOpen) return;
    const { state } = this.desk;
    const unsaved = state.dirty ? ", changes and all, though they are not saved" : "";
    write(this.intro, `Made from what is on the bench${unsaved}. The page stays usable meanwhile.`);
    this.rows.get("compare").node.hidden = !state.prototype;
    this.swept.list();
    this.solving.update();
    this.rows.get("solve").go.disabled = !this.solving.isReady || this.known.get("solve")?.state === "running";
  }

  open(row) {
    this.drawer.toggle(true);
    row.node.scrollIntoView({ block: "nearest" });
  }

  // From a finding that no remedy mends.
  seek(code) {
    this.open(this.rows.get("solve"));
    this.solving.choose(code);
  }

  async start(what, words, options) {
    const { revision } = this.desk.state;
    const row = this.rows.get(what);
    try {
      await api.start({ revision, what, options: options ? options.read() : {} });
      say(`${words}: being made`);
      await this.look();
    } catch (error) {
      write(row.more, error.message);
      row.node.className = "failed refused";
      alarm(`${words}: ${error.message}`);
      if (error.kind === "revision") this.desk.glance();
    }
  }

  async stop(what) {
    const job = this.known.get(what);
    if (job) await api.stop(job.id).catch((error) => alarm(error.message));
    await this.look();
  }

  async look() {
    clearTimeout(this.timer);
    let jobs;
    try {
      jobs = await api.jobs();
    } catch {
      this.timer = setTimeout(() => this.look(), 5 * LOOK_AGAIN_MS);
      return;
    }
    for (const job of jobs) this.show(job);
    const running = jobs.filter((job) => job.state === "running").length;
    if (running < this.running) this.forgive();
    this.running = running;
    if (running) this.timer = setTimeout(() => this.look(), LOOK_AGAIN_MS);
  }

  // What was refused because others were being made may be asked for again.
  forgive() {
    for (const { node, more } of this.rows.values()) {
      if (!node.classList.contains("refused")) continue;
      node.className = "";
      write(more, "");
    }
  }

  show(job) {
    const row = this.rows.get(job.what);
    if (!row) return;
    const before = this.known.get(job.what);
    this.known.set(job.what, job);
    const isRunning = job.state === "running";
    row.node.className = job.state;
    const hadFocus = [row.go, row.stop].includes(document.activeElement);
    row.go.disabled = isRunning || (job.what === "solve" && !this.solving.isReady);
    row.stop.hidden = !isRunning;
    if (hadFocus) (isRunning ? row.stop : row.go).focus();
    write(row.state, isRunning ? `${Math.round(job.seconds)} s` : `${STATES[job.state]}, ${job.seconds.toFixed(0)} s`);
    write(row.more, isRunning ? job.line.replace(TRIED, "$1 values tried") : inWords(job.error || "", this.desk.fields));
    row.node.title = job.command;
    if (before?.state === job.state && before.id === job.id && before.files.length === job.files.length) return;
    row.files.replaceChildren(...job.files.filter(({ name }) => !name.endsWith(ANSWER)).map(link));
    row.options?.hear?.(job);
    if (isRunning || before?.state !== "running") return;
    const words = `${row.words}: ${STATES[job.state]}`;
    say(words);
    if (!this.drawer.isOpen) notice(`${words}.`, [["Show", () => this.open(row)]], { stays: false });
  }
}

function link({ url, name, bytes }) {
  return element("li", {}, element("a", { href: url, target: "_blank", rel: "noreferrer" }, name), ` ${size(bytes)}`);
}

function choice(words, name, values) {
  const options = values.map((value) => element("option", { value }, value));
  const select = element("select", { "aria-label": words }, ...options);
  return { node: select, read: () => ({ [name]: select.value }) };
}

function size(bytes) {
  return bytes < 1e3 ? `${bytes} B` : bytes < 1e6 ? `${(bytes / 1e3).toFixed(0)} kB` : `${(bytes / 1e6).toFixed(1)} MB`;
}
