// The page's copy of the state: sends changes one at a time with the newest value, and asks for the slow results after.

import { api, Refusal, Unreachable } from "./api.js";

const QUIET_MS = 500; // without a further change before the slow results are asked for: a drag must not wait for them
const MOST_WORDS = 200; // that the server takes of what a step is called

export class Desk extends EventTarget {
  constructor() {
    super();
    this.state = null;
    this.slow = null;
    this.fields = new Map();
    this.isStale = true;
    this.isTried = false;
    this.queue = [];
    this.isSending = false;
    this.quiet = null;
    this.polling = null;
    this.last = null;
  }

  tell(name, detail = null) {
    this.dispatchEvent(new CustomEvent(name, { detail }));
  }

  on(name, listener) {
    this.addEventListener(name, (event) => listener(event.detail));
  }

  get system() {
    return this.state.system;
  }

  async begin() {
    this.take(await api.state(null), "begin");
  }

  // Another system of units: a view only, the design stays as it is.
  async show(system) {
    await this.send({ run: () => api.state(system), cause: "system" });
  }

  // One change; changes of one stroke that wait are sent together, the last value of each key winning.
  change(settings, { stroke = null, words, cause = "change" }) {
    const last = this.queue[this.queue.length - 1];
    if (stroke && last && last.stroke === stroke) {
      for (const [key, line] of settings) last.settings.set(key, line);
      last.words = words;
      return last.promise;
    }
    const entry = { settings: new Map(settings), stroke, words, cause };
    entry.run = () => {
      const said = { settings: [...entry.settings.values()], stroke, words: entry.words.slice(0, MOST_WORDS) };
      return api.change({ ...this.signed(), ...said });
    };
    return this.send(entry);
  }

  act(name, body = {}) {
    return this.send({ run: () => api[name]({ ...this.signed(), ...body }), cause: name });
  }

  // When everything that was sent has been answered.
  async settled() {
    while (this.last) {
      const last = this.last;
      await last.catch(() => null);
      if (this.last === last) this.last = null;
    }
  }

  signed() {
    return { revision: this.state.revision, system: this.system };
  }

  send(entry) {
    entry.promise = new Promise((resolve, reject) => Object.assign(entry, { resolve, reject }));
    this.last = entry.promise;
    this.queue.push(entry);
    this.drain();
    return entry.promise;
  }

  async drain() {
    if (this.isSending) return;
    this.isSending = true;
    this.pause();
    while (this.queue.length) {
      const entry = this.queue.shift();
      try {
        this.take(await entry.run(), entry.cause);
        entry.resolve(this.state);
      } catch (error) {
        await this.cope(error, entry);
      }
    }
    this.isSending = false;
    this.soon();
  }

  async cope(error, entry) {
    if (error instanceof Refusal && error.kind === "revision") {
      this.queue.splice(0).forEach((waiting) => waiting.reject(error));
      await this.fetchAnew();
    } else if (error instanceof Unreachable) {
      this.tell("trouble", error);
    }
    entry.reject(error);
  }

  // The design was changed elsewhere (another tab, the file): what is on the screen is replaced, and that is said.
  async fetchAnew() {
    try {
      this.take(await api.state(this.system), "elsewhere");
    } catch (error) {
      this.tell("trouble", error);
    }
  }

  async glance() {
    if (this.isSending || !this.state) return;
    const seen = await api.state(this.system).catch(() => null);
    if (!seen || this.isSending || seen.revision < this.state.revision) return;
    if (seen.revision !== this.state.revision) this.take(seen, "elsewhere");
    else if (seen.disk !== this.state.disk) this.take(seen, "disk");
  }

  take(answer, cause) {
    const before = this.state;
    this.state = { ...before, ...answer };
    delete this.state.fields;
    if (answer.groups) this.fields = new Map(answer.groups.flatMap((group) => group.fields).map((field) => [field.key, field]));
    for (const field of answer.fields || []) Object.assign(this.fields.get(field.key) || {}, field);
    const isOther = !before || before.revision !== answer.revision || before.system !== this.state.system;
    if (isOther) Object.assign(this, { isStale: true, isTried: false });
    this.tell("state", { cause, isRebuilt: Boolean(answer.groups), isOther });
    if (isOther && !this.isSending) this.soon();
  }

  pause() {
    clearTimeout(this.quiet);
    if (this.polling) this.polling.abort();
    this.polling = null;
  }

  soon() {
    if (!this.isStale && this.isTried) return;
    this.pause();
    this.quiet = setTimeout(() => this.poll(), QUIET_MS);
  }

  // What is found comes first, with the bands and the estimates of flight; remedies follow once they were tried.
  async poll() {
    const polling = new AbortController();
    this.polling = polling;
    try {
      if (this.isStale) await this.hear(polling, false);
      if (!this.isStale && !this.isTried) await this.hear(polling, true);
    } catch (error) {
      if (polling.signal.aborted || this.polling !== polling) return;
      if (error instanceof Refusal && error.status === 409) await this.fetchAnew();
      else this.tell("unfinished", error);
    } finally {
      if (this.polling === polling) this.polling = null;
    }
  }

  async hear(polling, tried) {
    const slow = await api.findings(this.state.revision, this.system, tried, polling.signal);
    if (this.polling !== polling || slow.revision !== this.state.revision) return;
    Object.assign(this, { slow, isStale: false, isTried: slow.is_tried });
    this.tell("slow", slow);
  }
}
