"use strict";
(function () {
  const model = JSON.parse(document.getElementById("model").textContent);
  const canvas = document.getElementById("view");
  const card = document.getElementById("card");
  const hint = card.innerHTML;
  const dark = window.matchMedia("(prefers-color-scheme: dark)");
  const vector = (p) => new THREE.Vector3(p[0], p[1], p[2]);
  const colour = (text) => new THREE.Color(text).convertSRGBToLinear();

  function bytes(text) {
    const raw = atob(text);
    const array = new Uint8Array(raw.length);
    for (let i = 0; i < raw.length; i += 1) array[i] = raw.charCodeAt(i);
    return array.buffer;
  }
  const floats = (text) => new Float32Array(bytes(text));

  let renderer;
  try {
    renderer = new THREE.WebGLRenderer({ canvas, antialias: true, alpha: true, preserveDrawingBuffer: true });
  } catch (error) {
    document.getElementById("failed").hidden = false;
  }

  // --- what stands on the stage ------------------------------------------------------------------

  const scene = new THREE.Scene();
  const marks = new THREE.Group();
  const places = new THREE.Group();
  const sizes = new THREE.Group();
  const aeroplane = new THREE.Group();
  marks.add(places);
  scene.add(aeroplane, marks, sizes);
  const camera = new THREE.PerspectiveCamera(12, 1, 10, 100000);
  camera.up.set(0, 0, 1);
  const lamp = new THREE.DirectionalLight(0xffffff, 0.6);
  scene.add(new THREE.HemisphereLight(0xffffff, 0xd8c8b0, 0.64), lamp, lamp.target);

  const origin = vector(model.balance.point);
  const low = vector(model.low);
  const high = vector(model.high);
  const middle = low.clone().add(high).multiplyScalar(0.5);
  const reach = high.clone().sub(low).length() / 2;
  const sprites = [];

  function segments(text, material) {
    const geometry = new THREE.BufferGeometry();
    geometry.setAttribute("position", new THREE.BufferAttribute(floats(text), 3));
    return new THREE.LineSegments(geometry, material);
  }

  const parts = model.parts.map((part, number) => {
    const group = new THREE.Group();
    let solid = null;
    if (part.positions) {
      const indexed = new THREE.BufferGeometry();
      indexed.setAttribute("position", new THREE.BufferAttribute(floats(part.positions), 3));
      indexed.setIndex(new THREE.BufferAttribute(new Uint32Array(bytes(part.index)), 1));
      const geometry = indexed.toNonIndexed();
      geometry.computeVertexNormals();
      const material = new THREE.MeshLambertMaterial({
        color: colour(part.colour), side: THREE.DoubleSide, polygonOffset: true,
        polygonOffsetFactor: part.coats ? 1 : 2, polygonOffsetUnits: part.coats ? 1 : 4,
      });
      solid = new THREE.Mesh(geometry, material);
      solid.userData.number = number;
      group.add(solid);
    }
    const ink = new THREE.LineBasicMaterial({ color: colour(part.colour), transparent: true });
    if (part.edges) group.add(segments(part.edges, ink));
    aeroplane.add(group);
    const away = part.centre ? vector(part.centre).sub(origin) : new THREE.Vector3();
    return { data: part, group, solid, ink, away };
  });

  function sprite(text, tint, height, point, parent) {
    const pen = document.createElement("canvas").getContext("2d");
    const font = "600 44px 'Gill Sans', 'Trebuchet MS', 'DejaVu Sans', sans-serif";
    pen.font = font;
    const width = Math.ceil(pen.measureText(text).width) + 24;
    pen.canvas.width = width;
    pen.canvas.height = 64;
    const texture = new THREE.CanvasTexture(pen.canvas);
    texture.encoding = THREE.sRGBEncoding;
    const material = new THREE.SpriteMaterial({ map: texture, sizeAttenuation: false, depthTest: false, depthWrite: false });
    const label = new THREE.Sprite(material);
    label.position.copy(point);
    label.renderOrder = 20;
    label.userData = { aspect: width / 64, height };
    label.userData.paint = function () {
      pen.clearRect(0, 0, width, 64);
      pen.font = font;
      pen.textBaseline = "middle";
      pen.lineJoin = "round";
      pen.lineWidth = 11;
      pen.strokeStyle = dark.matches ? "#211e27" : "#f7f0e0";
      pen.strokeText(text, 12, 33);
      pen.fillStyle = dark.matches ? lighter(tint) : tint;
      pen.fillText(text, 12, 33);
      texture.needsUpdate = true;
    };
    sprites.push(label);
    parent.add(label);
  }

  function lighter(tint) {
    return "#" + new THREE.Color(tint).lerp(new THREE.Color("#ffffff"), 0.5).getHexString();
  }

  function overlay(material) {
    material.depthTest = false;
    material.transparent = true;
    return material;
  }

  function buildMarks() {
    const arms = { aft: [1, 0, 0], right: [0, 1, 0], up: [0, 0, 1] };
    const length = reach * 0.14;
    for (const [name, way] of Object.entries(arms)) {
      const direction = vector(way);
      const tint = model.colours.axes[name];
      const tip = origin.clone().addScaledVector(direction, length);
      const rod = new THREE.Mesh(
        new THREE.CylinderGeometry(reach * 0.004, reach * 0.004, length, 12), overlay(new THREE.MeshBasicMaterial({ color: colour(tint) })));
      rod.position.copy(origin).addScaledVector(direction, length / 2);
      rod.quaternion.setFromUnitVectors(new THREE.Vector3(0, 1, 0), direction);
      const head = new THREE.Mesh(
        new THREE.ConeGeometry(reach * 0.011, reach * 0.035, 20), overlay(new THREE.MeshBasicMaterial({ color: colour(tint) })));
      head.position.copy(tip);
      head.quaternion.copy(rod.quaternion);
      rod.renderOrder = head.renderOrder = 10;
      marks.add(rod, head);
      sprite(name, tint, 17, tip.clone().addScaledVector(direction, length * 0.22), marks);
    }
    const ball = new THREE.Mesh(
      new THREE.SphereGeometry(reach * 0.017, 28, 20), overlay(new THREE.MeshLambertMaterial({ color: colour(model.colours.balance), emissive: colour("#40000f") })));
    ball.position.copy(origin);
    ball.renderOrder = 12;
    marks.add(ball);
    for (const contact of model.contacts) {
      const spot = new THREE.Mesh(
        new THREE.SphereGeometry(reach * 0.009, 18, 12), overlay(new THREE.MeshBasicMaterial({ color: colour(model.colours.contact) })));
      spot.position.copy(vector(contact.point));
      spot.renderOrder = 11;
      places.add(spot);
    }
    if (model.disc) {
      const geometry = new THREE.BufferGeometry();
      geometry.setAttribute("position", new THREE.BufferAttribute(floats(model.disc), 3));
      places.add(new THREE.Line(geometry, new THREE.LineBasicMaterial({ color: colour(model.colours.disc) })));
    }
  }

  function buildSizes() {
    const material = new THREE.LineBasicMaterial({ color: colour(model.colours.dimension) });
    for (const size of model.dimensions) {
      const group = new THREE.Group();
      group.add(segments(size.segments, material));
      group.userData.along = vector(size.along);
      sprite(size.text, model.colours.dimension, 18, vector(size.at), group);
      sizes.add(group);
    }
    sizes.userData.material = material;
  }

  // --- looking ---------------------------------------------------------------------------------------

  const home = { quarter: [-2.518, 0.4], side: [-Math.PI / 2, 0], front: [Math.PI, 0], top: [-Math.PI / 2, Math.PI / 2 - 0.0001] };
  const look = { azimuth: home.quarter[0], rise: home.quarter[1], distance: 1, target: middle.clone() };

  function fit() {
    const half = Math.tan((camera.fov * Math.PI) / 360);
    look.distance = (reach * 0.78) / (half * Math.min(1, camera.aspect * 0.95));
    look.target.copy(middle);
  }

  let waiting = false;
  function draw() {
    if (waiting || !renderer) return;
    waiting = true;
    requestAnimationFrame(() => {
      waiting = false;
      const c = Math.cos(look.rise);
      const toward = new THREE.Vector3(Math.cos(look.azimuth) * c, Math.sin(look.azimuth) * c, Math.sin(look.rise));
      camera.position.copy(look.target).addScaledVector(toward, look.distance);
      camera.lookAt(look.target);
      camera.near = Math.max(look.distance - 4 * reach, look.distance / 100);
      camera.far = look.distance + 4 * reach;
      camera.updateProjectionMatrix();
      const side = new THREE.Vector3().setFromMatrixColumn(camera.matrixWorld, 0);
      lamp.position.copy(camera.position).addScaledVector(side, -0.4 * look.distance);
      lamp.position.z += 0.7 * look.distance;
      lamp.target.position.copy(look.target);
      // Seen end on, a dimension says nothing and only hides others.
      for (const group of sizes.children) group.visible = Math.abs(group.userData.along.dot(toward)) < 0.93;
      spread();
      renderer.render(scene, camera);
    });
  }

  // Figures of dimensions that would lie on one another move up or down by whole lines.
  function spread() {
    const box = canvas.parentElement.getBoundingClientRect();
    const taken = [];
    for (const group of sizes.children) {
      const label = group.children.find((child) => child.isSprite);
      if (!group.visible || !label || !label.userData.pixels) continue;
      const at = label.getWorldPosition(new THREE.Vector3()).project(camera);
      const [w, h] = label.userData.pixels;
      const x = ((at.x + 1) / 2) * box.width;
      const y = ((1 - at.y) / 2) * box.height;
      const isFree = (k) => taken.every(([u, v, p, q]) => Math.abs(u - x) > (p + w) / 2 || Math.abs(v - y - k * h) > (q + h) / 2);
      const rows = [0, 1, -1, 2, -2].find(isFree) || 0;
      label.center.set(0.5, 0.5 + rows);
      taken.push([x, y + rows * h, w, h]);
    }
  }

  function resize() {
    if (!renderer) return;
    const box = canvas.parentElement.getBoundingClientRect();
    renderer.setPixelRatio(Math.min(window.devicePixelRatio || 1, 2));
    renderer.setSize(box.width, box.height, false);
    camera.aspect = box.width / Math.max(box.height, 1);
    const unit = (2 * Math.tan((camera.fov * Math.PI) / 360)) / Math.max(box.height, 1);
    for (const label of sprites) {
      const tall = label.userData.height * 1.45 * unit * Math.min(1, Math.max(0.75, box.width / 700));
      label.scale.set(tall * label.userData.aspect, tall, 1);
      label.userData.pixels = [(tall * label.userData.aspect) / unit, tall / unit];
    }
    draw();
  }

  function turn(azimuth, rise) {
    look.azimuth += azimuth;
    look.rise = Math.max(-1.57, Math.min(1.57, look.rise + rise));
    draw();
  }

  function zoom(factor) {
    look.distance = Math.max(reach * 0.15, Math.min(reach * 20, look.distance * factor));
    draw();
  }

  function shift(dx, dy) {
    const scale = (2 * look.distance * Math.tan((camera.fov * Math.PI) / 360)) / canvas.clientHeight;
    const side = new THREE.Vector3().setFromMatrixColumn(camera.matrixWorld, 0);
    const up = new THREE.Vector3().setFromMatrixColumn(camera.matrixWorld, 1);
    look.target.addScaledVector(side, -dx * scale).addScaledVector(up, dy * scale);
    draw();
  }

  // --- choosing a part -------------------------------------------------------------------------------

  let chosen = null;
  let isGhosting = false;

  function paint() {
    const seeThrough = document.getElementById("xray").checked;
    const edge = colour(dark.matches ? "#f3ead8" : "#2a2633");
    parts.forEach((part, number) => {
      const isChosen = number === chosen;
      const isFaint = !isChosen && ((seeThrough && part.data.skin) || (isGhosting && chosen !== null));
      const own = part.data.opacity;
      if (part.solid) {
        const material = part.solid.material;
        const opacity = isFaint ? Math.min(own, 0.16) : isChosen ? 1 : own;
        const isClear = opacity < 1;
        if (material.transparent !== isClear) material.needsUpdate = true;
        material.transparent = isClear;
        material.depthWrite = !isClear;
        material.opacity = opacity;
        material.emissive.copy(colour(isChosen ? "#6b0f3a" : "#000000"));
        part.ink.color.copy(isChosen ? colour(dark.matches ? "#ff7db0" : "#c0135e") : edge);
        part.ink.opacity = isFaint ? 0.3 : 0.85;
      } else {
        part.ink.color.copy(isChosen ? colour(dark.matches ? "#ff7db0" : "#c0135e") : colour(part.data.colour));
        part.ink.opacity = isFaint ? 0.45 : 1;
      }
    });
    draw();
  }

  function choose(number, ghosts) {
    if (number === chosen && ghosts === isGhosting) return;
    chosen = number;
    isGhosting = ghosts;
    document.querySelectorAll("[data-part]").forEach((button) => {
      button.setAttribute("aria-pressed", String(Number(button.dataset.part) === number));
    });
    if (number === null) {
      card.innerHTML = hint;
    } else {
      const part = parts[number].data;
      card.textContent = "";
      const name = document.createElement("p");
      name.className = "name";
      const swatch = document.createElement("i");
      swatch.style.background = part.colour;
      name.append(swatch, part.name);
      const more = document.createElement("p");
      more.textContent = part.material + ", " + part.mass + " (" + part.basis + ")";
      card.append(name, more);
    }
    paint();
  }

  const ray = new THREE.Raycaster();
  function partUnder(event) {
    const box = canvas.getBoundingClientRect();
    const spot = new THREE.Vector2(
      ((event.clientX - box.left) / box.width) * 2 - 1, 1 - ((event.clientY - box.top) / box.height) * 2);
    ray.setFromCamera(spot, camera);
    const solids = parts.filter((part) => part.solid && part.group.visible && !part.data.coats).map((part) => part.solid);
    const hit = ray.intersectObjects(solids, false)[0];
    return hit ? hit.object.userData.number : null;
  }

  // --- hands ------------------------------------------------------------------------------------------

  const fingers = new Map();
  canvas.addEventListener("pointerdown", (event) => {
    canvas.setPointerCapture(event.pointerId);
    fingers.set(event.pointerId, [event.clientX, event.clientY]);
    canvas.focus({ preventScroll: true });
    choose(partUnder(event), false);
  });
  canvas.addEventListener("pointermove", (event) => {
    const before = fingers.get(event.pointerId);
    if (!before) {
      if (event.pointerType === "mouse") choose(partUnder(event), false);
      return;
    }
    const dx = event.clientX - before[0];
    const dy = event.clientY - before[1];
    if (fingers.size === 2) {
      const other = [...fingers].find(([id]) => id !== event.pointerId)[1];
      const was = Math.hypot(before[0] - other[0], before[1] - other[1]);
      const is = Math.hypot(event.clientX - other[0], event.clientY - other[1]);
      shift(dx / 2, dy / 2);
      if (is > 1) zoom(was / is);
    } else if (event.shiftKey || event.buttons & 6) {
      shift(dx, dy);
    } else {
      turn(-dx * 0.008, dy * 0.008);
    }
    fingers.set(event.pointerId, [event.clientX, event.clientY]);
  });
  for (const end of ["pointerup", "pointercancel"]) {
    canvas.addEventListener(end, (event) => fingers.delete(event.pointerId));
  }
  canvas.addEventListener("contextmenu", (event) => event.preventDefault());
  canvas.addEventListener("wheel", (event) => {
    event.preventDefault();
    zoom(Math.exp(Math.max(-60, Math.min(60, event.deltaY)) * 0.004));
  }, { passive: false });
  document.addEventListener("keydown", (event) => {
    if (event.target instanceof HTMLInputElement || event.ctrlKey || event.metaKey || event.altKey) return;
    const acts = {
      ArrowLeft: () => turn(-0.12, 0), ArrowRight: () => turn(0.12, 0), ArrowUp: () => turn(0, 0.12), ArrowDown: () => turn(0, -0.12),
      "+": () => zoom(0.88), "=": () => zoom(0.88), "-": () => zoom(1.14), 0: () => { fit(); draw(); }, Escape: () => choose(null, false),
    };
    if (acts[event.key]) {
      acts[event.key]();
      event.preventDefault();
    }
  });

  document.querySelectorAll("[data-part]").forEach((button) => {
    const number = Number(button.dataset.part);
    button.addEventListener("focus", () => choose(number, true));
    button.addEventListener("mouseenter", () => choose(number, true));
    button.addEventListener("click", () => choose(number, true));
    button.addEventListener("mouseleave", () => choose(null, false));
    button.addEventListener("blur", () => choose(null, false));
  });
  document.querySelectorAll("[data-group]").forEach((box) => {
    box.addEventListener("change", () => {
      showGroups();
      draw();
    });
  });
  document.querySelectorAll("[data-view]").forEach((button) => {
    button.addEventListener("click", () => {
      [look.azimuth, look.rise] = home[button.dataset.view];
      fit();
      draw();
    });
  });
  document.getElementById("xray").addEventListener("change", paint);
  document.getElementById("marks").addEventListener("change", (event) => { marks.visible = event.target.checked; draw(); });
  document.getElementById("sizes").addEventListener("change", () => { showSizes(); draw(); });
  document.getElementById("explode").addEventListener("input", (event) => {
    for (const part of parts) part.group.position.copy(part.away).multiplyScalar(event.target.value / 100);
    showSizes();
    draw();
  });

  // A coat goes with the part that it lies on.
  function showGroups() {
    const isOn = {};
    document.querySelectorAll("[data-group]").forEach((box) => { isOn[box.dataset.group] = box.checked; });
    for (const part of parts) part.group.visible = isOn[part.data.group] && isOn[part.data.coats || part.data.group];
  }

  // Dimensions, wheel contacts and the propeller's disc are those of the whole: pulled apart, it has none.
  function showSizes() {
    places.visible = document.getElementById("explode").value === "0";
    sizes.visible = document.getElementById("sizes").checked && places.visible;
  }

  function dress() {
    sizes.userData.material.color.copy(colour(dark.matches ? lighter(model.colours.dimension) : model.colours.dimension));
    sprites.forEach((label) => label.userData.paint());
    paint();
  }

  if (renderer) renderer.outputEncoding = THREE.sRGBEncoding;
  buildMarks();
  buildSizes();
  dark.addEventListener("change", dress);
  window.addEventListener("resize", resize);
  new ResizeObserver(resize).observe(canvas.parentElement);
  resize();
  fit();
  dress();
})();
