// Under which name, and as what: a redesign that states only what changes, or a copy of the whole file.

import { element, question } from "./dom.js";

const TOML = ".toml";
const ending = (name) => (name.endsWith(TOML) ? name : `${name}${TOML}`);

function entry(id, words, value, more = {}) {
  const input = element("input", {
    id, type: "text", value, required: true, maxlength: "80", autocomplete: "off", spellcheck: "false", ...more,
  });
  return [element("label", { for: id }, words), input];
}

function way(value, words, isChosen) {
  const input = element("input", { type: "radio", name: "way", id: `as-${value}`, value, checked: isChosen });
  return [input, element("label", { class: "way", for: input.id }, input, element("span", {}, ...words))];
}

// Resolves with { as, redesign }, where redesign is the new aeroplane's name or null for a copy; null: nothing to save.
export async function askWhere({ file, title, redesign, remarks }, isTold) {
  const isRedesign = remarks.length > 0;
  const [redesigned, first] = way("redesign", [
    element("b", {}, "A redesign"), ` that states only what changes; all else stays as in ${file}, whose weighing log stays with ${title}.`], isRedesign);
  const [copied, second] = way("copy", [element("b", {}, "A copy"), ` of ${file} with the changes in it.`], !isRedesign);
  const names = { redesign: redesign.file, copy: `${file.replace(/\.toml$/, "")}-2${TOML}` };
  const [fileLabel, fileName] = entry("as-name", "File name, in the same folder", isRedesign ? names.redesign : names.copy, {
    pattern: "[^\\\\\\/]+", title: "a plain file name; it goes beside the config" });
  const [label, name] = entry("as-title", "Name of the aeroplane", redesign.name);
  const named = element("div", { hidden: !isRedesign }, label, name);
  const turn = () => {
    const [now, other] = redesigned.checked ? ["redesign", "copy"] : ["copy", "redesign"];
    named.hidden = now === "copy";
    name.disabled = now === "copy";
    if (fileName.value === names[other]) fileName.value = names[now];
  };
  for (const each of [redesigned, copied]) each.addEventListener("change", turn);
  name.disabled = !isRedesign;
  const ways = element("fieldset", {}, element("legend", {}, "What is saved"), first, second);
  const answer = () => ({ as: ending(fileName.value.trim()), redesign: redesigned.checked ? name.value.trim() : null });
  return question("Save under another name", [...(isTold ? [] : remarks).map((text) => element("p", {}, text)), ways, named, fileLabel, fileName], [["Save", answer]]);
}

// Before the changes go into the file of an aeroplane that was weighed: "as", "same" or null.
export function askWeighed({ file, remarks }) {
  return question(`Save into ${file}?`, remarks.map((text) => element("p", {}, text)),
    [["Save as a redesign …", "as"], [`Save into ${file} all the same`, "same"]]);
}
