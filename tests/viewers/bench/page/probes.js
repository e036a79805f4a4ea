// What the tests of the page's looks ask of it, run in the page: an object of functions.
({
  // Every text that can be seen, its contrast with what lies under it (WCAG 2.1) and its size.
  texts() {
    const rgb = (text) => text.match(/[\d.]+/g).map(Number);
    const part = (v) => (v / 255 <= 0.04045 ? v / 255 / 12.92 : ((v / 255 + 0.055) / 1.055) ** 2.4);
    const light = ([r, g, b]) => 0.2126 * part(r) + 0.7152 * part(g) + 0.0722 * part(b);
    const ground = (node) => {
      for (let at = node; at; at = at.parentElement) {
        const found = rgb(getComputedStyle(at).backgroundColor);
        if (found.length < 4 || found[3] > 0.99) return found;
      }
      return [255, 255, 255];
    };
    const seen = [];
    const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    while (walk.nextNode()) {
      const words = walk.currentNode.textContent.trim();
      const host = walk.currentNode.parentElement;
      if (!words || !host.checkVisibility() || host.closest(".unseen, .skip, :disabled, script, noscript")) continue;
      seen.push([words, host]);
    }
    for (const input of document.querySelectorAll("input[type=text], input[type=search], select")) {
      if (input.checkVisibility()) seen.push([input.value || input.placeholder, input]);
    }
    return seen.map(([words, host]) => {
      const style = getComputedStyle(host);
      const [a, b] = [light(rgb(style.color)), light(ground(host))].sort((x, y) => y - x);
      return { words, ratio: (a + 0.05) / (b + 0.05), px: parseFloat(style.fontSize) };
    });
  },

  // Contrast of each of the page's marking colours with each of its grounds.
  marks() {
    const style = getComputedStyle(document.documentElement);
    const part = (v) => (v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4);
    const light = (name) => {
      const [r, g, b] = style.getPropertyValue(name).match(/[0-9a-f]{2}/gi).map((hex) => part(parseInt(hex, 16) / 255));
      return 0.2126 * r + 0.7152 * g + 0.0722 * b;
    };
    const pairs = ["--ink", "--balance", "--focus"].flatMap((mark) =>
      ["--paper", "--steel", "--bench", "--shade"].map((ground) => [mark, ground]));
    return pairs.map(([mark, ground]) => {
      const [a, b] = [light(mark), light(ground)].sort((x, y) => y - x);
      return [mark, ground, (a + 0.05) / (b + 0.05)];
    });
  },

  // Controls and stops of the keyboard that have no name.
  nameless() {
    const stops = [...document.querySelectorAll("button, input, select, a, summary, [tabindex='0']")];
    return stops.filter((node) => {
      if (!node.checkVisibility()) return false;
      const by = (node.getAttribute("aria-labelledby") || "").split(" ").map((id) => document.getElementById(id)?.textContent);
      const labels = [...(node.labels || [])].map((label) => label.textContent.trim());
      return ![node.getAttribute("aria-label"), by.join(""), node.textContent.trim(), labels.join("")].some(Boolean);
    }).map((node) => node.outerHTML);
  },

  // Which of the selectors' elements are not wholly within the window and within what may scroll round them.
  cutOff(selectors) {
    return selectors.filter((selector) => {
      const node = document.querySelector(selector);
      const box = node.getBoundingClientRect();
      for (let at = node.parentElement; at; at = at.parentElement) {
        const clip = at.getBoundingClientRect();
        const isClipping = getComputedStyle(at).overflow !== "visible";
        if (isClipping && (box.top < clip.top - 1 || box.bottom > clip.bottom + 1 || box.right > clip.right + 1)) return true;
      }
      const isOut = box.top < 0 || box.left < 0 || box.bottom > innerHeight + 1 || box.right > innerWidth + 1;
      return box.width < 1 || isOut;
    });
  },

  // What a finger could miss: controls less high than the least, in px.
  small(least) {
    const controls = [...document.querySelectorAll("button, input:not([type=checkbox]), select, summary")];
    return controls.filter((node) => {
      const isFolded = node.closest("#findings details, .skip");
      return node.checkVisibility() && !isFolded && node.getBoundingClientRect().height < least;
    }).map((node) => node.id || node.outerHTML);
  },

  // Where the keyboard is: the region, the element, and whether its focus is to be seen.
  stop() {
    const node = document.activeElement;
    const region = node.closest("header, #drawing, #notes, #schedule, #edge");
    const isShown = getComputedStyle(node).outlineStyle !== "none" || node.matches(".skip");
    return [region ? region.id || "rail" : node.className, node.id, isShown];
  },

  // That many changes of one width, one after another.
  async change(times) {
    for (let i = 0; i < times; i += 1) {
      await bench.desk.change([["fuselage.width", `fuselage.width="${60 + (i % 70)} mm"`]], { words: "x" });
    }
  },
});
