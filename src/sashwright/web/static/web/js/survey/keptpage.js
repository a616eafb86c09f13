// What is kept on this device: on its way, in dispute, refused; and what was given up.

import { all, fact } from "./db.js";
import { field, h } from "./dom.js";
import { bringBack, decide, giveUp, lastStep, mend, outbox, undo } from "./kept.js";
import { widOf } from "./model.js";
import { adopt, send, state } from "./send.js";
import { count, LABELS, says } from "./words.js";

export async function kept() {
  const page = h("div", { class: "keptpage" });
  // Forms stay as they are, with what is chosen and typed in them, as long as their entry is the same.
  const forms = new Map();
  const formOf = (row, named) => {
    const same = JSON.stringify([row.seq, row.entry, row.answer]);
    if (!forms.has(same)) forms.set(same, disputed(row) ? dispute(row, named) : refusal(row, named));
    return forms.get(same);
  };
  const refresh = async () => {
    const [rows, given, houses, made] = [await outbox(), await all("given"), await all("houses"), await fact("made", {})];
    const named = names(rows, houses, made);
    const trouble = rows.filter((row) => row.state === "trouble");
    const waiting = rows.filter((row) => row.state !== "trouble");
    const undoes = await lastStep();
    const focused = document.activeElement;
    page.replaceChildren(
      h(
        "div",
        { class: "pagehead" },
        h("div", { class: "grow" }, h("h1", {}, "Kept on this device"), h("p", { class: "soft" }, rows.length ? `${count(rows.length, "entry", "entries")} not at the shop yet.` : "All is sent.")),
        h("button", { type: "button", class: "button", disabled: !undoes, onclick: () => undo() }, "Undo the last"),
        h("button", { type: "button", class: "button primary", disabled: !waiting.length, onclick: () => send() }, "Send now"),
      ),
      state.says ? h("p", { class: state.name === "away" ? "sendstate" : "sendstate conflict" }, state.says, " ", way()) : "",
      trouble.length ? h("section", { class: "section" }, h("h2", {}, "To decide"), trouble.map((row) => formOf(row, named))) : "",
      waiting.length ? h("section", { class: "section" }, h("h2", {}, "On its way"), h("ol", { class: "entries" }, waiting.map((row) => h("li", {}, title(row.entry, named), h("span", { class: "soft small" }, time(row.entry.at)))))) : "",
      given.length ? h("section", { class: "section" }, h("h2", {}, "Given up"), h("ul", { class: "entries" }, given.map((row) => gone(row, named)))) : "",
    );
    if (page.contains(focused)) focused.focus();
  };
  await refresh();
  return { page, refresh };
}

function way() {
  if (state.name === "signed-out") return h("a", { class: "button", href: "/sign-in?next=/offline/" }, "Sign in");
  return state.name === "other" ? h("button", { type: "button", class: "button", onclick: () => adopt() }, "Send them in my name") : "";
}

// Numbers of the windows that entries are about.
function names(rows, houses, made) {
  const numbers = new Map();
  for (const house of houses) for (const each of house.windows) numbers.set(`id:${each.id}`, each.number);
  for (const { entry } of rows) if (entry.kind === "add-window") numbers.set(`made:${entry.key}`, entry.document.number);
  return (entry) => (entry.kind === "add-window" ? entry.document.number : numbers.get(widOf(entry.window, made)) ?? "");
}

function title(entry, named) {
  const number = named(entry);
  return h("span", {}, number && h("strong", {}, number), number ? `: ${says(entry)}` : says(entry));
}

function time(text) {
  return new Date(text).toLocaleString([], { day: "numeric", month: "short", hour: "2-digit", minute: "2-digit" });
}

function disputed(row) {
  return row.answer?.status === "conflict" && row.entry.kind === "set-fields" && row.answer.window;
}

// Mine and theirs side by side, field by field.
function dispute(row, named) {
  const who = row.answer.who;
  const lines = row.answer.fields.map((each, index) => {
    const name = `d${row.seq}-${index}`;
    const pick = (value, text) =>
      h("td", {}, h("label", { class: "pick" }, h("input", { type: "radio", name, value, required: true, "data-path": each.path }), h("span", { class: "figure" }, text)));
    return h("tr", {}, h("th", { scope: "row" }, LABELS[each.path] ?? each.label), pick("mine", each.mine), pick("theirs", each.theirs));
  });
  const form = h(
    "form",
    {
      class: "conflict",
      onsubmit: (event) => {
        event.preventDefault();
        const mine = [...form.querySelectorAll("input:checked")].filter((input) => input.value === "mine");
        decide(row.seq, mine.map((input) => input.dataset.path));
      },
    },
    h("p", {}, h("strong", {}, `Window ${named(row.entry)}: ${who} changed the same meanwhile.`), " Which is right?"),
    h("table", {}, h("thead", {}, h("tr", {}, h("th", { scope: "col" }, h("span", { class: "visually-hidden" }, "Field")), h("th", { scope: "col" }, "Yours"), h("th", { scope: "col" }, `${who}’s`))), h("tbody", {}, lines)),
    h("button", { class: "button red" }, "So it is"),
  );
  return form;
}

function refusal(row, named) {
  const { entry, answer } = row;
  const form = h(
    "form",
    { class: "conflict", onsubmit: (event) => (event.preventDefault(), again(row, form)) },
    h("p", {}, h("strong", {}, title(entry, named))),
    h("p", {}, answer?.says ?? "It was refused."),
    h("div", { class: "fields two" }, Object.entries(fieldsOf(entry)).map(([path, value]) => field(LABELS[path] ?? path, h("input", { type: "text", name: path, value: value ?? "" })))),
    h("div", { class: "row" }, h("button", { class: "button" }, "Try again"), h("button", { type: "button", class: "button quiet", onclick: () => giveUp(row.seq, answer?.says ?? "given up") }, "Give up")),
  );
  return form;
}

// What of a refused entry can be typed anew.
function fieldsOf(entry) {
  if (entry.kind === "add-window") return pick(entry.document, ["number", "width", "height", "room"]);
  if (entry.kind === "set-fields") return Object.fromEntries(Object.entries(entry.fields).filter(([, value]) => value === null || typeof value !== "object"));
  return entry.kind === "reading" ? { mass: entry.mass } : {};
}

function pick(from, wanted) {
  return Object.fromEntries(wanted.map((name) => [name, from[name]]));
}

function again(row, form) {
  const { entry } = row;
  const typed = {};
  for (const [path, old] of Object.entries(fieldsOf(entry))) {
    const text = form.elements[path].value.trim();
    typed[path] = typeof old === "number" && text ? Number(text) : text || (old === null ? null : "");
  }
  if (entry.kind === "add-window") mend(row.seq, { document: { ...entry.document, ...typed } });
  else if (entry.kind === "set-fields") mend(row.seq, { fields: { ...entry.fields, ...typed } });
  else mend(row.seq, typed);
}

function gone(row, named) {
  return h("li", {}, title(row.entry, named), h("span", { class: "soft small" }, `${row.why}, ${time(row.at)}`), h("button", { type: "button", class: "button quiet", onclick: () => bringBack(row.seq) }, "Bring back"));
}
