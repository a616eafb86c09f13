// Draws on a photograph, by pointer or by keyboard. What is drawn is kept by the server, which shows
// it; only the mark in the making is drawn here.

const SVG = "http://www.w3.org/2000/svg";
let draft = null;

function part(name, attributes) {
  const element = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
  return element;
}

function tool() {
  return document.querySelector('input[name="tool"]:checked')?.value ?? "arrow";
}

function sheetOf(svg) {
  const { width, height } = svg.viewBox.baseVal;
  return { width, height };
}

function pointAt(svg, event) {
  const box = svg.getBoundingClientRect();
  const clip = (share) => Math.min(1, Math.max(0, share));
  return [clip((event.clientX - box.left) / box.width), clip((event.clientY - box.top) / box.height)];
}

function paint(svg) {
  const place = svg.querySelector("[data-draft]");
  place.replaceChildren();
  if (!draft) return;
  const { width, height } = sheetOf(svg);
  const [x, y] = [draft.at[0] * width, draft.at[1] * height];
  if (draft.from) {
    const [a, b] = [draft.from[0] * width, draft.from[1] * height];
    const shape =
      tool() === "ring"
        ? { cx: a, cy: b, r: Math.max(Math.hypot(x - a, y - b), 20) }
        : { x1: a, y1: b, x2: x, y2: y };
    place.append(part(tool() === "ring" ? "circle" : "line", { class: "markline", ...shape }));
  }
  if (draft.cross) {
    place.append(part("path", { class: "markcross", d: `M${x - 22} ${y}h44M${x} ${y - 22}v44` }));
  }
}

function keep(figure, points) {
  const text = document.getElementById("mark-text");
  const kind = tool();
  if (kind === "words" && !text.value.trim()) {
    text.focus();
    text.placeholder = "type the words first";
    return;
  }
  const mark = { kind, points: kind === "words" ? points.slice(0, 1) : points, text: text.value.trim() };
  text.value = "";
  window.htmx.ajax("POST", figure.dataset.mark, {
    source: figure,
    target: "#photo",
    swap: "outerHTML",
    values: { mark: JSON.stringify(mark) },
  });
}

function far(one, other, svg) {
  const { width, height } = sheetOf(svg);
  return Math.hypot((one[0] - other[0]) * width, (one[1] - other[1]) * height) > 12;
}

function byPointer(figure, svg) {
  svg.addEventListener("pointerdown", (event) => {
    if (event.button !== 0) return;
    event.preventDefault();
    svg.setPointerCapture(event.pointerId);
    const from = pointAt(svg, event);
    draft = { from, at: from, cross: false };
    const move = (moving) => {
      draft.at = pointAt(svg, moving);
      paint(svg);
    };
    const done = (ending) => {
      svg.removeEventListener("pointermove", move);
      const points = [from, draft.at];
      draft = null;
      paint(svg);
      const drawn = ending.type === "pointerup" && (tool() === "words" || far(...points, svg));
      if (drawn) keep(figure, points);
    };
    svg.addEventListener("pointermove", move);
    svg.addEventListener("pointerup", done, { once: true });
    svg.addEventListener("pointercancel", done, { once: true });
  });
}

const STEPS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

function byKeyboard(figure, svg) {
  svg.setAttribute("tabindex", "0");
  svg.setAttribute("role", "application");
  svg.setAttribute("aria-label", "The photograph, to draw on");
  svg.addEventListener("focus", () => {
    if (!svg.matches(":focus-visible")) return;
    draft ??= { from: null, at: [0.5, 0.5], cross: true };
    paint(svg);
  });
  svg.addEventListener("blur", () => {
    draft = null;
    paint(svg);
  });
  svg.addEventListener("keydown", (event) => {
    const step = STEPS[event.key];
    if (step) {
      const size = event.shiftKey ? 0.002 : 0.02;
      draft ??= { from: null, at: [0.5, 0.5], cross: true };
      draft.at = draft.at.map((share, axis) => Math.min(1, Math.max(0, share + size * step[axis])));
      draft.cross = true;
    } else if (event.key === "Enter" && draft) {
      const points = [draft.from ?? draft.at, draft.at];
      if (tool() === "words" || (draft.from && far(...points, svg))) {
        draft = null;
        keep(figure, points);
      } else {
        draft.from = draft.at;
      }
    } else if (event.key === "Escape" && draft?.from) {
      draft.from = null;
    } else return;
    event.preventDefault();
    paint(svg);
  });
}

function begin() {
  const figure = document.querySelector("[data-mark]");
  const svg = figure?.querySelector(".photomarks");
  if (!svg || svg.hasAttribute("tabindex")) return;
  for (const each of document.querySelectorAll("[data-tools]")) each.hidden = false;
  byPointer(figure, svg);
  byKeyboard(figure, svg);
}

// The tool that is in the hand stays there when the server has shown the photograph anew.
let chosen = "arrow";
document.body.addEventListener("change", (event) => {
  if (event.target.name === "tool") chosen = event.target.value;
});
document.body.addEventListener("htmx:afterSettle", () => {
  const radio = document.querySelector(`input[name="tool"][value="${chosen}"]`);
  if (radio) radio.checked = true;
  begin();
});
begin();
