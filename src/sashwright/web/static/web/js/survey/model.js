// Windows as they stand on this device: as the house was taken along, with the kept entries laid over it.

export function withFields(document, fields) {
  let changed = document;
  for (const [path, value] of Object.entries(fields)) changed = withField(changed, path.split("."), value);
  return changed;
}

function withField(document, [name, ...inner], value) {
  const rest = { ...document };
  if (inner.length) rest[name] = withField(rest[name] ?? {}, inner, value);
  else if (value === null) delete rest[name];
  else rest[name] = value;
  return rest;
}

export function at(document, path) {
  return path.split(".").reduce((inner, name) => inner?.[name], document);
}

// A window by what tells it from others: "id:12", or "made:…" for one made here that has not come in yet.
export function widOf(which, made) {
  if (!which) return null;
  if (which.id) return `id:${which.id}`;
  return made[which.made] ? `id:${made[which.made]}` : `made:${which.made}`;
}

export function whichOf(wid) {
  const [kind, value] = [wid.slice(0, wid.indexOf(":")), wid.slice(wid.indexOf(":") + 1)];
  return kind === "id" ? { id: Number(value) } : { made: value };
}

export function settled(wid, made) {
  return wid.startsWith("made:") ? widOf({ made: wid.slice(5) }, made) : wid;
}

function surveyed(document, entry) {
  const condition = document.condition ?? {};
  const found = condition.found ?? [];
  const sound = condition.sound ?? [];
  if (entry.kind === "sound") {
    const others = sound.filter((name) => name !== entry.on);
    return { found: found.filter((each) => each.on !== entry.on), sound: [...others, entry.on] };
  }
  if (entry.kind === "rest") {
    return entry.act === "as-typical" ? { as_typical: true } : { found: [], sound: [], as_typical: false };
  }
  const text = JSON.stringify(entry.found);
  if (entry.act === "remove") {
    const gone = found.findIndex((each) => JSON.stringify(each) === text);
    return { found: found.filter((_, index) => index !== gone) };
  }
  return { found: [...found, entry.found], sound: sound.filter((name) => name !== entry.found.on) };
}

function applied(window, entry) {
  const document = window.document;
  if (entry.kind === "set-fields") return withFields(document, entry.fields);
  if (entry.kind === "reading") {
    const told = { mass: entry.mass, state: entry.state };
    return withFields(document, Object.fromEntries(Object.entries(told).map(([k, v]) => [`measured.${entry.which}.${k}`, v])));
  }
  if (["finding", "sound", "rest"].includes(entry.kind)) {
    return { ...document, condition: { ...document.condition, ...surveyed(document, entry), looked: true } };
  }
  return document;
}

export function windowsOf(house, rows, made) {
  const windows = new Map();
  for (const each of house.windows) {
    windows.set(`id:${each.id}`, { ...each, wid: `id:${each.id}`, waiting: 0, trouble: false });
  }
  const undone = new Set(rows.filter((row) => row.entry.kind === "undo").map((row) => row.entry.of));
  // A window that came in and is taken back is gone here at once.
  for (const key of undone) windows.delete(`id:${made[key]}`);
  for (const row of rows) {
    const entry = row.entry;
    if (entry.house !== house.slug || undone.has(entry.key)) continue;
    if (entry.kind === "add-window") {
      const wid = `made:${entry.key}`;
      const fresh = { wid, version: 0, document: entry.document, waiting: 0, photographs: 0 };
      windows.set(wid, { ...fresh, trouble: false });
    }
    const wid = entry.kind === "add-window" ? `made:${entry.key}` : widOf(entry.window, made);
    const window = windows.get(wid);
    if (!window) continue;
    window.document = applied(window, entry);
    window.waiting += 1;
    window.trouble ||= row.state === "trouble";
    if (entry.kind === "photo") window.photographs += 1;
  }
  return [...windows.values()].map((each) => ({ ...each, number: each.document.number }));
}

// What this device has changed at a window and not sent yet, field by field.
export function laid(rows, wid, made) {
  const fields = {};
  for (const { entry } of rows) {
    if (entry.kind === "set-fields" && widOf(entry.window, made) === wid) Object.assign(fields, entry.fields);
  }
  return fields;
}

// The number after one, as the shop's computer suggests it: 204, 205; 107L, 107R, 108.
export function nextNumber(after, taken) {
  let number = after ? following(after) : "101";
  while (taken.has(number)) number = following(number);
  return number;
}

function following(number) {
  const parts = number.match(/^(.*?)([0-9]+)([A-Za-z]?)$/);
  if (!parts) return `${number.slice(0, 14)}-2`;
  const [, front, count, letter] = parts;
  if (letter === "L" || letter === "l") return front + count + (letter === "L" ? "R" : "r");
  if (letter && !"RrZz".includes(letter)) return front + count + String.fromCharCode(letter.charCodeAt(0) + 1);
  const more = String(Number(count) + 1).padStart(count.length, "0");
  return front.slice(0, 16 - more.length) + more;
}
