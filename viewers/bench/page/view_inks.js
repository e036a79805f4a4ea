/** The drawing's colours on light and on dark paper; each pair of ink and paper is readable in a bright shed. */

const LIGHT = {
  paper: "#f7f0e0",
  ink: "#2a2633",
  edge: "#2a2633",
  rim: "#2a2633",
  soft: "#6d6472",
  ground: "#8d8069",
  dimension: "#7a2e2a",
  balance: "#c0135e",
  contact: "#0b6e5f",
  disc: "#8a63b8",
  ghost: "#35598f",
  chosen: "#c0135e",
  hover: "#2d2208",
  hatch: "#2a2633",
};

const DARK = {
  paper: "#211e27",
  ink: "#f3ead8",
  edge: "#17141c",
  rim: "#cfc6bb",
  soft: "#bdb1a6",
  ground: "#8a7f8e",
  dimension: "#e7a79c",
  balance: "#ff7db0",
  contact: "#5fd3bd",
  disc: "#c3a6ea",
  ghost: "#9dc0ff",
  chosen: "#ff7db0",
  hover: "#2d2208",
  hatch: "#2a2633",
};

export const inks = (theme) => (theme === "dark" ? DARK : LIGHT);

/** A colour for the renderer, which reckons in linear light. */
export const linear = (text) => new THREE.Color(text).convertSRGBToLinear();
