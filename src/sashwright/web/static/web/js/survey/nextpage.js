// The next window: its number, family, place and size are suggested by the last one; a width, a height, done.

import { field, h, options } from "./dom.js";
import { elevation } from "./draw.js";
import { addWindow, draft, keepDraft, standing, undo } from "./kept.js";
import { lengthSays, shortly } from "./lengths.js";
import { nextNumber } from "./model.js";
import { pad, takesKeys } from "./pad.js";

const CARRIED = ["family", "wall", "storey", "room", "upper", "lower"];

function suggested(house, windows) {
  const last = windows.at(-1)?.document;
  const taken = new Set(windows.map((each) => each.number));
  const carried = last ? Object.fromEntries(CARRIED.filter((name) => last[name] !== undefined).map((name) => [name, last[name]])) : {};
  return {
    family: house.families[0]?.key,
    wall: house.walls[0],
    storey: 1,
    room: "",
    ...carried,
    number: nextNumber(last?.number ?? null, taken),
    width: "",
    height: "",
    was: last ? { number: last.number, width: shortly(last.width, house.system), height: shortly(last.height, house.system) } : null,
  };
}

export async function next(slug) {
  const start = await standing(slug);
  const { house } = start;
  if (!house?.families.length) {
    return { page: h("div", { class: "empty" }, h("h1", {}, "First a family"), h("p", {}, "Describe a family of windows at the shop’s computer, then take the house along again.")) };
  }
  const fresh = suggested(house, start.windows);
  const left = await draft(slug);
  // What was kept just before the page was killed is not to be typed again.
  let now = left && !start.windows.some((each) => each.number === left.number) ? { ...fresh, ...left } : fresh;
  let active = null;
  let known = start.windows;
  let underWay = 0;

  const input = (name, more = {}) => {
    const made = h("input", { name, value: now[name] ?? "", ...more });
    made.addEventListener("input", () => {
      now[name] = made.value;
      told();
    });
    return made;
  };
  const length = (name) => {
    const made = takesKeys(input(name, { inputmode: "decimal", enterkeyhint: "next" }));
    // However it was typed, it is no suggestion any more.
    made.addEventListener("input", () => delete made.dataset.ghost, { capture: true });
    made.addEventListener("focus", () => {
      active = made;
      made.select();
      said();
    });
    return made;
  };
  const number = input("number", { autocapitalize: "characters", autocomplete: "off" });
  const width = length("width");
  const height = length("height");
  const unit = house.system === "metric" ? "mm" : "in";
  const fields = { number: field("Number", number), width: field("Width", width, { unit }), height: field("Height", height, { unit }) };
  const drawn = h("div", { class: "drawn", "aria-hidden": "true" });
  const rooms = h("datalist", { id: "rooms" }, [...new Set([...house.rooms, ...start.windows.map((each) => each.document.room)])].filter(Boolean).map((value) => h("option", { value })));
  const summary = h("summary", {});
  const select = (name, offered) => {
    const made = h("select", { onchange: () => ((now[name] = name === "storey" ? Number(made.value) : made.value), told(), about()) }, options(offered, now[name]));
    return made;
  };
  const storeys = [-1, 1, 2, 3, 4, 5].map((each) => [each, each < 0 ? "cellar" : String(each)]);
  const selects = {
    family: select("family", house.families.map((each) => [each.key, each.name ? `${each.key}: ${each.name}` : each.key])),
    wall: select("wall", house.walls),
    storey: select("storey", storeys),
    room: input("room", { list: "rooms", autocomplete: "off" }),
  };
  selects.room.addEventListener("input", () => about());
  const place = h(
    "details",
    { class: "group place" },
    summary,
    h("div", { class: "fields two body" }, field("Family", selects.family), field("Room", selects.room), field("Wall", selects.wall), field("Storey", selects.storey), rooms),
  );
  const recent = h("div", { class: "recent", role: "status" });
  const keys = pad({ system: house.system, active: () => active ?? width, next: go, nextText: "Next" });
  const form = h(
    "form",
    { class: "nextform", onsubmit: (event) => (event.preventDefault(), go()) },
    h("div", { class: "nexthead" }, drawn, h("div", { class: "nextfields" }, fields.number, h("div", { class: "fields two" }, fields.width, fields.height))),
    place,
    keys,
    h("button", { class: "visually-hidden", tabindex: "-1" }, "Next"),
    recent,
  );
  const page = h("div", { class: "nextpage" }, h("h1", { class: "visually-hidden" }, "Next window"), form);

  // The large key says what it does.
  function said() {
    const key = keys.querySelector(".padnext");
    key.textContent = active === height ? `Keep ${number.value.trim()}` : "Next: the height";
    key.setAttribute("aria-label", key.textContent);
  }

  function about() {
    const family = house.families.find((each) => each.key === now.family);
    summary.replaceChildren(
      h("span", {}, [`family ${now.family}`, now.room, `${now.wall} wall`, now.storey < 0 ? "cellar" : `storey ${now.storey}`].filter(Boolean).join(" · ")),
      h("span", { class: "count" }, "change"),
    );
    summary.title = family?.name ?? "";
  }

  // What holds for a size: as typed, or as the window before.
  function size(name, control) {
    return control.dataset.ghost === undefined ? control.value : now.was?.[name] ?? "";
  }

  function ghost() {
    for (const [name, control] of [["width", width], ["height", height]]) {
      if (now[name] || !now.was) continue;
      control.value = now.was[name];
      control.dataset.ghost = "";
    }
    draw();
  }

  function documentNow() {
    const { was, number: called, ...rest } = now;
    const made = { ...rest, number: called.trim(), width: size("width", width).trim(), height: size("height", height).trim() };
    made.room = (made.room ?? "").trim();
    return made;
  }

  function draw() {
    const family = house.families.find((each) => each.key === now.family);
    drawn.replaceChildren(elevation(family?.outline, documentNow(), house.system, { id: "next" }) ?? "");
    for (const [name, control] of [["width", width], ["height", height]]) {
      fields[name].classList.toggle("ghost", control.dataset.ghost !== undefined);
      fields[name].querySelector("label").textContent = name === "width" ? "Width" : "Height";
      if (control.dataset.ghost !== undefined) fields[name].querySelector("label").append(h("span", { class: "soft" }, `, as ${now.was.number}`));
    }
  }

  function told() {
    said();
    for (const each of Object.values(fields)) each.tell("");
    draw();
    keepDraft(slug, now);
  }

  function ready() {
    number.value = now.number;
    for (const control of [width, height]) {
      control.value = "";
      delete control.dataset.ghost;
    }
    ghost();
    about();
    width.focus();
  }

  // The large key: from the width to the height, from there to the next window.
  function go() {
    if (document.activeElement === number) {
      width.focus();
      return;
    }
    if (active === width) {
      const says = lengthSays(size("width", width), house.system);
      fields.width.tell(says);
      if (!says) height.focus();
      return;
    }
    keep();
  }

  // The page is ready for the next window before this one is on the disk, so that nobody who types on has to
  // wait; what could not be kept comes back.
  async function keep() {
    const made = documentNow();
    const says = {
      number: /^[A-Za-z0-9][A-Za-z0-9.-]{0,15}$/.test(made.number) ? "" : "Expected a number of letters and figures.",
      width: lengthSays(made.width, house.system),
      height: lengthSays(made.height, house.system),
    };
    if (known.some((each) => each.number === made.number)) says.number = `There is a window ${made.number} already.`;
    for (const [name, text] of Object.entries(says)) fields[name].tell(text);
    const wrong = Object.keys(says).find((name) => says[name]);
    if (wrong) {
      ({ number, width, height })[wrong].focus();
      return;
    }
    const before = known;
    known = [...known, { number: made.number, document: made }];
    now = suggested(house, known);
    ready();
    underWay += 1;
    try {
      const wid = await addWindow(slug, made);
      await keepDraft(slug, now.width || now.height ? now : null);
      added(made, wid);
    } catch (error) {
      known = before;
      put({ ...suggested(house, known), ...made });
      throw error;
    } finally {
      underWay -= 1;
    }
  }

  function added(made, wid) {
    recent.replaceChildren(
      h("span", {}, h("strong", {}, made.number), ` kept, ${made.width} × ${made.height}`),
      h("a", { class: "button", href: `#/${slug}/w/${wid}` }, "Findings, photographs"),
      h("button", { type: "button", class: "button quiet", onclick: back }, `Undo ${made.number}`),
    );
  }

  async function back() {
    const entry = await undo();
    known = (await standing(slug)).windows;
    recent.replaceChildren(h("span", {}, entry ? `${entry.document?.number ?? "It"} is taken back.` : "There is nothing to take back."));
    put({ ...suggested(house, known), ...entry?.document });
  }

  // Have all fields say this.
  function put(values) {
    now = values;
    number.value = now.number;
    for (const [name, control] of [["width", width], ["height", height]]) {
      delete control.dataset.ghost;
      control.value = now[name] ?? "";
    }
    for (const [name, control] of Object.entries(selects)) control.value = now[name] ?? "";
    told();
    about();
    width.focus();
  }

  async function refresh() {
    const fresh = (await standing(slug)).windows;
    if (!underWay) known = fresh;
  }

  width.value = now.width;
  height.value = now.height;
  ghost();
  about();
  return { page, house, refresh, focus: () => width.focus() };
}
