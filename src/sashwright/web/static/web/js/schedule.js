// The schedule is walked with the arrow keys, from window to window.

document.body.addEventListener("keydown", (event) => {
  if (event.key !== "ArrowDown" && event.key !== "ArrowUp") return;
  const row = event.target.closest?.("#schedule tbody tr");
  if (!row) return;
  const next = event.key === "ArrowDown" ? row.nextElementSibling : row.previousElementSibling;
  const link = next?.querySelector("th a");
  if (!link) return;
  event.preventDefault();
  link.focus();
});
