// What the page asks of its server: one function a request, errors as Refusal with the server's own sentence.

const BASE = new URL("../api/", import.meta.url);

export class Refusal extends Error {
  constructor(status, body) {
    super(body.error || "The bench did not understand that.");
    this.status = status;
    this.body = body;
    this.kind = body.kind || null;
  }
}

export class Unreachable extends Error {
  constructor() {
    super("The bench does not answer. Is the command still running in its terminal?");
  }
}

async function ask(path, options = {}) {
  let answer;
  try {
    answer = await fetch(new URL(path, BASE), { cache: "no-store", credentials: "omit", ...options });
  } catch (error) {
    if (error.name === "AbortError") throw error;
    throw new Unreachable();
  }
  if (answer.ok) return answer;
  const body = await answer.json().catch(() => ({}));
  throw new Refusal(answer.status, body);
}

async function json(path, options) {
  return (await ask(path, options)).json();
}

function post(path, body) {
  return json(path, { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(body) });
}

export const api = {
  state: (system) => json(system ? `state?system=${system}` : "state"),
  change: (body) => post("change", body),
  undo: (body) => post("undo", body),
  redo: (body) => post("redo", body),
  reload: (body) => post("reload", body),
  keep: (body) => post("variants/keep", body),
  open: (body) => post("variants/open", body),
  forget: (body) => post("variants/forget", body),
  save: (body) => post("save", body),
  findings: (revision, system, tried, signal) => json(`findings?revision=${revision}&system=${system}&tried=${tried}`, { signal }),
  shapes: async (digests) => {
    const body = JSON.stringify({ digests });
    const answer = await ask("shapes", { method: "POST", headers: { "Content-Type": "application/json" }, body });
    return answer.arrayBuffer();
  },
  template: async (part) => (await ask(`template?part=${encodeURIComponent(part)}`)).text(),
  jobs: () => json("jobs"),
  start: (body) => post("jobs", body),
  stop: (id) => post(`jobs/${encodeURIComponent(id)}/stop`, {}),
  answer: (id, name) => json(`jobs/${encodeURIComponent(id)}/files/${encodeURIComponent(name)}`),
};
