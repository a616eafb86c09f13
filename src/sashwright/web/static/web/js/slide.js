// Lets a person take hold of a sash: it slides, its weights run the other way, the cords follow,
// and what the chapter worked out is read off at that height. Nothing is computed here but the
// place between two given points.

const held = { upper: 0, lower: 0 };

function data() {
  const place = document.getElementById("slides");
  return place ? JSON.parse(place.dataset.slides) : { sashes: {} };
}

function between(xs, ys, x) {
  if (x <= xs[0]) return ys[0];
  for (let i = 1; i < xs.length; i += 1) {
    if (x <= xs[i]) return ys[i - 1] + ((ys[i] - ys[i - 1]) * (x - xs[i - 1])) / (xs[i] - xs[i - 1] || 1);
  }
  return ys[ys.length - 1];
}

function length(mm, system) {
  if (mm === null || mm === undefined) return "–";
  if (system === "metric") return `${Math.round(mm)} mm`;
  const eighths = Math.round(mm / 25.4 * 8);
  const whole = Math.trunc(eighths / 8);
  let top = Math.abs(eighths % 8);
  let bottom = 8;
  while (top && top % 2 === 0) {
    top /= 2;
    bottom /= 2;
  }
  const sign = eighths < 0 && whole === 0 ? "-" : "";
  if (!top) return `${whole}"`;
  return `${sign}${whole ? `${whole} ` : ""}${top}/${bottom}"`;
}

function force(newtons, system) {
  return system === "metric" ? `${newtons.toFixed(0)} N` : `${(newtons / 4.4482216152605).toFixed(1)} lb`;
}

function scaleOf(svg) {
  return Number(svg.dataset.mmPerMetre) / 1000;
}

// A cord's lower end goes with the sash, or with the weight.
function stretch(svg, which, shift) {
  for (const cord of svg.querySelectorAll(`line[data-cord="${which}"]`)) {
    cord.dataset.y2 ??= cord.getAttribute("y2");
    cord.setAttribute("y2", Number(cord.dataset.y2) - Number(cord.dataset.sign ?? 1) * shift);
  }
}

// Where the sash is now, in the picture of its effort.
function point(which) {
  for (const marker of document.querySelectorAll(`[data-marker="${which}"]`)) {
    const along = Number(marker.dataset.widthMm) * held[which];
    marker.setAttribute("transform", `translate(${along.toFixed(2)} 0)`);
  }
}

function show(which, slides) {
  const slide = slides.sashes[which];
  if (!slide) return;
  const moved = held[which] * slide.travel;
  const up = which === "upper" ? -moved : moved;
  for (const svg of document.querySelectorAll("#view svg.drawing[data-mm-per-metre]")) {
    const shift = up * scaleOf(svg);
    for (const group of svg.querySelectorAll(`[data-moves="${which}"]`)) {
      const sign = Number(group.dataset.sign ?? 1);
      group.setAttribute("transform", `translate(0 ${(-sign * shift).toFixed(2)})`);
    }
    stretch(svg, which, shift);
  }
  point(which);
  read(which, slide, moved, slides.system);
}

function read(which, slide, moved, system) {
  const ends = (name) => {
    const [closed, open] = [slide[`${name}_closed`], slide[`${name}_open`]];
    return closed === null || open === null ? null : closed + (open - closed) * held[which];
  };
  const values = {
    lift: length(moved, system),
    raise: force(between(slide.lift_mm, slide.raise_n, moved), system),
    lower: force(between(slide.lift_mm, slide.lower_n, moved), system),
    above: length(ends("above"), system),
    below: length(ends("below"), system),
  };
  const cell = document.querySelector(`[data-slide="${which}"]`);
  if (cell) {
    for (const [name, words] of Object.entries(values)) {
      const place = cell.querySelector(`[data-read="${name}"]`);
      if (place) place.textContent = words;
    }
    const range = cell.querySelector("input[type=range]");
    if (range) {
      range.value = Math.round(held[which] * 1000);
      range.setAttribute("aria-valuetext", `${which === "upper" ? "lowered" : "raised"} ${values.lift}`);
    }
  }
  const handle = document.querySelector(`#view [data-moves="${which}"][role="slider"]`);
  if (handle) {
    handle.setAttribute("aria-valuenow", Math.round(moved));
    handle.setAttribute("aria-valuetext", `${which === "upper" ? "lowered" : "raised"} ${values.lift}`);
  }
}

function set(which, share, slides) {
  held[which] = Math.min(1, Math.max(0, share));
  show(which, slides);
}

// --- taking hold of the sash in the drawing -------------------------------------

function steps(event, slide, which) {
  const opens = which === "upper" ? -1 : 1;
  const fine = 12.7 / slide.travel;
  const coarse = 101.6 / slide.travel;
  switch (event.key) {
    case "ArrowUp":
      return fine * opens;
    case "ArrowDown":
      return -fine * opens;
    case "ArrowRight":
      return fine;
    case "ArrowLeft":
      return -fine;
    case "PageUp":
      return coarse * opens;
    case "PageDown":
      return -coarse * opens;
    case "Home":
      return -2;
    case "End":
      return 2;
    default:
      return 0;
  }
}

function makeHandle(sash, which, slides) {
  const slide = slides.sashes[which];
  sash.setAttribute("role", "slider");
  sash.setAttribute("tabindex", "0");
  sash.setAttribute("aria-label", `${which} sash`);
  sash.setAttribute("aria-orientation", "vertical");
  sash.setAttribute("aria-valuemin", "0");
  sash.setAttribute("aria-valuemax", Math.round(slide.travel));
  sash.classList.add("handle");
  sash.addEventListener("keydown", (event) => {
    const step = steps(event, slide, which);
    if (!step) return;
    event.preventDefault();
    set(which, held[which] + step, slides);
  });
  sash.addEventListener("pointerdown", (event) => {
    if (event.button !== 0) return;
    event.preventDefault();
    sash.focus({ preventScroll: true });
    sash.setPointerCapture(event.pointerId);
    const svg = sash.ownerSVGElement;
    const perPixel = 1 / svg.getScreenCTM().a / scaleOf(svg);
    const from = { y: event.clientY, share: held[which] };
    const move = (moving) => {
      const up = (from.y - moving.clientY) * perPixel;
      set(which, from.share + (which === "upper" ? -up : up) / slide.travel, slides);
    };
    const done = () => {
      sash.removeEventListener("pointermove", move);
      sash.classList.remove("held");
    };
    sash.classList.add("held");
    sash.addEventListener("pointermove", move);
    sash.addEventListener("pointerup", done, { once: true });
    sash.addEventListener("pointercancel", done, { once: true });
  });
}

function begin() {
  const view = document.getElementById("view");
  if (!view) return;
  const slides = data();
  for (const which of Object.keys(slides.sashes)) {
    const sash = view.querySelector(`.view-opened [data-moves="${which}"][data-part="${which}.sash"]`);
    if (sash && !sash.hasAttribute("role")) makeHandle(sash, which, slides);
    const range = view.querySelector(`#slide-${which}`);
    range?.addEventListener("input", () => set(which, Number(range.value) / 1000, slides));
    if (view.querySelector(".view-opened")) show(which, slides);
  }
}

begin();
document.body.addEventListener("htmx:afterSettle", (event) => {
  if (event.detail.target?.id === "view") begin();
});
