// The sheet "Make": everything the commands write, with its progress, a stop, and links to the files.

import { api } from "./api.js";
import { alarm, button, element, notice, say, write } from "./dom.js";

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
  ["sweep", "Sweep", "one dimension through a range: table and plot"],
  ["sensitivity", "What moves what", "tip-over, mass and balance a centimetre, a gram; with a chart"],
];

const STATES = { running: "being made", done: "done", failed: "did not work", stopped: "stopped" };

export class Jobs {
  constructor(desk, drawer) {
    this.desk = desk;
    this.drawer = drawer;
    this.timer = null;
    this.known = new Map();
    this.rows = new Map(KINDS.map(([what, words, detail]) => [what, this.row(what, words, detail)]));
    this.intro = element("p", { class: "detail" });
    const rows = [...this.rows.values()].map((row) => row.node);
    drawer.fill("Make", this.intro, element("ul", { class: "jobs" }, ...rows));
    drawer.onOpen = () => { this.update(); this.look(); };
    desk.on("state", () => this.update());
  }

  row(what, words, detail) {
    const options = this.options(what);
    const state = element("span", { class: "job-state" });
    const more = element("p", { class: "job-line" });
    const files = element("ul", { class: "files" });
    const go = button("Make", () => this.start(what, words, options), { "aria-label": `Make: ${words}` });
    const stop = button("Stop", () => this.stop(what), { hidden: true, "aria-label": `Stop: ${words}` });
    const name = element("div", { class: "job-name" }, element("b", {}, words), " ", element("small", {}, detail));
    const row = element("div", { class: "row" }, name, options?.node, state, stop, go);
    const node = element("li", { "data-what": what }, row, more, files);
    return { node, go, stop, state, more, files, words, what };
  }

  options(what) {
    if (what === "templates") return choice("Paper", "paper", ["a4", "a3", "letter", "plot"]);
    if (what === "picture") return choice("Seen from", "view", ["three-quarter", "side", "front", "top", "sheet"]);
    if (what === "sweep") return this.sweepOptions();
    return null;
  }

  sweepOptions() {
    const key = element("select", { "aria-label": "Dimension to vary" });
    const [from, to] = ["From", "To"].map((words) => element("input", { type: "text", "aria-label": words }));
    const steps = { type: "number", min: "2", max: "200", value: "11", "aria-label": "How many steps" };
    const count = element("input", steps);
    const node = element("div", { class: "row sweep" }, key, from, "to", to, "in", count, "steps");
    key.addEventListener("change", () => this.bounds(key, from, to));
    this.sweep = { key, from, to };
    return { node, read: () => ({ axes: [`${key.value}=${from.value.trim()}:${to.value.trim()}:${count.value}`] }) };
  }

  bounds(key, from, to) {
    const field = this.desk.fields.get(key.value);
    if (!field) return;
    from.value = `${field.low} ${field.unit}`.trim();
    to.value = `${field.high} ${field.unit}`.trim();
  }

  update() {
    if (!this.drawer.isOpen) return;
    const { state } = this.desk;
    const unsaved = state.dirty ? ", changes and all, though they are not saved" : "";
    write(this.intro, `Made from what is on the bench${unsaved}. The page stays usable meanwhile.`);
    this.rows.get("compare").node.hidden = !state.prototype;
    const { key, from, to } = this.sweep;
    if (key.options.length) return;
    for (const { title, fields } of state.groups) {
      const numbers = fields.filter((field) => field.main && field.kind === "number");
      key.append(...numbers.map((field) => element("option", { value: field.key }, `${title}: ${field.label}`)));
    }
    if (this.desk.fields.has("gear.track")) key.value = "gear.track";
    this.bounds(key, from, to);
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
      row.node.className = "failed";
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
    if (jobs.some((job) => job.state === "running")) this.timer = setTimeout(() => this.look(), LOOK_AGAIN_MS);
  }

  show(job) {
    const row = this.rows.get(job.what);
    if (!row) return;
    const before = this.known.get(job.what);
    this.known.set(job.what, job);
    const isRunning = job.state === "running";
    row.node.className = job.state;
    const hadFocus = [row.go, row.stop].includes(document.activeElement);
    row.go.disabled = isRunning;
    row.stop.hidden = !isRunning;
    if (hadFocus) (isRunning ? row.stop : row.go).focus();
    write(row.state, isRunning ? `${Math.round(job.seconds)} s` : `${STATES[job.state]}, ${job.seconds.toFixed(0)} s`);
    write(row.more, isRunning ? job.line : job.error || "");
    row.node.title = job.command;
    if (before?.state === job.state && before.id === job.id && before.files.length === job.files.length) return;
    row.files.replaceChildren(...job.files.map(link));
    if (isRunning || before?.state !== "running") return;
    const words = `${row.words}: ${STATES[job.state]}`;
    say(words);
    if (!this.drawer.isOpen) notice(`${words}.`, [["Show", () => this.drawer.toggle(true)]], { stays: false });
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
