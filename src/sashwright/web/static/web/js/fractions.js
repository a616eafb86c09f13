// A pad of fractions under a length in inches, for fingers and gloves: 32, then 3/8.

export const EIGHTHS = ["1/8", "1/4", "3/8", "1/2", "5/8", "3/4", "7/8"];
export const SIXTEENTHS = ["1/16", "3/16", "5/16", "7/16", "9/16", "11/16", "13/16", "15/16"];
const touch = window.matchMedia("(pointer: coarse)");

let pad = null;
let owner = null;
let fine = false;

function usesInches(control) {
  return control.closest(".control")?.querySelector(".unit")?.textContent === "in";
}

// A length with this fraction in place of the one it has.
export function withFraction(text, fraction) {
  const match = text.trim().match(/^(.*?)(?:[\s-]*\d+\/\d+)?$/);
  return [match[1].trim(), fraction].filter(Boolean).join(" ");
}

function put(fraction) {
  owner.value = withFraction(owner.value, fraction);
  owner.dispatchEvent(new Event("input", { bubbles: true }));
}

function key(text, name, act) {
  const button = document.createElement("button");
  button.type = "button";
  button.textContent = text;
  button.setAttribute("aria-label", name);
  // The field keeps the focus, so that the phone's own keys stay up.
  button.addEventListener("pointerdown", (event) => event.preventDefault());
  button.addEventListener("click", act);
  return button;
}

function fill() {
  const keys = (fine ? SIXTEENTHS : EIGHTHS).map((fraction) => key(fraction, `and ${fraction}`, () => put(fraction)));
  const other = key(fine ? "1/8 …" : "1/16 …", fine ? "eighths" : "sixteenths", () => {
    fine = !fine;
    fill();
  });
  const letters = key("abc", "all keys, for feet and millimetres", () => {
    owner.inputMode = "text";
    owner.blur();
    owner.focus();
  });
  const none = key("0/8", "no fraction", () => put(""));
  pad.replaceChildren(...keys, other, none, letters);
}

function open(control) {
  owner = control;
  pad = document.createElement("div");
  pad.className = "fractions";
  pad.setAttribute("role", "group");
  pad.setAttribute("aria-label", "Fractions of an inch");
  fill();
  control.closest(".field").append(pad);
}

function close() {
  pad?.remove();
  pad = owner = null;
}

// Not at once: what lies below would move away from under the finger that is just tapping it.
function closeSoon() {
  const mine = pad;
  setTimeout(() => {
    if (pad === mine && document.activeElement !== owner && !mine?.contains(document.activeElement)) close();
  }, 300);
}

document.body.addEventListener("focusin", (event) => {
  const control = event.target;
  if (control === owner || pad?.contains(control)) return;
  if (touch.matches && control.matches?.("input[data-kind=length]") && usesInches(control)) {
    close();
    open(control);
  } else closeSoon();
});
document.body.addEventListener("focusout", (event) => {
  if (event.target === owner && !pad?.contains(event.relatedTarget)) closeSoon();
});
