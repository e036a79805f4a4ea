// Making elements, saying things aloud, asking one question: what every other module of the page leans on.

export const byId = (id) => document.getElementById(id);

// element("button", {type: "button", class: "x", "aria-label": "y", onclick: f, disabled: true}, "text", child, ...)
export function element(tag, attributes = {}, ...children) {
  const made = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (value === null || value === undefined || value === false) continue;
    if (name.startsWith("on")) made.addEventListener(name.slice(2), value);
    else if (value === true) made.setAttribute(name, "");
    else made.setAttribute(name, value);
  }
  made.append(...children.filter((child) => child !== null && child !== undefined && child !== ""));
  return made;
}

export function button(words, act, attributes = {}) {
  return element("button", { type: "button", onclick: act, ...attributes }, words);
}

// What is wrong, both for the eye and the ear; of another tab's changes the page has told already.
export function complain(error) {
  if (error.kind === "revision") return;
  notice(error.message);
  alarm(error.message);
}

// Texts that change in place keep focus, scroll and the screen reader's place; equal text touches nothing.
export function write(target, text) {
  if (target.textContent !== text) target.textContent = text;
}

export function say(text) {
  byId("spoken").textContent = text;
}

export function alarm(text) {
  byId("alarm").textContent = text;
}

let fading = null;

// A line over the sheet: something the builder should know, with what can be done about it.
export function notice(text, actions = [], { stays = actions.length > 0 } = {}) {
  const box = byId("notice");
  clearTimeout(fading);
  const close = () => { box.hidden = true; };
  const offers = actions.map(([words, act]) => button(words, () => { close(); act(); }));
  box.replaceChildren(element("p", {}, text), ...offers, button("✕", close, { class: "plain", "aria-label": "Dismiss" }));
  box.hidden = false;
  if (!stays) fading = setTimeout(() => { box.hidden = true; }, 9000);
}

// One question at a time. answers: [[words, value], ...]; resolves with the value, null when it is closed.
export function question(title, contents, answers) {
  const dialog = byId("question");
  if (dialog.open) return Promise.resolve(null);
  return new Promise((resolve) => {
    let answer = null;
    const form = element("form", { method: "dialog" }, element("h2", { id: "question-title" }, title), ...contents);
    const row = element("div", { class: "answers" });
    answers.forEach(([words, value], number) => row.append(element("button", {
      type: number === 0 ? "submit" : "button", class: number === 0 ? "main" : null,
      onclick: (event) => { event.preventDefault(); if (form.reportValidity()) { answer = value; dialog.close(); } },
    }, words)));
    row.append(button("Leave it as it is", () => dialog.close(), { class: "plain" }));
    form.append(row);
    dialog.replaceChildren(form);
    dialog.addEventListener("close", () => resolve(typeof answer === "function" ? answer() : answer), { once: true });
    dialog.showModal();
  });
}
