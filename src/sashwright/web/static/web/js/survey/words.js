// What an entry says, for people.

export function partWords(name) {
  const plain = name.replace(/^frame\./, "").split(".");
  if (plain[1] === "lite" && plain.length === 4) return `${capital(plain[0])} lite, column ${plain[2]}, row ${plain[3]}`;
  return capital(plain.join(" ").replaceAll("_", " "));
}

export function capital(text) {
  return text ? text[0].toUpperCase() + text.slice(1) : "";
}

export function count(number, word, words = `${word}s`) {
  return `${number} ${number === 1 ? word : words}`;
}

export const LABELS = {
  number: "Number", family: "Family", room: "Room", wall: "Wall", storey: "Storey", width: "Width", height: "Height",
  upper: "Upper lites", lower: "Lower lites", note: "Note", meeting_height: "Meeting rails above the sill",
  sill_above_floor: "Sill above the floor", "measured.upper.moisture": "Moisture, upper sash", "measured.lower.moisture": "Moisture, lower sash",
  "changes.frame.side_clearance": "Clearance at each side", "changes.frame.head_clearance": "Clearance at the head",
  "changes.frame.track_play": "Play between the beads",
};

function value(given) {
  if (given === null || given === "") return "nothing";
  return typeof given === "object" ? JSON.stringify(given) : String(given);
}

const KINDS = {
  "add-window": (entry) => `added, ${entry.document.width} × ${entry.document.height}`,
  "set-fields": (entry) =>
    Object.entries(entry.fields)
      .filter(([path]) => !path.endsWith("moisture_on"))
      .map(([path, given]) => `${(LABELS[path] ?? path).toLowerCase()} ${value(given)}`)
      .join(", "),
  reading: (entry) => `${entry.which} sash weighed ${entry.mass}`,
  finding: (entry) => `${partWords(entry.found.on).toLowerCase()}, ${entry.found.fault.replaceAll("-", " ")}${entry.act === "remove" ? ": taken away" : ""}`,
  sound: (entry) => `${partWords(entry.on).toLowerCase()}: sound`,
  rest: (entry) => (entry.act === "as-typical" ? "the rest as typical" : "all sound"),
  photo: (entry) => `photograph${entry.component ? ` of ${partWords(entry.component).toLowerCase()}` : ""}`,
  undo: () => "the last entry taken back",
};

export function says(entry) {
  return KINDS[entry.kind]?.(entry) ?? entry.kind;
}
