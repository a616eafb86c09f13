// Elements made from what they are; texts go in as texts.

const SVG = "http://www.w3.org/2000/svg";

function fill(element, attributes, children) {
  for (const [name, value] of Object.entries(attributes ?? {})) {
    if (value === null || value === undefined || value === false) continue;
    if (name.startsWith("on")) element.addEventListener(name.slice(2), value);
    else if (name === "value" && "value" in element) element.value = value;
    else element.setAttribute(name, value === true ? "" : value);
  }
  element.append(...children.flat(3).filter((child) => child !== null && child !== undefined && child !== false));
  return element;
}

export function h(tag, attributes, ...children) {
  const element = document.createElement(tag);
  // A choice is made among what is there already.
  if (tag === "select") {
    const { value, ...rest } = attributes ?? {};
    fill(element, rest, children);
    if (value !== undefined) element.value = value;
    return element;
  }
  return fill(element, attributes, children);
}

export function s(tag, attributes, ...children) {
  return fill(document.createElementNS(SVG, tag), attributes, children);
}

export function options(names, chosen) {
  return names.map((name) => {
    const [value, text] = Array.isArray(name) ? name : [name, name];
    return h("option", { value, selected: String(value) === String(chosen) }, text);
  });
}

let at = 0;

export function field(label, control, { unit = "", says = "", wide = false } = {}) {
  control.id ||= `f${(at += 1)}`;
  const wrong = h("p", { class: "says", id: `${control.id}-says`, "aria-live": "polite" }, says);
  control.setAttribute("aria-describedby", wrong.id);
  const box = h(
    "div",
    { class: wide ? "field wide" : "field" },
    h("label", { for: control.id }, label),
    h("div", { class: "control" }, control, unit && h("span", { class: "unit" }, unit)),
    wrong,
  );
  box.tell = (text) => {
    wrong.textContent = text;
    box.classList.toggle("refused", Boolean(text));
    if (text) control.setAttribute("aria-invalid", "true");
    else control.removeAttribute("aria-invalid");
  };
  return box;
}

// Large choices, one of which holds.
export function chips(legend, name, choices, chosen, onpick) {
  return h(
    "fieldset",
    { class: "chips" },
    h("legend", {}, legend),
    choices.map(([value, text]) =>
      h(
        "label",
        {},
        h("input", { type: "radio", name, value, checked: value === chosen, onchange: () => onpick(value) }),
        h("span", {}, text),
      ),
    ),
  );
}

export function notice(text, ...buttons) {
  const place = document.getElementById("notices");
  const mine = h("div", { class: "notice" }, h("span", {}, text), buttons);
  place.replaceChildren(mine);
  setTimeout(() => mine.remove(), 8000);
}
