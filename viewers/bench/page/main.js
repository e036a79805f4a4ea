// Puts the page together: the state, then everything that shows it.

import { Desk } from "./desk.js";
import { Dimensions } from "./dimensions.js";
import { byId, notice, alarm } from "./dom.js";
import { Drawer } from "./drawer.js";
import { Drawing } from "./drawing.js";
import { Findings } from "./findings.js";
import { Jobs } from "./jobs.js";
import { setUpLooks } from "./looks.js";
import { Numbers } from "./numbers.js";
import { setUpPrinting } from "./printing.js";
import { Saving } from "./saving.js";
import { Versions } from "./versions.js";

const desk = new Desk();
const drawing = new Drawing(desk);
setUpLooks(desk, drawing.view);
new Dimensions(desk, () => drawing.view);
new Numbers(desk);
new Findings(desk, (names) => drawing.point(names), (code) => jobs.seek(code));
new Saving(desk);
new Versions(desk, new Drawer("versions"));
const jobs = new Jobs(desk, new Drawer("make"));
setUpPrinting(desk, drawing);

try {
  await desk.begin();
  await drawing.shown;
  await jobs.look();
} catch (error) {
  notice(error.message, [["Try again", () => location.reload()]]);
  alarm(error.message);
}
byId("view").dataset.ready = "true";
window.bench = { desk, drawing };
