// Large keys under the fields of sizes and weights: figures and fractions, for thumbs and gloves. The device's
// own keys stay down where there are only fingers.

import { EIGHTHS, SIXTEENTHS, withFraction } from "../fractions.js";
import { KEYS, type } from "../keypad.js";
import { h } from "./dom.js";

const touch = window.matchMedia("(pointer: coarse)");
const FIGURES = ["7", "8", "9", "4", "5", "6", "1", "2", "3", ".", "0", "⌫"];

// What a field says before anybody has typed is replaced by the first key.
function clear(input) {
  if (input.dataset.ghost !== undefined) {
    delete input.dataset.ghost;
    input.value = "";
  }
}

function told(input) {
  input.dispatchEvent(new Event("input", { bubbles: true }));
}

function press(input, key) {
  if (!input) return;
  clear(input);
  // After a fraction there is nothing more to come of figures.
  if (/\d\/\d+$/.test(input.value) && /\d/.test(key)) return;
  if (key === "⌫" && / \d+\/\d+$|^\d+\/\d+$/.test(input.value)) input.value = withFraction(input.value, "");
  else {
    type(input, key);
    return;
  }
  told(input);
}

function fraction(input, part) {
  if (!input) return;
  clear(input);
  input.value = withFraction(input.value, part);
  told(input);
}

export function takesKeys(input) {
  if (touch.matches) input.inputMode = "none";
  input.autocomplete = "off";
  // Typed on real keys, the suggestion goes as well.
  input.addEventListener("keydown", (event) => {
    if (event.key.length === 1 && !event.ctrlKey && !event.metaKey) clear(input);
  });
  return input;
}

// `active` answers the field that is written to; `next` is done by the large key.
export function pad({ system, mass = false, active, next = null, nextText = "Next" }) {
  const key = (text, name, act, kind = "") => {
    const button = h("button", { type: "button", class: kind, "aria-label": name, onclick: act }, text);
    button.addEventListener("pointerdown", (event) => event.preventDefault());
    return button;
  };
  const figures = mass ? KEYS[system] ?? KEYS.us : FIGURES;
  const figureKeys = figures.map((each) => key(each.trim(), each === "⌫" ? "take back" : each.trim(), () => press(active(), each)));
  const side = h("div", { class: "padside" });
  let fine = false;
  const fill = () => {
    const parts = fine ? SIXTEENTHS : EIGHTHS;
    side.replaceChildren(
      ...parts.map((part) => key(part, `and ${part}`, () => fraction(active(), part))),
      ...(fine ? [] : [key("1/16…", "sixteenths", () => ((fine = true), fill()))]),
    );
    if (fine) side.append(key("1/8…", "eighths", () => ((fine = false), fill())));
    side.classList.toggle("fine", fine);
  };
  if (!mass && system !== "metric") fill();
  return h(
    "div",
    { class: side.children.length ? "pad" : "pad plain", role: "group", "aria-label": "Keys" },
    h("div", { class: "padfigures" }, figureKeys),
    side.children.length ? side : null,
    next && key(nextText, nextText, next, "button primary padnext"),
  );
}
