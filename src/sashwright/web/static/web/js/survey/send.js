// Brings the kept entries to the shop's computer when it can be reached: in their order, each once. What came
// in is taken out here only when its answer has arrived; sent twice, it is answered as the first time.

import { all, ask, fact, setFact, transact } from "./db.js";
import { changed } from "./kept.js";
import { widOf } from "./model.js";

const TOGETHER = 50;
const FIRST_WAIT = 4000;
const LONGEST_WAIT = 5 * 60 * 1000;
const PATIENCE = 30000;
const PATIENCE_FOR_PHOTOS = 180000;

export const state = { name: "idle", says: "" };
let wait = FIRST_WAIT;
let timer = 0;

function become(name, says = "") {
  state.name = name;
  state.says = says;
  window.dispatchEvent(new Event("survey:sending"));
}

class Away extends Error {}

async function call(path, how = {}, patience = PATIENCE) {
  let answer;
  try {
    answer = await fetch(path, { credentials: "same-origin", redirect: "manual", cache: "no-store", signal: AbortSignal.timeout(patience), ...how });
  } catch {
    throw new Away("The shop’s computer cannot be reached.");
  }
  if (answer.type === "opaqueredirect" || answer.status === 401) throw new Away("signed out");
  return answer;
}

// Who is known there, and which houses there are. Throws where nobody answers.
export async function hello() {
  const answer = await call("/offline/here.json");
  if (answer.status === 403) throw new Away("not allowed");
  if (!answer.ok) throw new Away("The shop’s computer cannot be reached.");
  const here = await answer.json();
  await setFact("theme", here.theme);
  // Whoever is known there writes down what comes next, unless somebody else's entries are still waiting.
  if (!(await fact("who")) || !(await all("outbox")).length) await setFact("who", here.who);
  return here;
}

export async function takeAlong(slug) {
  const answer = await call(`/offline/houses/${slug}.json`);
  if (!answer.ok) throw new Away(answer.status === 404 ? "The house is not there any more." : "The shop’s computer cannot be reached.");
  const house = await answer.json();
  await transact(["houses"], ({ houses }) => ask(houses.put({ ...house, taken: new Date().toISOString() })));
  navigator.storage?.persist?.();
  changed();
  return house;
}

export async function leaveBehind(slug) {
  await transact(["houses"], ({ houses }) => ask(houses.delete(slug)));
  changed();
}

// --- in order -----------------------------------------------------------------------

// What may go now: all but entries in trouble, and those that follow one at the same window.
function ready(rows, made) {
  const held = new Set();
  const free = [];
  for (const row of rows) {
    const names = namesOf(row.entry, made);
    const waits = names.some((name) => held.has(name));
    if (row.state === "trouble" || waits) [...names, row.entry.key].forEach((name) => held.add(name));
    else free.push(row);
  }
  return free;
}

function namesOf(entry, made) {
  if (entry.kind === "add-window") return [`made:${entry.key}`];
  if (entry.kind === "undo") return [entry.of];
  const wid = widOf(entry.window, made);
  return wid ? [wid] : [];
}

function mark(rows) {
  return transact(["outbox"], async ({ outbox }) => {
    for (const row of rows) {
      const kept = await ask(outbox.get(row.seq));
      if (kept) await ask(outbox.put({ ...kept, tried: true }));
    }
  });
}

// One round: the next entries that go together. Answers whether there was anything.
async function round(token, one) {
  const rows = await all("outbox");
  const free = ready(rows, await fact("made", {}));
  if (!free.length) return false;
  const photo = free[0].entry.kind === "photo";
  const until = free.findIndex((row) => row.entry.kind === "photo");
  const batch = photo || one ? free.slice(0, 1) : free.slice(0, until < 0 ? TOGETHER : Math.min(until, TOGETHER));
  await mark(batch);
  const answer = photo ? await sendPhoto(batch[0].entry, token) : await sendEntries(batch, token);
  if (answer.status === 403) throw new Away("not allowed");
  if ([429, 502, 503, 504].includes(answer.status)) throw new Away("The shop’s computer is busy.");
  if (!answer.ok && batch.length > 1) return round(token, true);
  const said = await answer.json().catch(() => ({}));
  const answers = answer.ok ? said.answers : [{ status: "refused", says: said.says ?? `The shop’s computer did not take it in (${answer.status}).` }];
  await settle(batch, answers);
  return true;
}

function sendEntries(rows, token) {
  const body = JSON.stringify({ entries: rows.map((row) => row.entry) });
  return call("/offline/send", { method: "POST", body, headers: { "Content-Type": "application/json", "X-CSRFToken": token } });
}

async function sendPhoto(entry, token) {
  const kept = await transact(["pictures"], ({ pictures }) => ask(pictures.get(entry.key)), "readonly");
  const body = new FormData();
  body.append("entry", JSON.stringify(entry));
  body.append("photo", new Blob([kept?.bytes ?? new ArrayBuffer(0)], { type: kept?.type ?? "image/jpeg" }), "photograph");
  return call("/offline/photograph", { method: "POST", body, headers: { "X-CSRFToken": token } }, PATIENCE_FOR_PHOTOS);
}

// What came of it, all in one act: an entry goes out of the list just when the house says what it did.
function settle(rows, answers) {
  return transact(["outbox", "pictures", "houses", "facts"], async ({ outbox, pictures, houses, facts }) => {
    const made = (await ask(facts.get("made")))?.value ?? {};
    const steps = (await ask(facts.get("steps")))?.value ?? [];
    let merged = 0;
    for (const [index, row] of rows.entries()) {
      const answer = answers[index];
      if (!answer || answer.status === "waits") continue;
      if (answer.status === "kept" || answer.status === "merged") {
        if (answer.status === "merged") merged += 1;
        await ask(outbox.delete(row.seq));
        await ask(pictures.delete(row.entry.key));
        if (steps.includes(row.entry.key)) await ask(facts.put({ name: `sent:${row.entry.key}`, value: { kind: row.entry.kind, house: row.entry.house, document: row.entry.document } }));
        if (row.entry.kind === "add-window" && answer.window) made[row.entry.key] = answer.window.id;
        await take(houses, row.entry, answer.window);
      } else {
        const kept = await ask(outbox.get(row.seq));
        if (kept) await ask(outbox.put({ ...kept, state: "trouble", answer }));
        await take(houses, row.entry, answer.window);
      }
    }
    await ask(facts.put({ name: "made", value: made }));
    if (merged) await ask(facts.put({ name: "merged", value: ((await ask(facts.get("merged")))?.value ?? 0) + merged }));
  });
}

// The window as it is there now.
async function take(houses, entry, window) {
  const house = await ask(houses.get(entry.house));
  if (!house || !window) return;
  const known = house.windows.find((each) => each.id === window.id);
  const photographs = (known?.photographs ?? 0) + (entry.kind === "photo" ? 1 : 0);
  const now = { ...window, photographs };
  const windows = known ? house.windows.map((each) => (each.id === window.id ? now : each)) : [...house.windows, now];
  await ask(houses.put({ ...house, windows }));
}

// The entries of somebody else become those of whoever is signed in, because they say so.
export async function adopt() {
  const here = await hello();
  await transact(["outbox", "facts"], async ({ outbox, facts }) => {
    for (const row of await ask(outbox.getAll())) await ask(outbox.put({ ...row, entry: { ...row.entry, who: here.who.id } }));
    await ask(facts.put({ name: "who", value: here.who }));
  });
  return send();
}

// --- when ---------------------------------------------------------------------------

async function sendAll() {
  const waiting = await all("outbox");
  const who = await fact("who");
  if (!waiting.some((row) => row.state !== "trouble")) {
    become("idle");
    return;
  }
  become("sending");
  const here = await hello();
  if (who && who.id !== here.who.id) {
    become("other", `These were written down by ${who.name}; ${here.who.name} is signed in now. They wait for ${who.name}.`);
    return;
  }
  const about = new Set(waiting.map((row) => row.entry.house));
  let any = false;
  while (await round(here.token, false)) {
    any = true;
    changed();
  }
  if (any) for (const slug of about) if (await transact(["houses"], ({ houses }) => ask(houses.get(slug)), "readonly")) await takeAlong(slug).catch(() => {});
  wait = FIRST_WAIT;
  become("idle");
}

// Only one page of this device sends at a time; another call while it does comes to nothing, for it goes on
// until all is sent.
export async function send() {
  clearTimeout(timer);
  const alone = navigator.locks ? (work) => navigator.locks.request("sashwright-send", { ifAvailable: true }, (lock) => lock && work()) : (work) => work();
  try {
    await alone(sendAll);
  } catch (error) {
    if (!(error instanceof Away)) become("away", `It could not be sent: ${error.message}`);
    else if (error.message === "signed out") become("signed-out", "Sign in to send what is kept here.");
    else if (error.message === "not allowed") become("not-allowed", "Whoever is signed in may not add to the survey.");
    else become("away", error.message);
    timer = setTimeout(send, wait);
    wait = Math.min(2 * wait, LONGEST_WAIT);
  }
  changed();
}

export function keepSending() {
  let soon = 0;
  window.addEventListener("online", () => {
    wait = FIRST_WAIT;
    send();
  });
  document.addEventListener("visibilitychange", () => document.visibilityState === "visible" && send());
  window.addEventListener("survey:kept", () => {
    clearTimeout(soon);
    if (state.name === "idle" || state.name === "sending") soon = setTimeout(send, 800);
  });
  send();
}
