// One window: its drawing with what was found on it, its fields, readings and photographs.

import { field, h, notice, options } from "./dom.js";
import { elevation } from "./draw.js";
import { addPhoto, addReading, removeFinding, rest, setFields, standing } from "./kept.js";
import { lengthSays, shortly } from "./lengths.js";
import { at, laid, settled } from "./model.js";
import { photoButtons, thumbnails } from "./photos.js";
import { count, LABELS, partWords } from "./words.js";

const LENGTHS = ["width", "height", "meeting_height", "sill_above_floor", "changes.frame.side_clearance", "changes.frame.head_clearance"];
const ORDER = ["slight", "moderate", "severe"];

export function marksOf(document, house) {
  const marks = Object.fromEntries((document.condition?.sound ?? []).map((name) => [name, "sound"]));
  for (const found of document.condition?.found ?? []) {
    const severity = found.severity ?? house.faults.find((row) => row.key === found.fault)?.usual ?? "moderate";
    const before = ORDER.indexOf(marks[found.on]);
    if (ORDER.indexOf(severity) > before) marks[found.on] = severity;
  }
  return marks;
}

export function foundWords(found, house) {
  const fault = house.faults.find((row) => row.key === found.fault);
  const how = [found.severity, found.length, found.area, found.count && `${found.count} of them`, found.probe && `awl ${found.probe}`, found.moisture && `meter ${found.moisture} %`];
  return [fault?.name ?? found.fault, ...how.filter(Boolean)].join(", ");
}

export async function window_(slug, asked) {
  const page = h("div", { class: "windowpage" });
  const view = { page };
  let shown = "";

  view.refresh = async () => {
    const { house, rows, made, windows } = await standing(slug);
    const wid = settled(asked, made);
    const one = windows.find((each) => each.wid === wid);
    view.house = house;
    if (!one) {
      page.replaceChildren(h("div", { class: "empty" }, h("h1", {}, "This window is not here"), h("a", { class: "button", href: `#/${slug}` }, "All windows")));
      return;
    }
    // The same again is not drawn again, and what is typed is not taken from under the fingers: then only
    // the drawing follows.
    const now = JSON.stringify([one, rows.length]);
    if (now === shown) return;
    if (shown && page.contains(document.activeElement) && document.activeElement.matches("input, textarea, select")) {
      page.querySelector(".drawcol .elevation")?.replaceWith(drawing(slug, house, one));
      return;
    }
    shown = now;
    const open = [...page.querySelectorAll("details[open]")].map((each) => each.dataset.part);
    page.replaceChildren(...parts(slug, house, { ...one, seen: { wid: one.wid, base: one.version, was: laid(rows, wid, made) } }));
    for (const each of page.querySelectorAll("details")) each.open = open.includes(each.dataset.part);
    thumbnails(page.querySelector(".photos"), rows, wid, made);
  };
  await view.refresh();
  return view;
}

function addressOf(slug, wid, on) {
  return `#/${slug}/w/${wid}/on/${on}`;
}

function drawing(slug, house, one) {
  const family = house.families.find((each) => each.key === one.document.family);
  const link = (on) => addressOf(slug, one.wid, on);
  const drawn = elevation(family?.outline, one.document, house.system, { id: "w", marks: marksOf(one.document, house), link, words: partWords });
  return drawn ?? h("p", { class: "soft elevation" }, "No drawing: its sizes do not go together.");
}

function parts(slug, house, one) {
  const { document: says, wid } = one;
  const family = house.families.find((each) => each.key === says.family);
  const others = h("select", { "aria-label": "Another part" }, options((family?.pieces ?? []).map(([name, words]) => [name, words]), "frame.sill"));
  const look = h("button", { type: "button", class: "button", onclick: () => (location.hash = addressOf(slug, wid, others.value)) }, "Look at it");
  return [
    h(
      "div",
      { class: "pagehead" },
      h("div", { class: "grow" }, h("h1", {}, `Window ${one.number}`), h("p", { class: "soft" }, [says.room, `${says.wall} wall`, says.family && `family ${says.family}`].filter(Boolean).join(", "))),
      h("a", { class: "button primary", href: `#/${slug}/next` }, "Next window"),
    ),
    one.trouble && h("p", { class: "conflict" }, "Something about this window is ", h("a", { href: "#kept" }, "to be decided"), "."),
    h(
      "div",
      { class: "windowcols" },
      h("div", { class: "drawcol" }, drawing(slug, house, one), h("p", { class: "soft small" }, "Tap the part that you look at, or choose it."), h("div", { class: "otherpart" }, h("div", { class: "control" }, others), look)),
      h(
        "div",
        { class: "saycol" },
        findings(slug, house, one, family),
        h("section", {}, h("h2", {}, "Photographs"), photoButtons(async (files) => {
          for (const file of files) await addPhoto(slug, wid, file);
          notice(`${count(files.length, "photograph")} kept.`);
        }), h("p", { class: "soft small" }, one.photographs ? `${count(one.photographs, "photograph")} so far.` : "None yet."), h("ul", { class: "photos" })),
        readings(slug, house, one),
        fields(slug, house, one),
      ),
    ),
  ].filter(Boolean);
}

function findings(slug, house, one, family) {
  const { document: says, wid } = one;
  const condition = says.condition ?? {};
  const typical = condition.as_typical === false ? [] : [...(family?.typical ?? []), ...house.typical];
  const found = (condition.found ?? []).map((each) =>
    h(
      "li",
      {},
      h("a", { href: `#/${slug}/w/${wid}/on/${each.on}` }, h("strong", {}, partWords(each.on)), ` ${foundWords(each, house)}`),
      h("button", { type: "button", class: "button quiet", "aria-label": `Take away: ${partWords(each.on)}, ${foundWords(each, house)}`, onclick: () => removeFinding(slug, wid, each) }, "Take away"),
    ),
  );
  return h(
    "section",
    {},
    h("h2", {}, "Findings"),
    found.length ? h("ul", { class: "found" }, found) : h("p", { class: "soft" }, "Nothing of its own."),
    typical.length > 0 && h("details", { class: "group", "data-part": "typical" }, h("summary", {}, "Typical", h("span", { class: "count" }, typical.length)), h("ul", { class: "body" }, typical.map((text) => h("li", {}, text)))),
    h(
      "div",
      { class: "row" },
      h("button", { type: "button", class: "button", onclick: async () => (await rest(slug, wid, "as-typical"), notice(`${one.number}: the rest as typical.`)) }, "Rest as typical"),
      h("button", { type: "button", class: "button quiet", onclick: async () => (await rest(slug, wid, "all-sound"), notice(`${one.number}: all sound.`)) }, "All sound"),
    ),
  );
}

// --- readings -----------------------------------------------------------------------

function readings(slug, house, one) {
  const { document: says, wid } = one;
  const which = h("select", { name: "which" }, options([["lower", "Lower sash"], ["upper", "Upper sash"]], "lower"));
  const state = h("select", { name: "state" }, options(house.states, "finished"));
  const mass = h("input", { name: "mass", inputmode: "text", autocomplete: "off", placeholder: house.system === "metric" ? "8.35" : "18 lb 6" });
  const massField = field("On the scale", mass, { unit: house.system === "metric" ? "kg" : "" });
  const weigh = async (event) => {
    event.preventDefault();
    if (!/\d/.test(mass.value)) {
      massField.tell("Expected a weight.");
      return;
    }
    const told = mass.value;
    mass.value = "";
    mass.blur();
    await addReading(slug, wid, which.value, told, state.value);
    notice(`${one.number}, ${which.value} sash: ${told} kept.`);
  };
  const meter = (sash) => {
    const path = `measured.${sash}.moisture`;
    const input = h("input", { inputmode: "decimal", autocomplete: "off", value: at(says, path) ?? "" });
    const made = field(`Moisture, ${sash}`, input, { unit: "%" });
    input.addEventListener("change", async () => {
      const value = Number(input.value.replace(",", "."));
      if (input.value && !(value >= 0 && value <= 150)) return made.tell("Expected percent.");
      await setFields(slug, wid, { [path]: input.value ? value : null, [`measured.${sash}.moisture_on`]: input.value ? today() : null }, one.seen);
    });
    return made;
  };
  const weighed = ["upper", "lower"].filter((sash) => at(says, `measured.${sash}.mass`)).map((sash) => `${sash} ${at(says, `measured.${sash}.mass`)}`);
  return h(
    "details",
    { class: "group", "data-part": "readings" },
    h("summary", {}, "Readings", h("span", { class: "count" }, weighed.join(", "))),
    h("form", { class: "fields two body", onsubmit: weigh }, field("Sash", which), massField, field("State", state), h("button", { class: "button" }, "Keep the weight")),
    h("div", { class: "fields two body" }, meter("lower"), meter("upper"), lengthField(slug, house, one, "changes.frame.side_clearance"), lengthField(slug, house, one, "changes.frame.head_clearance")),
  );
}

function today() {
  const now = new Date();
  return `${now.getFullYear()}-${String(now.getMonth() + 1).padStart(2, "0")}-${String(now.getDate()).padStart(2, "0")}`;
}

// --- fields -------------------------------------------------------------------------

function lengthField(slug, house, one, path) {
  const input = h("input", { name: path, inputmode: "decimal", autocomplete: "off", "data-kind": "length", value: shortly(at(one.document, path), house.system) });
  const made = field(LABELS[path], input, { unit: house.system === "metric" ? "mm" : "in" });
  const needed = path === "width" || path === "height";
  input.addEventListener("change", async () => {
    const text = input.value.trim();
    const says = !text && !needed ? "" : lengthSays(text, house.system);
    made.tell(says);
    if (!says) await setFields(slug, one.wid, { [path]: text || null }, one.seen);
  });
  return made;
}

function fields(slug, house, one) {
  const { document: says, wid } = one;
  const plain = (name, control) => {
    control.name = name;
    const none = ["upper", "lower"].includes(name) ? null : "";
    const value = () => (name === "storey" ? Number(control.value) : control.value.trim() || none);
    control.addEventListener("change", () => setFields(slug, wid, { [name]: value() }, one.seen));
    return field(LABELS[name], control, { wide: name === "note" });
  };
  const text = (name) => plain(name, h("input", { value: typeof says[name] === "object" ? `${says[name].columns ?? 1}x${says[name].rows ?? 1}` : (says[name] ?? ""), autocomplete: "off" }));
  const open = h("details", { class: "group", "data-part": "fields" });
  open.append(
    h("summary", {}, "Place and size", h("span", { class: "count" }, `${shortly(says.width, house.system)} × ${shortly(says.height, house.system)}`)),
    h(
      "div",
      { class: "fields two body" },
      LENGTHS.slice(0, 4).map((path) => lengthField(slug, house, one, path)),
      text("room"),
      plain("wall", h("select", {}, options(house.walls, says.wall))),
      plain("storey", h("select", {}, options([-2, -1, 1, 2, 3, 4, 5, 6], says.storey))),
      plain("family", h("select", {}, options(house.families.map((each) => [each.key, each.name ? `${each.key}: ${each.name}` : each.key]), says.family))),
      text("upper"),
      text("lower"),
      plain("note", h("textarea", { rows: 3, value: says.note ?? "" })),
    ),
  );
  return open;
}
