// One part of a window: what is wrong with it, how far it goes, or that it is sound.

import { chips, field, h, notice } from "./dom.js";
import { addFinding, addPhoto, draft, isSound, keepDraft, removeFinding, standing } from "./kept.js";
import { lengthSays } from "./lengths.js";
import { settled } from "./model.js";
import { pad, takesKeys } from "./pad.js";
import { photoButtons } from "./photos.js";
import { foundWords } from "./windowpage.js";
import { count, partWords } from "./words.js";

function kindOf(on, family) {
  const known = family?.pieces.find(([name]) => name === on);
  if (known) return known[2];
  if (on.includes(".lite")) return "lite";
  return on.includes("bar") ? "muntin" : "";
}

export async function part(slug, asked, on) {
  const { house, made, windows } = await standing(slug);
  const wid = settled(asked, made);
  const one = windows.find((each) => each.wid === wid);
  if (!one) return { page: h("div", { class: "empty" }, h("h1", {}, "This window is not here"), h("a", { class: "button", href: `#/${slug}` }, "All windows")), house };
  const family = house.families.find((each) => each.key === one.document.family);
  const faults = house.faults.filter((row) => row.on.includes(kindOf(on, family)));
  const wood = faults.some((row) => row.key === "decay");
  const home = `#/${slug}/w/${wid}`;
  const say = { fault: "", severity: "", files: [] };
  let active = null;
  const more = h("div", {});
  const wrong = h("p", { class: "says", role: "alert" });

  const inches = house.system === "metric" ? "mm" : "in";
  const controls = {};
  const entry = (name, label, unit, hint) => {
    const input = takesKeys(h("input", { name, placeholder: hint, inputmode: "decimal" }));
    input.addEventListener("focus", () => (active = input));
    controls[name] = input;
    return field(label, input, { unit });
  };

  function fill() {
    const fault = faults.find((row) => row.key === say.fault);
    if (!fault) return;
    for (const name of Object.keys(controls)) delete controls[name];
    const measures = {
      length: () => entry("length", "How long", inches, "all of it"),
      count: () => entry("count", "How many", "", "1"),
      area: () => entry("area", "How much", house.system === "metric" ? "m²" : "ft²", "all of it"),
    };
    const severities = ["slight", "moderate", "severe"].filter((each) => fault.severities.includes(each));
    say.severity = fault.usual;
    const shown = [
      severities.length > 1 && chips("How bad", "severity", severities.map((each) => [each, each]), fault.usual, (value) => (say.severity = value)),
      h("div", { class: "fields two" }, measures[fault.measured]?.(), wood && entry("probe", "Awl goes in", inches, ""), wood && entry("moisture", "Meter", "%", "")),
    ];
    const note = h("input", { name: "note", autocomplete: "off" });
    controls.note = note;
    const taken = h("span", { class: "soft small" });
    more.replaceChildren(
      ...shown.filter(Boolean),
      Object.keys(controls).length > 1 ? pad({ system: house.system, active: () => active ?? Object.values(controls)[0] }) : "",
      field("Note", note, { wide: true }),
      h("div", { class: "row" }, photoButtons((files) => ((say.files = [...say.files, ...files]), (taken.textContent = `${count(say.files.length, "photograph")} with it.`))), taken),
      wrong,
      h("button", { type: "submit", class: "button primary large" }, "Keep the finding"),
    );
    if (more.getBoundingClientRect().bottom > window.innerHeight) more.scrollIntoView({ block: "start" });
    active = controls.length ?? controls.count ?? controls.area ?? null;
  }

  function read() {
    const found = { on, fault: say.fault };
    const fault = faults.find((row) => row.key === say.fault);
    if (say.severity && say.severity !== fault.usual) found.severity = say.severity;
    for (const name of ["length", "probe"]) {
      const text = controls[name]?.value.trim();
      if (!text) continue;
      const says = lengthSays(text, house.system);
      if (says) throw new Error(says);
      found[name] = /[a-z"']/i.test(text) ? text : `${text} ${inches}`;
    }
    for (const name of ["count", "moisture", "area"]) {
      const text = controls[name]?.value.trim();
      if (!text) continue;
      const value = Number(text.replace(",", "."));
      if (!(value >= 0)) throw new Error(`Found “${text}”, expected a number.`);
      found[name] = name === "area" ? `${text} ${house.system === "metric" ? "m2" : "ft2"}` : value;
    }
    if (controls.note?.value.trim()) found.note = controls.note.value.trim();
    return found;
  }

  // What is typed so far, for a page that is killed before it is kept.
  const half = `${slug}:${wid}:${on}`;
  const save = () => keepDraft(half, say.fault ? { fault: say.fault, severity: say.severity, typed: Object.fromEntries(Object.entries(controls).map(([name, control]) => [name, control.value])) } : null);

  function restore(left, form) {
    const radio = form.querySelector(`input[name=fault][value="${CSS.escape(left.fault)}"]`);
    if (!radio) return;
    radio.checked = true;
    say.fault = left.fault;
    fill();
    say.severity = left.severity;
    for (const each of form.querySelectorAll("input[name=severity]")) each.checked = each.value === left.severity;
    for (const [name, value] of Object.entries(left.typed)) if (controls[name]) controls[name].value = value;
  }

  // Once, however often the button is touched meanwhile.
  let under = false;

  async function keep(event) {
    event.preventDefault();
    if (!say.fault || under) return;
    let found;
    try {
      found = read();
    } catch (error) {
      wrong.textContent = error.message;
      return;
    }
    under = true;
    try {
      await put(found);
    } finally {
      under = false;
    }
  }

  async function put(found) {
    const photos = [];
    for (const file of say.files) photos.push((await addPhoto(slug, wid, file, on, found.note ?? "")).key);
    if (photos.length) found.photos = photos;
    await addFinding(slug, wid, found);
    await keepDraft(half, null);
    notice(`${partWords(on)}: kept.`);
    location.hash = home;
  }

  const own = (one.document.condition?.found ?? []).filter((each) => each.on === on);
  const page = h(
    "form",
    { class: "partpage", onsubmit: keep, oninput: save, onchange: save },
    h("div", { class: "pagehead" }, h("div", { class: "grow" }, h("h1", {}, partWords(on)), h("p", { class: "soft" }, `Window ${one.number}`)), h("a", { class: "button", href: home }, "Back")),
    own.length > 0 && h("ul", { class: "found" }, own.map((each) => h("li", {}, h("span", {}, foundWords(each, house)), h("button", { type: "button", class: "button quiet", onclick: async () => (await removeFinding(slug, wid, each), (location.hash = home)) }, "Take away")))),
    h("button", { type: "button", class: "button", onclick: async () => (await isSound(slug, wid, on), notice(`${partWords(on)}: sound.`), (location.hash = home)) }, "Sound"),
    chips("What is wrong", "fault", faults.map((row) => [row.key, row.name]), "", (value) => ((say.fault = value), fill())),
    more,
  );
  const left = await draft(half);
  if (left) restore(left, page);
  return { page, house };
}
