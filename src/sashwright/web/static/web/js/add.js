// The row for adding windows: the cursor stands in the width, ready for the next one.

function ready() {
  const row = document.querySelector(".addrow");
  if (!row) return;
  const wrong = row.querySelector("[aria-invalid=true]");
  const field = wrong ?? row.querySelector("[name=width]");
  field?.focus();
  field?.select?.();
}

ready();
// At once, so that nobody who types on quickly is taken back to the width.
document.body.addEventListener("htmx:afterSwap", (event) => {
  if (event.detail.target?.id === "adding") ready();
});
