/** The place that the drawing is given on the page: its style, and what stands there when nothing can be drawn. */

export const NO_PICTURE =
  "This browser cannot draw in 3D here (WebGL is off or missing). The numbers and findings beside it still follow every change.";
export const INTERRUPTED =
  "The drawing was interrupted by the graphics driver. It comes back by itself; if it does not, load the page again.";

/** Gives the host its style; resolves when that is there. */
export function dress(host) {
  host.classList.add("view-host");
  if (!host.hasAttribute("tabindex")) host.tabIndex = 0;
  const address = new URL("./view.css", import.meta.url).href;
  if ([...document.styleSheets].some((sheet) => sheet.href === address)) return Promise.resolve();
  const link = document.createElement("link");
  link.rel = "stylesheet";
  link.href = address;
  return new Promise((resolve) => {
    link.onload = link.onerror = resolve;
    document.head.append(link);
  });
}

export function note(host, words) {
  const made = document.createElement("p");
  made.className = "view-note";
  made.textContent = words;
  host.append(made);
  return made;
}

/** Stands in where nothing can be drawn, so that the page need not ask. */
export function noView() {
  const nothing = async () => false;
  const names = ["show", "setGhost", "setGhostShown", "setHidden", "setXray", "setSection", "setExplode", "look", "select", "setBands", "setTheme"];
  const view = Object.fromEntries(names.map((name) => [name, nothing]));
  return {
    ...view, project: () => [0, 0], refine: () => {}, dispose: () => {},
    stats: () => ({ frames: 0, triangles: 0, shapesHeld: 0, partsShown: 0, touched: 0, geometries: 0 }),
  };
}
