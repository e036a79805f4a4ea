/** Dimension lines: each stands clear of the model on the side where it is seen best, with arrowheads and its figure. */

import { reachOver } from "./view_hull.js";
import { arrow, LINE_PX, polyline } from "./view_pen.js";

const GAP_PX = 20; // from the model to the first dimension line
const ROW_PX = 24; // from one dimension line to the next beyond it
const SHORT_PX = 26; // a shorter one has its arrowheads outside
const SLANTED = 0.8; // seen at less than this of its length, a dimension is left to another view
const SQUARE = 0.97; // seen at more, it stands clear of the model altogether; else it would run off the paper
const SLANTED_PX = 24; // what a slanted one stands off its feet, over the gap
export const BALANCE = "balance";
const AXES = [[1, 0, 0], [-1, 0, 0], [0, 1, 0], [0, -1, 0], [0, 0, 1], [0, 0, -1]];

/** The dimensions that are seen well enough from here, each with the line it gets on the paper. */
export function layDimensions(eye, scene) {
  const outline = eye.outline();
  const laid = scene.dimensions.map((dimension) => laidOut(dimension, eye, outline)).filter(Boolean);
  laid.sort((a, b) => a.length - b.length);
  laid.forEach((item, number) => {
    item.row = 0;
    while (laid.slice(0, number).some((other) => clash(item, other))) item.row += 1;
    const gap = GAP_PX + item.row * ROW_PX;
    item.tips = item.ends.map((end, k) => end.map((value, axis) => value + item.best.out[axis] * (item.best.lengths[k] + gap)));
  });
  return laid;
}

/** What they take of the paper: [x, y] points. */
export function roomOf(pen, laid) {
  return laid.flatMap(({ tips, way, text, best }) => {
    const beside = isUpright(way) ? pen.width(text) + 12 : 0;
    const middle = [0, 1].map((k) => (tips[0][k] + tips[1][k]) / 2 + best.out[k] * beside);
    return [...tips.flatMap(([x, y]) => [[x, y - LINE_PX], [x, y + LINE_PX]]), middle];
  });
}

export function drawDimensions(pen, eye, laid) {
  laid.forEach((item) => draw(pen, eye, item));
}

/** Where a dimension's line goes on the paper, or null for one that is seen end on. */
function laidOut(dimension, eye, outline) {
  const { feet, outward } = read(dimension);
  const along = eye.slant(dimension.along);
  const full = Math.hypot(...along) / eye.scale();
  if (full < (dimension.name === BALANCE ? SQUARE : SLANTED)) return null;
  const way = along.map((value) => value / Math.hypot(...along));
  const ends = feet.map((foot) => eye.project(foot));
  const sides = AXES.filter((axis) => Math.abs(dot(axis, dimension.along)) < 0.5);
  const found = sides.map((axis) => (full < SQUARE ? slantedSide : squareSide)(axis, outward, way, ends, eye, outline)).filter(Boolean);
  if (found.length === 0) return null;
  const best = found.reduce((a, b) => (b.cost < a.cost ? b : a));
  const spread = (ends[1][0] - ends[0][0]) * way[0] + (ends[1][1] - ends[0][1]) * way[1];
  return { text: dimension.text, name: dimension.name, way, ends, best, length: Math.abs(spread) };
}

/** The two points measured and the way the scene's own dimension line stands off. */
function read({ segments, along }) {
  const line = segments[segments.length - 1];
  const feet = segments.length >= 3 ? [segments[0][0], segments[1][0]] : line;
  const off = feet[0].map((value, k) => line[0][k] - value);
  const along0 = dot(off, along);
  const outward = off.map((value, k) => value - along0 * along[k]);
  const size = Math.hypot(...outward) || 1;
  return { feet, outward: outward.map((value) => value / size) };
}

/** How a dimension would stand clear of the outline along one axis: its cost rises with long or slanting extension lines. */
function squareSide(axis, outward, way, ends, eye, outline) {
  const found = direction(axis, way, eye);
  if (!found) return null;
  const { normal, across } = found;
  const [from, to] = ends.map((end) => dot2(end, way)).sort((a, b) => a - b);
  const heights = ends.map((end) => dot2(end, normal));
  const clear = Math.max(reachOver(outline, way, normal, from, to), ...heights);
  const lengths = heights.map((height) => (clear - height) / across);
  return { ...found, axis, lengths, cost: lengths[0] + lengths[1] + 150 * (1 - across) - 60 * dot(axis, outward) };
}

/** One seen slantwise stands just off its feet, away from the middle of the outline. */
function slantedSide(axis, outward, way, ends, eye, outline) {
  const found = direction(axis, way, eye);
  if (!found) return null;
  const reaches = [0, 1].map((k) => outline.map((point) => point[k]));
  const middle = reaches.map((reach) => (Math.min(...reach) + Math.max(...reach)) / 2);
  const off = [0, 1].map((k) => (ends[0][k] + ends[1][k]) / 2 - middle[k]);
  const heights = ends.map((end) => dot2(end, found.normal));
  const lengths = heights.map((height) => (Math.max(...heights) + SLANTED_PX - height) / found.across);
  return { ...found, axis, lengths, cost: 150 * (1 - found.across) - (60 * dot2(found.out, off)) / (Math.hypot(...off) || 1) };
}

/** An axis on the paper beside a dimension that runs along `way`, or null if the two are nearly one. */
function direction(axis, way, eye) {
  const slant = eye.slant(axis);
  const size = Math.hypot(...slant);
  if (size < 0.25 * eye.scale()) return null;
  const out = slant.map((value) => value / size);
  const across = out[0] * way[1] - out[1] * way[0];
  const normal = across > 0 ? [way[1], -way[0]] : [-way[1], way[0]];
  return Math.abs(across) < 0.35 ? null : { out, normal, across: Math.abs(across) };
}

function clash(a, b) {
  if (a.row !== b.row || a.best.axis !== b.best.axis || Math.abs(a.way[0] * b.way[1] - a.way[1] * b.way[0]) > 0.1) return false;
  const span = (item) => item.ends.map((end) => end[0] * a.way[0] + end[1] * a.way[1]).sort((p, q) => p - q);
  const [[a0, a1], [b0, b1]] = [span(a), span(b)];
  return a0 < b1 + 60 && b0 < a1 + 60;
}

function draw(pen, eye, { text, name, way, ends, best, tips, length }) {
  ends.forEach((end, k) => {
    const from = end.map((value, axis) => value + best.out[axis] * 4);
    const to = tips[k].map((value, axis) => value + best.out[axis] * 5);
    pen.path("view-extension", polyline([from, to]));
  });
  const ahead = (tips[1][0] - tips[0][0]) * way[0] + (tips[1][1] - tips[0][1]) * way[1] < 0 ? way.map((value) => -value) : way;
  const back = ahead.map((value) => -value);
  const step = (point, direction, by) => point.map((value, k) => value + direction[k] * by);
  const figure = `view-figure view-of-${name === BALANCE ? "balance" : "size"}`;
  if (length < SHORT_PX) {
    pen.path("view-dimension", polyline([step(tips[0], back, 20), step(tips[1], ahead, 20)]));
    pen.path("view-arrow", arrow(tips[0], ahead) + arrow(tips[1], back), pen.marks);
  } else {
    pen.path("view-dimension", polyline(tips));
    pen.path("view-arrow", arrow(tips[0], back) + arrow(tips[1], ahead), pen.marks);
  }
  pen.letter(figure, text, places(pen, tips, ahead, best.out, text, length), eye.size);
  pen.keepLine(...tips);
}

/** Where the figure may stand: on the line if it fits there, else beside it, the nearest first. */
function places(pen, tips, ahead, out, text, length) {
  const half = pen.width(text) / 2;
  const reach = Math.abs(ahead[0]) * half + Math.abs(ahead[1]) * (LINE_PX / 2) + 14;
  const middle = [0, 1].map((k) => (tips[0][k] + tips[1][k]) / 2);
  const at = (point, along, away) => [0, 1].map((k) => point[k] + ahead[k] * along + out[k] * away);
  const beyond = [at(tips[1], reach + 12, 0), at(tips[0], -reach - 12, 0)];
  const on = [0, 0.22, -0.22, 0.36, -0.36].map((share) => at(middle, share * length, 0));
  const away = Math.abs(out[0]) * half + Math.abs(out[1]) * (LINE_PX / 2) + 6;
  const beside = [0, 0.2, -0.2, 0.35, -0.35].map((share) => at(middle, share * length, away));
  if (isUpright(ahead)) return [...beside, ...beyond];
  return length > 2 * reach ? [...on, ...beside, ...beyond] : [...beside, ...beyond];
}

const isUpright = (way) => Math.abs(way[0]) < 0.5;

const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

const dot2 = (a, b) => a[0] * b[0] + a[1] * b[1];
