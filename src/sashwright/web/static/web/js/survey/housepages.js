// The houses on this device, and the schedule of one.

import { all } from "./db.js";
import { field, h, notice, options } from "./dom.js";
import { elevation } from "./draw.js";
import { hello, leaveBehind, takeAlong } from "./send.js";
import { shortly } from "./lengths.js";
import { addPhoto, standing } from "./kept.js";
import { photoButtons } from "./photos.js";
import { count } from "./words.js";

export async function houses() {
  const kept = await all("houses");
  const place = h("div", {});
  const more = h("div", {});
  const page = h(
    "div",
    {},
    h("div", { class: "pagehead" }, h("div", { class: "grow" }, h("h1", {}, "Survey"), h("p", { class: "soft" }, "Houses kept on this device; they open without a connection."))),
    place,
    more,
  );
  place.append(
    kept.length
      ? h("ul", { class: "houses" }, kept.map(card))
      : h("div", { class: "empty" }, h("h2", {}, "No house on this device yet"), h("p", {}, "Take one along while there is a connection. From then on it opens anywhere.")),
  );
  if (kept.length && !(await navigator.storage?.persisted?.())) {
    place.append(h("p", { class: "soft small" }, "This browser may clear what it keeps when the device runs full: put the survey on the home screen, and send soon."));
  }
  offers(kept, more);
  return { page };
}

function card(house) {
  return h(
    "li",
    { class: "housecard" },
    h("a", { class: "main", href: `#/${house.slug}` }, h("span", { class: "name" }, house.name), h("span", { class: "place" }, house.place || "No place given")),
    h("p", { class: "soft small" }, `${count(house.windows.length, "window")}, as of ${when(house.taken)}`),
    h("div", { class: "row" }, h("button", { type: "button", class: "button quiet", onclick: () => leave(house) }, `Leave ${house.name} behind`)),
  );
}

function when(text) {
  return new Date(text).toLocaleString([], { day: "numeric", month: "short", hour: "2-digit", minute: "2-digit" });
}

async function leave(house) {
  const rows = (await all("outbox")).filter((row) => row.entry.house === house.slug);
  if (rows.length) {
    notice(`${count(rows.length, "entry", "entries")} of ${house.name} are still kept here; send them first.`);
    return;
  }
  await leaveBehind(house.slug);
  location.reload();
}

async function offers(kept, place) {
  let here;
  try {
    here = await hello();
  } catch (error) {
    const said = error.message === "signed out" ? h("p", {}, h("a", { href: "/sign-in?next=/offline/" }, "Sign in"), " to take more houses along.") : h("p", { class: "soft" }, "There is no connection just now.");
    place.replaceChildren(said);
    return;
  }
  const known = new Set(kept.map((house) => house.slug));
  const take = (house, button) => async () => {
    button().disabled = true;
    try {
      await takeAlong(house.slug);
      location.hash = `#/${house.slug}`;
    } catch (error) {
      button().disabled = false;
      notice(error.message);
    }
  };
  const row = (house) => {
    let made;
    made = h("button", { type: "button", class: "button", onclick: take(house, () => made) }, known.has(house.slug) ? "Fetch again" : "Take along");
    made.setAttribute("aria-label", `${made.textContent}: ${house.name}`);
    return h("li", {}, h("span", {}, h("strong", {}, house.name), h("span", { class: "soft" }, ` ${house.place}, ${count(house.windows, "window")}`)), made);
  };
  place.replaceChildren(
    h("section", { class: "section" }, h("h2", {}, "Houses of the shop"), here.houses.length ? h("ul", { class: "offers" }, here.houses.map(row)) : h("p", { class: "soft" }, "The shop has no house yet.")),
  );
}

// --- one house ----------------------------------------------------------------------

export async function schedule(slug) {
  const { house, windows } = await standing(slug);
  if (!house) return { page: absent(slug) };
  const list = h("ul", { class: "windows" });
  const looked = { text: "", wall: "" };
  const draw = (shown) => {
    const wanted = shown.filter((each) => (!looked.wall || each.document.wall === looked.wall) && `${each.number} ${each.document.room ?? ""} ${each.document.note ?? ""}`.toLowerCase().includes(looked.text));
    list.replaceChildren(...wanted.map((each) => line(house, each)));
    if (!wanted.length) list.append(h("li", { class: "soft" }, shown.length ? "None like this." : "No window yet."));
  };
  draw(windows);
  const find = h("input", { type: "search", placeholder: "Number, room or note", autocomplete: "off", oninput: () => ((looked.text = find.value.toLowerCase()), draw(latest)) });
  const wall = h("select", { onchange: () => ((looked.wall = wall.value), draw(latest)) }, options([["", "All"], ...house.walls], ""));
  let latest = windows;
  const page = h(
    "div",
    {},
    h(
      "div",
      { class: "pagehead" },
      h("div", { class: "grow" }, h("h1", {}, house.name), h("p", { class: "soft" }, house.place)),
      h("a", { class: "button primary large", href: `#/${slug}/next` }, "Next window"),
    ),
    h("div", { class: "fields two" }, field("Find", find), field("Wall", wall)),
    list,
    h("section", { class: "section" }, h("h2", {}, "Photographs of the house"), photoButtons(async (files) => {
      for (const file of files) await addPhoto(slug, null, file);
      notice(`${count(files.length, "photograph")} of the house kept.`);
    })),
  );
  const refresh = async () => {
    latest = (await standing(slug)).windows;
    draw(latest);
  };
  return { page, refresh, house };
}

function absent(slug) {
  const fetch = async () => {
    try {
      await takeAlong(slug);
      window.dispatchEvent(new Event("hashchange"));
    } catch (error) {
      notice(error.message);
    }
  };
  return h(
    "div",
    { class: "empty" },
    h("h1", {}, "This house is not on this device"),
    h("p", {}, "With a connection it can be taken along; from then on it opens anywhere."),
    h("div", { class: "row" }, h("button", { type: "button", class: "button primary", onclick: fetch }, "Take along"), h("a", { class: "button", href: "#/" }, "All houses")),
  );
}

function line(house, window) {
  const { document, wid, number } = window;
  const family = house.families.find((each) => each.key === document.family);
  const found = document.condition?.found?.length ?? 0;
  const told = [found && count(found, "finding"), window.photographs && count(window.photographs, "photograph")].filter(Boolean).join(", ");
  return h(
    "li",
    {},
    h(
      "a",
      { href: `#/${house.slug}/w/${wid}`, class: window.trouble ? "trouble" : "" },
      h("span", { class: "drawn", "aria-hidden": "true" }, elevation(family?.outline, document, house.system, { id: `l-${wid.replace(/\W/g, "")}` })),
      h(
        "span",
        { class: "line" },
        h("span", { class: "figure number" }, number),
        h("span", {}, `${shortly(document.width, house.system)} × ${shortly(document.height, house.system)}`),
        window.trouble ? h("span", { class: "waits red" }, "to decide") : window.waiting > 0 && h("span", { class: "waits" }, "kept here"),
      ),
      h(
        "span",
        { class: "line" },
        h("span", { class: "soft small" }, [document.room, document.wall].filter(Boolean).join(", ")),
        h("span", { class: "soft small" }, told || "not surveyed yet"),
      ),
    ),
  );
}
