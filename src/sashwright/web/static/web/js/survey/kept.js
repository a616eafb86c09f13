// Everything that is done here becomes an entry, on the disk before the page goes on.

import { all, ask, fact, one, setFact, transact } from "./db.js";
import { laid, settled, whichOf, windowsOf } from "./model.js";

const STEPS = 30;
// How many steps can be taken back.

export function changed() {
  window.dispatchEvent(new Event("survey:changed"));
}

async function facts(store, name, otherwise) {
  return (await ask(store.get(name)))?.value ?? otherwise;
}

function fresh(kind, who, house, more) {
  return { key: crypto.randomUUID(), kind, who: who.id, house, at: new Date().toISOString(), ...more };
}

// Keeps an entry as the last of them; `make` may look at what is kept, in the same breath.
async function keep(kind, slug, make, picture = null) {
  const names = ["outbox", "houses", "facts", ...(picture ? ["pictures"] : [])];
  const entry = await transact(names, async ({ outbox, houses, facts: known, pictures }) => {
    const who = await facts(known, "who", null);
    if (!who) throw new Error("Nobody is known on this device yet: take a house along first.");
    const rows = await ask(outbox.getAll());
    const house = await ask(houses.get(slug));
    const made = await facts(known, "made", {});
    const entry = fresh(kind, who, slug, make({ rows, house, made }));
    await ask(outbox.add({ entry, state: "waiting", tried: false }));
    if (picture) await ask(pictures.put({ key: entry.key, ...picture }));
    const steps = await facts(known, "steps", []);
    await ask(known.put({ name: "steps", value: [...steps, entry.key].slice(-STEPS) }));
    return entry;
  });
  changed();
  ready();
  return entry;
}

// Something may go now.
function ready() {
  window.dispatchEvent(new Event("survey:kept"));
}

function about(made, wid) {
  return { window: whichOf(settled(wid, made)) };
}

export async function addWindow(slug, document) {
  const entry = await keep("add-window", slug, () => ({ document }));
  return `made:${entry.key}`;
}

// `seen` is what the person has before their eyes: the version, and what was changed here since. Without it,
// what the device has now. A page that stays open while the house is fetched anew still shows the old one.
export async function setFields(slug, wid, fields, seen = null) {
  const entry = await keep("set-fields", slug, ({ rows, house, made }) => {
    if (seen) return { window: whichOf(seen.wid), fields, base: seen.base, was: { ...seen.was } };
    const mine = settled(wid, made);
    const base = house.windows.find((each) => `id:${each.id}` === mine)?.version ?? 0;
    return { ...about(made, wid), fields, base, was: laid(rows, mine, made) };
  });
  if (seen) Object.assign(seen.was, fields);
  return entry;
}

export function addFinding(slug, wid, found) {
  return keep("finding", slug, ({ made }) => ({ ...about(made, wid), found, act: "add" }));
}

export function removeFinding(slug, wid, found) {
  return keep("finding", slug, ({ made }) => ({ ...about(made, wid), found, act: "remove" }));
}

export function isSound(slug, wid, on) {
  return keep("sound", slug, ({ made }) => ({ ...about(made, wid), on }));
}

export function rest(slug, wid, act) {
  return keep("rest", slug, ({ made }) => ({ ...about(made, wid), act }));
}

export function addReading(slug, wid, which, mass, state, note = "") {
  return keep("reading", slug, ({ made }) => ({ ...about(made, wid), which, mass, state, note }));
}

// The bytes themselves are kept: a file of the camera may be gone tomorrow.
export async function addPhoto(slug, wid, file, component = "", note = "") {
  const bytes = await file.arrayBuffer();
  const picture = { bytes, type: file.type || "image/jpeg" };
  return keep("photo", slug, ({ made }) => ({ ...(wid ? about(made, wid) : {}), component, note }), picture);
}

// --- taken back ---------------------------------------------------------------------

export async function undo() {
  const told = await transact(["outbox", "given", "facts"], async (stores) => {
    const { outbox, facts: known } = stores;
    const steps = await facts(known, "steps", []);
    const rows = await ask(outbox.getAll());
    let told = null;
    // What was given up meanwhile is no step any more.
    while (steps.length && !told) {
      const key = steps.pop();
      const row = rows.find((each) => each.entry.key === key);
      // What was refused, or never tried, is here alone.
      if (row && (!row.tried || row.state === "trouble")) {
        await giveUpIn(stores, row, "taken back");
        told = row.entry;
        break;
      }
      told = row?.entry ?? (await facts(known, `sent:${key}`, null));
      const who = await facts(known, "who", null);
      if (told) await ask(outbox.add({ entry: fresh("undo", who, told.house, { of: key }), state: "waiting", tried: false }));
    }
    await ask(known.put({ name: "steps", value: steps }));
    return told;
  });
  changed();
  ready();
  return told;
}

async function giveUpIn({ outbox, given }, row, why) {
  await ask(outbox.delete(row.seq));
  await ask(given.add({ entry: row.entry, why, answer: row.answer ?? null, at: new Date().toISOString() }));
}

// Given up on purpose; a copy stays in a list, photographs too.
export async function giveUp(seq, why) {
  await transact(["outbox", "given"], async (stores) => {
    const row = await ask(stores.outbox.get(seq));
    if (row) await giveUpIn(stores, row, why);
  });
  changed();
}

// From the list of what was given up, once more: as a new entry, the last of all.
export async function bringBack(seq) {
  await transact(["outbox", "given", "pictures"], async ({ outbox, given, pictures }) => {
    const row = await ask(given.get(seq));
    if (!row) return;
    const entry = { ...row.entry, key: crypto.randomUUID() };
    const picture = await ask(pictures.get(row.entry.key));
    if (picture) {
      await ask(pictures.put({ ...picture, key: entry.key }));
      await ask(pictures.delete(row.entry.key));
    }
    await ask(outbox.add({ entry, state: "waiting", tried: false }));
    await ask(given.delete(seq));
  });
  changed();
  ready();
}

// --- in trouble ---------------------------------------------------------------------

// The person has chosen: `mine` are the fields that are to count against the other's; the rest is theirs.
export async function decide(seq, mine) {
  await transact(["outbox", "given"], async (stores) => {
    const row = await ask(stores.outbox.get(seq));
    if (row?.state !== "trouble") return;
    const disputed = row.answer.fields.map((each) => each.path);
    const theirs = Object.fromEntries(
      Object.entries(row.entry.fields).filter(([path]) => disputed.some((one) => within(one, path)) && !mine.some((one) => within(one, path))),
    );
    const fields = Object.fromEntries(Object.entries(row.entry.fields).filter(([path]) => !(path in theirs)));
    if (Object.keys(theirs).length) {
      const left = { ...row.entry, fields: theirs };
      await ask(stores.given.add({ entry: left, why: "theirs taken", answer: row.answer, at: new Date().toISOString() }));
    }
    if (!Object.keys(fields).length) {
      await ask(stores.outbox.delete(row.seq));
      return;
    }
    // Nothing has been kept under this key, so it may say something else now. It is told what the other one
    // did, and so is no longer in dispute with it.
    const now = row.answer.window;
    const entry = { ...row.entry, window: { id: now.id }, base: now.version, was: {}, fields };
    await ask(stores.outbox.put({ ...row, entry, state: "waiting", answer: null, tried: false }));
  });
  changed();
  ready();
}

function within(one, other) {
  return one === other || one.startsWith(`${other}.`) || other.startsWith(`${one}.`);
}

// A refused entry put right, in its old place.
export async function mend(seq, change) {
  await transact(["outbox"], async ({ outbox }) => {
    const row = await ask(outbox.get(seq));
    if (row?.state !== "trouble") return;
    await ask(outbox.put({ ...row, entry: { ...row.entry, ...change }, state: "waiting", answer: null, tried: false }));
  });
  changed();
  ready();
}

// --- looked at ----------------------------------------------------------------------

export function outbox() {
  return all("outbox");
}

export async function standing(slug) {
  return transact(
    ["houses", "outbox", "facts"],
    async ({ houses, outbox: kept, facts: known }) => {
      const house = await ask(houses.get(slug));
      const rows = await ask(kept.getAll());
      const made = await facts(known, "made", {});
      return { house, rows, made, windows: house ? windowsOf(house, rows, made) : [] };
    },
    "readonly",
  );
}

export async function lastStep() {
  const steps = await fact("steps", []);
  return steps.length > 0;
}

// --- forms half filled in -----------------------------------------------------------

export function keepDraft(name, value) {
  return setFact(`draft:${name}`, value);
}

export function draft(name) {
  return fact(`draft:${name}`, null);
}

export { all, fact, one, setFact };
