// Paper by day or by night, and metric or imperial: how the page is shown, never what the file says.

import { byId, notice } from "./dom.js";

const NAMES = { light: "Light paper", dark: "Dark paper" };
const dark = window.matchMedia("(prefers-color-scheme: dark)");

export function setUpLooks(desk, view) {
  let chosen = recall();
  const theme = () => chosen || (dark.matches ? "dark" : "light");
  const dress = () => {
    document.documentElement.dataset.theme = theme();
    const other = theme() === "dark" ? "light" : "dark";
    byId("theme").textContent = NAMES[other];
    byId("theme").title = `Now ${NAMES[theme()].toLowerCase()}`;
    view.setTheme(theme());
  };
  byId("theme").addEventListener("click", () => {
    chosen = theme() === "dark" ? "light" : "dark";
    remember(chosen);
    dress();
  });
  dark.addEventListener("change", dress);
  dress();

  byId("system").addEventListener("click", () => {
    desk.show(desk.system === "metric" ? "imperial" : "metric").catch((error) => notice(error.message));
  });
  desk.on("state", () => {
    const isMetric = desk.system === "metric";
    byId("system").textContent = isMetric ? "Inches" : "Millimetres";
    byId("system").title = `Now ${desk.system}; only what is shown changes, not the file`;
  });
}

function recall() {
  try {
    return localStorage.getItem("paper");
  } catch {
    return null;
  }
}

function remember(theme) {
  try {
    localStorage.setItem("paper", theme);
  } catch {
    // Storage is closed to pages in some browsers' private windows: then the choice lasts for this visit.
  }
}
