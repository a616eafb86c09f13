// Sets marks on a photograph: corners of something known, points to measure, straight edges. What
// they measure is worked out by the server; here they are only set, moved and shown.

const SVG = "http://www.w3.org/2000/svg";
const surface = document.getElementById("surface");
const loupe = document.getElementById("loupe");
const layer = document.getElementById("marks");
const form = document.getElementById("measure");
const WIDTH = Number(surface.dataset.width);
const HEIGHT = Number(surface.dataset.height);
const NEAR = 22;
const LOUPE_PIXELS = 90;

const shares = JSON.parse(surface.dataset.marks);
const pixels = ([x, y]) => ({ x: x * WIDTH, y: y * HEIGHT });
const marks = {
  corners: shares.corners.map(pixels),
  points: shares.points.map(pixels),
  straight: shares.straight.map((line) => line.map(pixels)),
};
let chosen = null;
let view = { x: 0, y: 0, width: WIDTH, height: HEIGHT };

// --- what there is ------------------------------------------------------------------

function marking() {
  return document.querySelector('input[name="marking"]:checked').value;
}

function lists() {
  return [marks.corners, marks.points, ...marks.straight];
}

function all() {
  return lists().flatMap((list) => list.map((mark) => ({ list, mark })));
}

function listFor(kind) {
  if (kind !== "straight") return marks[kind];
  let line = marks.straight.find((each) => chosen && each.includes(chosen)) ?? marks.straight.at(-1);
  if (!line) marks.straight.push((line = []));
  return line;
}

function most(kind) {
  if (kind === "corners") return 4;
  if (kind !== "points") return 50;
  return { length: 2, angle: 4, spacing: 50 }[form.elements.kind.value];
}

function add(at) {
  const kind = marking();
  if (kind === "move") return null;
  const list = listFor(kind);
  if (list.length >= most(kind)) return null;
  const mark = { ...at };
  list.push(mark);
  chosen = mark;
  return mark;
}

function takeAway() {
  const found = all().find(({ mark }) => mark === chosen);
  const list = found?.list ?? lists().filter((each) => each.length).at(-1);
  if (!list) return;
  list.splice(found ? list.indexOf(chosen) : list.length - 1, 1);
  marks.straight = marks.straight.filter((line) => line.length);
  chosen = list.at(-1) ?? null;
}

// --- what is seen -------------------------------------------------------------------

function part(name, attributes, text = "") {
  const element = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
  element.textContent = text;
  return element;
}

function scale() {
  return surface.getScreenCTM()?.a || 1;
}

function cross(mark, label, kind) {
  const k = 1 / scale();
  const group = part("g", { class: `setmark set-${kind}${mark === chosen ? " chosen" : ""}` });
  const d = `M${mark.x - 13 * k} ${mark.y}h${9 * k}m${8 * k} 0h${9 * k}M${mark.x} ${mark.y - 13 * k}v${9 * k}m0 ${8 * k}v${9 * k}`;
  group.append(part("path", { class: "markhalo", d }), part("path", { d }));
  if (label) group.append(part("text", { x: mark.x + 9 * k, y: mark.y - 8 * k, "font-size": 15 * k }, label));
  return group;
}

function outline(list, kind, closed) {
  const points = list.map((mark) => `${mark.x},${mark.y}`).join(" ");
  return part(closed ? "polygon" : "polyline", { class: `setline set-${kind}`, points });
}

function paint() {
  surface.setAttribute("viewBox", `${view.x} ${view.y} ${view.width} ${view.height}`);
  layer.replaceChildren();
  if (marks.corners.length > 1) layer.append(outline(marks.corners, "corners", marks.corners.length === 4));
  for (const line of marks.straight) layer.append(outline(line, "straight", false));
  if (form.elements.kind.value === "angle") {
    for (const pair of [marks.points.slice(0, 2), marks.points.slice(2, 4)]) layer.append(outline(pair, "points", false));
  } else layer.append(outline(marks.points, "points", false));
  marks.corners.forEach((mark, index) => layer.append(cross(mark, index + 1, "corners")));
  marks.points.forEach((mark, index) => layer.append(cross(mark, "abcdefghijklmnopqrstuvwxyz"[index] ?? "", "points")));
  for (const line of marks.straight) for (const mark of line) layer.append(cross(mark, "", "straight"));
  if (chosen && !loupe.hasAttribute("hidden")) look(chosen);
}

function look(mark) {
  const half = LOUPE_PIXELS / 2;
  loupe.setAttribute("viewBox", `${mark.x - half} ${mark.y - half} ${LOUPE_PIXELS} ${LOUPE_PIXELS}`);
  // Away from the finger, in the other half of the picture.
  loupe.classList.toggle("right", mark.x < view.x + view.width / 2);
}

function tell() {
  const place = document.getElementById("marked");
  const missing = 4 - marks.corners.length;
  const corners = missing ? `${marks.corners.length} of 4 corners` : "4 corners";
  const edges = marks.straight.length ? `, ${marks.straight.length} straight edge${marks.straight.length > 1 ? "s" : ""}` : "";
  place.textContent = `${corners}, ${marks.points.length} point${marks.points.length === 1 ? "" : "s"}${edges}.`;
}

// --- what it measures ---------------------------------------------------------------

let waiting = 0;

function asJson() {
  const share = ({ x, y }) => [Math.min(1, Math.max(0, x / WIDTH)), Math.min(1, Math.max(0, y / HEIGHT))];
  return JSON.stringify({
    corners: marks.corners.map(share),
    points: marks.points.map(share),
    straight: marks.straight.map((line) => line.map(share)),
  });
}

function ask() {
  clearTimeout(waiting);
  waiting = setTimeout(() => {
    const values = { measure: asJson() };
    for (const name of ["kind", "width", "height", "unsure"]) values[name] = form.elements[name].value;
    window.htmx.ajax("POST", form.dataset.answer, { source: form, target: "#measured", swap: "outerHTML", values });
  }, 250);
}

function changed() {
  paint();
  tell();
  ask();
}

// --- by pointer ---------------------------------------------------------------------

function at(event) {
  const point = new DOMPoint(event.clientX, event.clientY).matrixTransform(surface.getScreenCTM().inverse());
  return { x: Math.min(WIDTH, Math.max(0, point.x)), y: Math.min(HEIGHT, Math.max(0, point.y)) };
}

// A point may lie on a corner: only marks of the kind that is set now are taken hold of.
function nearest(spot) {
  const reach = NEAR / scale();
  const kind = marking();
  const near = kind === "straight" ? marks.straight.flat() : marks[kind];
  const found = near
    .map((mark) => ({ mark, away: Math.hypot(mark.x - spot.x, mark.y - spot.y) }))
    .filter(({ away }) => away < reach)
    .sort((one, other) => one.away - other.away);
  return found[0]?.mark ?? null;
}

surface.addEventListener("pointerdown", (event) => {
  if (event.button !== 0) return;
  event.preventDefault();
  surface.focus({ preventScroll: true });
  surface.setPointerCapture(event.pointerId);
  const from = at(event);
  const moves = marking() === "move";
  const mark = moves ? null : (nearest(from) ?? add(from));
  if (mark) {
    chosen = mark;
    loupe.removeAttribute("hidden");
  }
  const offset = mark && { x: mark.x - from.x, y: mark.y - from.y };
  const move = (moving) => {
    const now = at(moving);
    if (mark) Object.assign(mark, { x: now.x + offset.x, y: now.y + offset.y });
    else if (moves) pan(from.x - now.x, from.y - now.y);
    paint();
  };
  const done = () => {
    surface.removeEventListener("pointermove", move);
    loupe.setAttribute("hidden", "");
    changed();
  };
  surface.addEventListener("pointermove", move);
  surface.addEventListener("pointerup", done, { once: true });
  surface.addEventListener("pointercancel", done, { once: true });
  paint();
});

// --- nearer and farther -------------------------------------------------------------

function pan(dx, dy) {
  view.x = Math.min(WIDTH - view.width, Math.max(0, view.x + dx));
  view.y = Math.min(HEIGHT - view.height, Math.max(0, view.y + dy));
}

function zoom(factor, about = chosen ?? { x: view.x + view.width / 2, y: view.y + view.height / 2 }) {
  const width = factor ? Math.min(WIDTH, Math.max(120, view.width / factor)) : WIDTH;
  const height = (width * HEIGHT) / WIDTH;
  const [right, down] = [(about.x - view.x) / view.width, (about.y - view.y) / view.height];
  view = { x: about.x - right * width, y: about.y - down * height, width, height };
  pan(0, 0);
  paint();
}

surface.addEventListener(
  "wheel",
  (event) => {
    if (!event.ctrlKey && !event.metaKey) return;
    event.preventDefault();
    zoom(event.deltaY < 0 ? 1.25 : 0.8, at(event));
  },
  { passive: false },
);

// --- by keyboard --------------------------------------------------------------------

const STEPS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

function choose(step) {
  const found = all().map(({ mark }) => mark);
  if (!found.length) return;
  chosen = found[(found.indexOf(chosen) + step + found.length) % found.length];
}

function nudge(step, size) {
  if (!chosen) return pan(step[0] * size * 10, step[1] * size * 10);
  chosen.x = Math.min(WIDTH, Math.max(0, chosen.x + step[0] * size));
  chosen.y = Math.min(HEIGHT, Math.max(0, chosen.y + step[1] * size));
  loupe.removeAttribute("hidden");
  return undefined;
}

surface.addEventListener("keydown", (event) => {
  const step = STEPS[event.key];
  if (step) nudge(step, event.shiftKey ? 10 : 1);
  else if (event.key === "Enter") add({ x: view.x + view.width / 2, y: view.y + view.height / 2 });
  else if (event.key === "Delete" || event.key === "Backspace") takeAway();
  else if (event.key === "PageDown") choose(1);
  else if (event.key === "PageUp") choose(-1);
  else if (event.key === "+" || event.key === "=") zoom(1.6);
  else if (event.key === "-") zoom(0.625);
  else if (event.key === "Escape") chosen = null;
  else return;
  event.preventDefault();
  changed();
});
surface.addEventListener("blur", () => {
  loupe.setAttribute("hidden", "");
});

// --- the form -----------------------------------------------------------------------

document.addEventListener("click", (event) => {
  const button = event.target.closest("button");
  if (!button) return;
  if (button.dataset.zoom !== undefined) zoom(Number(button.dataset.zoom));
  else if (button.dataset.take !== undefined) {
    takeAway();
    changed();
  } else if (button.dataset.clear !== undefined) {
    Object.assign(marks, { corners: [], points: [], straight: [] });
    chosen = null;
    changed();
  } else if (button.dataset.width) {
    form.elements.width.value = button.dataset.width;
    form.elements.height.value = button.dataset.height;
    ask();
  }
});
document.addEventListener("change", (event) => {
  if (event.target.name !== "marking") return;
  chosen = null;
  // Each time straight edges are turned to, another one is begun.
  if (event.target.value === "straight" && (marks.straight.at(-1)?.length ?? 1) > 2) marks.straight.push([]);
  paint();
});
form.addEventListener("input", ask);
form.addEventListener("change", () => changed());
form.addEventListener("submit", (event) => event.preventDefault());
window.addEventListener("resize", paint);

paint();
tell();
if (all().length) ask();
