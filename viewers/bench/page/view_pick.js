/** Which part is meant by a spot on the paper. */

import { nearest } from "./view_near.js";

/** `pick(x, y, reach)` -> the part's name, or null where there is none within `reach` pixels. */
export function createPick(parts, section, eye) {
  const ray = new THREE.Raycaster();

  /** The parts under the spot, the foremost first, without what has been cut away. */
  function under(x, y) {
    const spot = new THREE.Vector2((2 * x) / eye.size.width - 1, 1 - (2 * y) / eye.size.height);
    ray.setFromCamera(spot, eye.camera);
    return ray.intersectObjects(parts.solids(), false)
      .map((hit) => ({ part: hit.object.userData.part, point: hit.point }))
      .filter(({ part, point }) => !section.isGone(part, point)).map(({ part }) => part);
  }

  /** What is near the spot, for want of something under it. */
  function beside(x, y, reach, isMeant) {
    const candidates = parts.solids().map((solid) => solid.userData.part).filter(isMeant);
    return nearest(candidates, eye, [x, y], reach, section.floorOf);
  }

  /** Seen through, what is inside comes before the skin over it. */
  function pick(x, y, reach) {
    const found = under(x, y);
    const isInside = (part) => !part.data.skin;
    const inside = parts.state.isXray ? found.find(isInside) || beside(x, y, reach, isInside) : null;
    const part = inside || found[0] || beside(x, y, reach, () => true);
    return part ? part.data.name : null;
  }

  return pick;
}
