/** What lies nearest to a spot on the paper that nothing is drawn on: wires are thin and fingers are not. */

/** The one of `parts` drawn nearest to `spot`, within `reach` pixels of it; null if there is none. `floorOf(part)` is the
 *  butt line, mm, from which on the part is still there. */
export function nearest(parts, eye, spot, reach, floorOf) {
  let best = null;
  let least = reach * reach;
  for (const part of parts) {
    const { surface } = part.shape;
    if (!mayReach(surface.boundingSphere, part.group.matrix, eye, spot, Math.sqrt(least))) continue;
    const distance = squareTo(surface.attributes.position.array, rowsOf(part.group.matrix, eye, spot), floorOf(part), least);
    if (distance < least) [best, least] = [part, distance];
  }
  return best;
}

function mayReach(sphere, matrix, eye, spot, reach) {
  const [x, y] = eye.project(sphere.center.clone().applyMatrix4(matrix).toArray());
  return Math.hypot(x - spot[0], y - spot[1]) <= sphere.radius * eye.scale() + reach;
}

/** Three rows that turn a corner into pixels right of the spot, pixels below it, and its butt line. */
function rowsOf(matrix, eye, spot) {
  const e = matrix.elements;
  const at = (x, y, z) => [x, y, z].map((_, k) => e[k] * x + e[4 + k] * y + e[8 + k] * z + e[12 + k]);
  const origin = at(0, 0, 0);
  const zero = eye.project(origin);
  const ways = [at(1, 0, 0), at(0, 1, 0), at(0, 0, 1)].map((end) => end.map((value, k) => value - origin[k]));
  const slants = ways.map((way) => eye.slant(way));
  return [
    [...slants.map((slant) => slant[0]), zero[0] - spot[0]],
    [...slants.map((slant) => slant[1]), zero[1] - spot[1]],
    [...ways.map((way) => way[1]), origin[1]],
  ];
}

/** The least square of the distance from the spot to a triangle's side, or `least` if none is nearer. */
function squareTo(corners, rows, floor, least) {
  const placed = new Float64Array(9);
  for (let k = 0; k < corners.length; k += 9) {
    for (let c = 0; c < 9; c += 3) {
      for (let row = 0; row < 3; row += 1) {
        const [x, y, z, shift] = rows[row];
        placed[c + row] = x * corners[k + c] + y * corners[k + c + 1] + z * corners[k + c + 2] + shift;
      }
    }
    for (let c = 0; c < 9; c += 3) least = Math.min(least, toSide(placed, c, (c + 3) % 9, floor));
  }
  return least;
}

/** The square of the distance from the origin to what is left of a side above the floor. */
function toSide(placed, a, b, floor) {
  const [rise, height] = [placed[b + 2] - placed[a + 2], floor - placed[a + 2]];
  if (height > 0 && height > rise) return Infinity;
  const low = rise > 0 ? Math.max(0, height / rise) : 0;
  const high = rise < 0 ? Math.min(1, height / rise) : 1;
  const [u, v] = [placed[b] - placed[a], placed[b + 1] - placed[a + 1]];
  const share = -(placed[a] * u + placed[a + 1] * v) / (u * u + v * v || 1);
  const held = Math.max(low, Math.min(high, share));
  return (placed[a] + held * u) ** 2 + (placed[a + 1] + held * v) ** 2;
}
