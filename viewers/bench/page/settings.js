// The --set lines that the server gives: which key each sets, and how a builder reads them.

export const keyOf = (setting) => setting.slice(0, setting.indexOf("="));

export const capital = (text) => text.charAt(0).toUpperCase() + text.slice(1);

// gear.track="232 mm" as a builder reads it, by the label of its field if it has one: track 232 mm
export function plainly(setting, fields) {
  const key = keyOf(setting);
  const value = setting.slice(key.length + 1).replace(/^"(.*)"$/, "$1").replaceAll('"', "");
  const field = fields?.get(key);
  if (field) return `${field.label} ${value}`;
  return `${key.replaceAll('"', "").replaceAll(/[._]/g, " ")} ${value}`;
}

// What a command says of a key, by the label of its field: "gear.track 9 kg: …" is "track 9 kg: …" to a builder.
export function inWords(text, fields) {
  const told = (line) => {
    const key = [...fields.keys()].find((each) => line.trimStart().startsWith(`${each} `) || line.trimStart().startsWith(`${each}:`));
    return key ? line.replace(key, () => fields.get(key).label) : line;
  };
  return text.split("\n").map(told).join("\n");
}
