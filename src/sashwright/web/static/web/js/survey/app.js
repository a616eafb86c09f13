// The survey on a phone or tablet: finds the page by the address, keeps the count in the corner, sends.

import { fact, setFact } from "./db.js";
import { h, notice } from "./dom.js";
import { houses, schedule } from "./housepages.js";
import { outbox } from "./kept.js";
import { kept } from "./keptpage.js";
import { next } from "./nextpage.js";
import { part } from "./partpage.js";
import { keepSending, state } from "./send.js";
import { window_ } from "./windowpage.js";
import { count } from "./words.js";

const main = document.getElementById("main");
const counted = document.getElementById("count");
const crumb = document.getElementById("house");

let view = null;
let turn = 0;

function route() {
  if (location.hash === "#kept") return kept();
  const path = decodeURIComponent(location.hash.replace(/^#\/?/, ""));
  if (!path) return houses();
  const [slug, ...rest] = path.split("/");
  if (rest[0] === "next") return next(slug);
  if (rest[0] === "w" && rest[2] === "on") return part(slug, rest[1], rest[3]);
  if (rest[0] === "w") return window_(slug, rest[1]);
  return schedule(slug);
}

async function show() {
  turn += 1;
  const mine = turn;
  let made;
  try {
    made = await route();
  } catch (error) {
    made = { page: h("div", { class: "empty" }, h("h1", {}, "This page did not open"), h("p", {}, error.message)) };
  }
  // Somebody may have gone on meanwhile.
  if (mine !== turn) return;
  view = made;
  main.replaceChildren(view.page);
  crumb.hidden = !view.house;
  if (view.house) {
    crumb.href = `#/${view.house.slug}`;
    crumb.querySelector(".crumb-name").textContent = view.house.name;
  }
  window.scrollTo(0, 0);
  if (view.focus) view.focus();
  else main.focus({ preventScroll: true });
}

async function tally() {
  const rows = await outbox();
  const trouble = rows.filter((row) => row.state === "trouble").length;
  const said = rows.length ? `${count(rows.length, "entry", "entries")} kept on this device` : "All sent";
  counted.textContent = trouble ? `${said}, ${trouble} to decide` : said;
  counted.parentElement.dataset.state = trouble ? "refused" : rows.length ? "kept" : "saved";
  const merged = await fact("merged", 0);
  if (merged) {
    await setFact("merged", 0);
    notice(`Somebody changed other fields of ${merged === 1 ? "a window" : `${merged} windows`} meanwhile; both are kept.`);
  }
}

async function changed() {
  await tally();
  await view?.refresh?.();
}

// Light or dark as it was chosen at the shop's computer, when that was last heard of.
async function theme() {
  const chosen = await fact("theme", "system");
  const dark = document.getElementById("dark");
  dark.media = { light: "not all", dark: "screen" }[chosen] ?? "screen and (prefers-color-scheme: dark)";
}

async function keepPage() {
  if (!("serviceWorker" in navigator)) return;
  try {
    const kept = await navigator.serviceWorker.register("/offline/worker.js", { scope: "/offline/" });
    // A newer page that waits is taken at once when nothing is open yet.
    if (kept.waiting && navigator.serviceWorker.controller) {
      navigator.serviceWorker.addEventListener("controllerchange", () => location.reload(), { once: true });
      kept.waiting.postMessage("take over");
    }
  } catch {
    notice("This browser does not keep the page: without a connection it will not open again. See the manual, On site.");
  }
}

window.addEventListener("hashchange", show);
window.addEventListener("survey:changed", changed);
window.addEventListener("survey:sending", () => {
  document.documentElement.dataset.sending = state.name;
  view?.refresh?.();
});
window.addEventListener("unhandledrejection", (event) => {
  const full = event.reason?.name === "QuotaExceededError";
  notice(full ? "This device has no room left: send what is kept, or make room." : `Not kept: ${event.reason?.message ?? event.reason}`);
});

await theme();
await keepPage();
await show();
await tally();
document.documentElement.dataset.ready = "yes";
keepSending();
