// The parts of a window's page are asked for again after a change, but only once they are in sight:
// whoever types sizes at the top of the page waits for nothing further down.

const sight = new IntersectionObserver((entries) => {
  for (const { isIntersecting, target } of entries) {
    if (!isIntersecting) continue;
    sight.unobserve(target);
    target.dispatchEvent(new CustomEvent("sashwright:stale"));
  }
});

function outdated(but) {
  for (const part of document.querySelectorAll(".chapterpart:not(.waiting)")) {
    if (part.id === but) continue;
    part.setAttribute("aria-busy", "true");
    // Observed anew, it tells at once whether it is in sight.
    sight.unobserve(part);
    sight.observe(part);
  }
}

document.body.addEventListener("sashwright:field", (event) => {
  if (event.detail.status === "saved") outdated("");
});
// A part that was changed itself is new already.
document.body.addEventListener("sashwright:changed", (event) => outdated(event.detail.part));
