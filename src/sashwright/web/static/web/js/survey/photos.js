// Photographs: taken or chosen, and shown small as long as they are here.

import { one } from "./db.js";
import { h } from "./dom.js";
import { widOf } from "./model.js";

const SMALL = 96;

export function photoButtons(take) {
  const make = (text, kind, more) => {
    const input = h("input", { type: "file", accept: "image/jpeg,image/png,image/webp", class: "visually-hidden", ...more });
    input.addEventListener("change", async () => {
      const files = [...input.files];
      if (files.length) await take(files);
      input.value = "";
    });
    return h("label", { class: `button ${kind}` }, input, text);
  };
  return h("div", { class: "row" }, make("Take a photograph", "", { capture: "environment" }), make("Choose", "quiet", { multiple: true }));
}

// Drawn, not linked to: nothing but this page gets to see them.
async function small(picture) {
  const canvas = h("canvas", { width: SMALL, height: SMALL, role: "img", "aria-label": "Photograph kept here" });
  try {
    const bitmap = await createImageBitmap(new Blob([picture.bytes], { type: picture.type }));
    const scale = Math.max(SMALL / bitmap.width, SMALL / bitmap.height);
    const [wide, high] = [bitmap.width * scale, bitmap.height * scale];
    canvas.getContext("2d").drawImage(bitmap, (SMALL - wide) / 2, (SMALL - high) / 2, wide, high);
    bitmap.close();
  } catch {
    // A picture that this browser cannot show is kept all the same.
  }
  return canvas;
}

export async function thumbnails(list, rows, wid, made) {
  if (!list) return;
  const mine = rows.filter((row) => row.entry.kind === "photo" && widOf(row.entry.window, made) === wid);
  for (const row of mine.slice(-12)) {
    const picture = await one("pictures", row.entry.key);
    if (picture) list.append(h("li", {}, await small(picture)));
  }
}
