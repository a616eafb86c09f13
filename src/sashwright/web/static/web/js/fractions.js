// A pad of fractions under a length in inches, for fingers and gloves: 32, then 3/8.

const EIGHTHS = ["1/8", "1/4", "3/8", "1/2", "5/8", "3/4", "7/8"];
const SIXTEENTHS = ["1/16", "3/16", "5/16", "7/16", "9/16", "11/16", "13/16", "15/16"];
const touch = window.matchMedia("(pointer: coarse)");

let pad = null;
let owner = null;
let fine = false;

function usesInches(control) {
  return control.closest(".control")?.querySelector(".unit")?.textContent === "in";
}

function put(fraction) {
  const match = owner.value.trim().match(/^(.*?)(?:[\s-]*\d+\/\d+)?$/);
  const whole = match[1].trim();
  owner.value = [whole, fraction].filter(Boolean).join(" ");
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

document.body.addEventListener("focusin", (event) => {
  const control = event.target;
  if (control === owner || pad?.contains(control)) return;
  close();
  if (touch.matches && control.matches?.("input[data-kind=length]") && usesInches(control)) open(control);
});
document.body.addEventListener("focusout", (event) => {
  if (event.target === owner && !pad?.contains(event.relatedTarget)) close();
});
