// A window's true elevation from outside, by the few numbers that its family brought along; each part can be
// taken hold of.

import { metres } from "./lengths.js";
import { s } from "./dom.js";

const MARGIN = 0.03;
// Sizes that no window has are not drawn.
const LARGEST = 8;
const WOOD = /_stile$|_rail$|bar|casing|sill/;

// Where an edge lies: a constant and shares of width, height and, where it is put, the meeting rails.
function edge(numbers, sizes) {
  return numbers.reduce((sum, share, index) => sum + share * [1, ...sizes][index], 0);
}

// Left, bottom, right, top of every part in metres; null where the sizes are no sizes.
export function boxesOf(outline, document, system) {
  const width = metres(document.width, system);
  const height = metres(document.height, system);
  if (!(width > 0.1 && width < LARGEST && height > 0.1 && height < LARGEST) || !outline) return null;
  const met = document.meeting_height ? metres(document.meeting_height, system) : null;
  const put = met > 0;
  const sizes = put ? [width, height, met] : [width, height];
  const boxes = {};
  for (const [name, edges] of Object.entries(put ? outline.put : outline.free)) {
    boxes[name] = edges.map((numbers) => edge(numbers, sizes));
  }
  return boxes;
}

export function litesOf(document, outline, which) {
  const own = document[which];
  if (typeof own === "string") {
    const [columns, rows] = own.split("x").map(Number);
    if (columns > 0 && rows > 0) return { ...outline.sashes[which], columns, rows, column_shares: [], row_shares: [] };
  }
  return { ...outline.sashes[which], ...(own && typeof own === "object" ? own : {}) };
}

function divided(start, end, count, shares, bar) {
  const free = end - start - (count - 1) * bar;
  const parts = shares?.length === count ? shares : Array(count).fill(1);
  const total = parts.reduce((sum, part) => sum + part, 0);
  let from = start;
  return parts.map((part) => {
    const to = from + (free * part) / total;
    const range = [from, to];
    from = to + bar;
    return range;
  });
}

// All parts to be drawn, in the order of the drawing.
export function partsOf(outline, document, system) {
  const boxes = boxesOf(outline, document, system);
  if (!boxes) return null;
  const parts = [];
  const add = (name, box) => box && box[2] > box[0] && box[3] > box[1] && parts.push({ name, box });
  for (const name of ["frame.casing.left", "frame.casing.right", "frame.casing.head", "frame.sill"]) add(name, boxes[name]);
  for (const which of ["lower", "upper"]) {
    const [left, low, right, top] = boxes[`${which}.daylight`];
    const lites = litesOf(document, outline, which);
    const columns = divided(left, right, lites.columns, lites.column_shares, lites.muntin);
    const rows = divided(low, top, lites.rows, lites.row_shares, lites.muntin);
    rows.forEach(([bottom, over], row) =>
      columns.forEach(([from, to], column) => add(`${which}.lite.${column + 1}.${row + 1}`, [from, bottom, to, over])),
    );
    rows.slice(1).forEach(([bottom], row) => add(`${which}.cross_bars`, [left, rows[row][1], right, bottom]));
    columns.slice(1).forEach(([from], column) => add(`${which}.upright_bar.${column + 1}`, [columns[column][1], low, from, top]));
    for (const name of ["left_stile", "right_stile", "bottom_rail", "meeting_rail", "top_rail"]) add(`${which}.${name}`, boxes[`${which}.${name}`]);
  }
  return { parts, boxes };
}

function shape({ box: [left, bottom, right, top], name }) {
  const kind = name.includes(".lite.") ? "glass" : name.startsWith("frame") ? "frame" : WOOD.test(name) ? "wood" : "frame";
  return s("rect", { class: `s-${kind}`, x: left, y: -top, width: right - left, height: top - bottom });
}

// The head of an arched opening, over what is drawn square.
function arch(boxes, document, system) {
  const head = document.head ?? {};
  if (!head.shape || head.shape === "square") return null;
  const [left, , right, top] = boxes.opening;
  const half = (right - left) / 2;
  const rise = head.shape === "full arch" ? half : metres(head.rise, system);
  if (!(rise > 0)) return null;
  const radius = (half * half + rise * rise) / (2 * rise);
  const out = 0.2;
  const spring = top - rise;
  const corner = `M${left - out} ${-(top + out)}H${right + out}V${-spring}H${right}A${radius} ${radius} 0 0 0 ${left} ${-spring}H${left - out}Z`;
  return [
    s("path", { class: "s-over", d: corner }),
    s("path", { class: "s-line", d: `M${left} ${-spring}A${radius} ${radius} 0 0 1 ${right} ${-spring}` }),
  ];
}

function hatch(id, mark) {
  const paths = { slight: "M0 8 8 0", moderate: "M0 8 8 0M0 4 4 0M4 8 8 4", severe: "M0 8 8 0M0 0 8 8" };
  return s(
    "pattern",
    { id: `${id}-${mark}`, width: 8, height: 8, patternUnits: "userSpaceOnUse", patternTransform: "scale(0.004)" },
    s("path", { class: "s-hatch", d: paths[mark] }),
  );
}

// `marks` says by part what is known: "sound", "slight", "moderate", "severe". `link` gives the address of a
// part; without it, nothing can be taken hold of.
export function elevation(outline, document, system, { id = "e", marks = {}, link = null, words = (name) => name } = {}) {
  const found = partsOf(outline, document, system);
  if (!found) return null;
  const { parts, boxes } = found;
  const all = parts.map((part) => part.box);
  const left = Math.min(...all.map((box) => box[0])) - MARGIN;
  const right = Math.max(...all.map((box) => box[2])) + MARGIN;
  const low = Math.min(...all.map((box) => box[1])) - MARGIN;
  const top = Math.max(...all.map((box) => box[3])) + MARGIN;
  const drawn = parts.map((part) => {
    const mark = marks[part.name];
    const items = [shape(part)];
    if (mark && mark !== "sound") items.push(Object.assign(shape(part), {}));
    if (items[1]) {
      items[1].setAttribute("class", "s-found");
      items[1].setAttribute("fill", `url(#${id}-${mark})`);
    }
    if (mark === "sound") items.push(tick(part.box));
    const says = mark ? `${words(part.name)}: ${mark}` : words(part.name);
    return link ? s("a", { href: link(part.name), "aria-label": says, "data-part": part.name }, s("title", {}, says), items) : s("g", {}, items);
  });
  return s(
    "svg",
    { class: "elevation", viewBox: `${left} ${-top} ${right - left} ${top - low}`, role: link ? "group" : "img", "aria-label": `Window ${document.number}, from outside` },
    s("defs", {}, ["slight", "moderate", "severe"].map((mark) => hatch(id, mark))),
    drawn,
    arch(boxes, document, system),
  );
}

function tick([left, bottom, right, top]) {
  const x = (left + right) / 2;
  const y = -(bottom + top) / 2;
  return s("path", { class: "s-tick", d: `M${x - 0.016} ${y}l0.011 0.011l0.021 -0.026` });
}
