// The survey: parts of the drawing are links, which bring their form without leaving the page.

const PART = "#part-condition";

document.body.addEventListener("click", async (event) => {
  if (event.button || event.ctrlKey || event.metaKey || event.shiftKey || event.altKey) return;
  const link = event.target.closest?.(`${PART} a`);
  const address = link?.getAttribute("href") ?? "";
  if (!/[?&](on|finding)=/.test(address)) return;
  event.preventDefault();
  await window.htmx.ajax("GET", address.split("#")[0], { target: PART, swap: "outerHTML" });
});

// Whoever took hold of a part goes on in its form, and comes back to the same place of the drawing.
let scrolled = 0;
document.body.addEventListener("htmx:beforeSwap", (event) => {
  if (event.detail.target?.matches?.(PART)) scrolled = document.querySelector(`${PART} .mapscroll`)?.scrollLeft ?? 0;
});
document.body.addEventListener("htmx:afterSettle", (event) => {
  if (event.detail.target?.id === "finding-form") {
    document.querySelector("#finding-form .severities input:checked, #finding-form .fields input")?.focus();
    return;
  }
  const part = document.querySelector(PART);
  if (!event.detail.elt?.matches?.(PART) && event.detail.target !== part) return;
  const map = part?.querySelector(".mapscroll");
  if (map) map.scrollLeft = scrolled;
  const form = part?.querySelector("#finding-form .wrongform");
  if (!form || part.contains(document.activeElement)) return;
  form.querySelector("select, input:not([type=hidden])")?.focus({ preventScroll: true });
  form.scrollIntoView({ block: "nearest" });
});
