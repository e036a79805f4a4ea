// Stands in for the drawing: draws nothing, and notes what it is told.
export function createView(host, hands) {
  const told = { shows: 0, calls: [] };
  window.stub = { told, hands };
  host.append(document.createElement("canvas"));
  const view = { show: async () => { told.shows += 1; }, stats: () => told, dispose() {} };
  const names = ["setGhost", "setGhostShown", "setHidden", "setXray", "setSection", "setExplode", "look", "select"];
  for (const name of [...names, "setBands", "setTheme"]) view[name] = (...values) => { told.calls.push([name, ...values]); };
  return view;
}
