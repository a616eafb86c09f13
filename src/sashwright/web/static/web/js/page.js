// What every page does: keys for undo and redo, and telling when the server cannot be reached.

function isTyping(target) {
  return target.closest("input:not([type=radio]):not([type=range]), textarea, select, [contenteditable]");
}

document.addEventListener("keydown", (event) => {
  if (!(event.ctrlKey || event.metaKey) || event.altKey || isTyping(event.target)) return;
  const key = event.key.toLowerCase();
  const wanted = key === "z" && !event.shiftKey ? "undo" : key === "y" || key === "z" ? "redo" : "";
  const button = wanted && document.getElementById(wanted);
  if (!button || button.disabled) return;
  event.preventDefault();
  button.click();
});

// What was done is told for a while, longer where it can be undone here; the history keeps it all.
function fade() {
  for (const notice of document.querySelectorAll(".notice:not([data-fading])")) {
    notice.dataset.fading = "";
    setTimeout(() => notice.remove(), notice.querySelector("form") ? 30_000 : 8_000);
  }
}
fade();
document.body.addEventListener("htmx:oobAfterSwap", fade);

// Whoever only looks gets forms that cannot be typed into; the server would refuse them anyhow.
function lookOnly() {
  if (!document.body.hasAttribute("data-looks-only")) return;
  for (const form of document.querySelectorAll("main form:not([method=get]):not([data-reading])")) {
    for (const each of form.elements) each.disabled = true;
  }
}
lookOnly();
document.body.addEventListener("htmx:afterSwap", lookOnly);

// On paper nothing can be unfolded: the groups of a form are printed open.
let closed = [];
window.addEventListener("beforeprint", () => {
  closed = [...document.querySelectorAll(".sheetform details:not([open])")];
  for (const group of closed) group.open = true;
});
window.addEventListener("afterprint", () => {
  for (const group of closed) group.open = false;
});

// A part of a page that could not be fetched: say so where people look for what was saved.
for (const name of ["htmx:sendError", "htmx:timeout", "htmx:responseError"]) {
  document.body.addEventListener(name, (event) => {
    const reason =
      name === "htmx:responseError"
        ? `the server answered ${event.detail.xhr.status}`
        : "no connection to the server";
    document.dispatchEvent(new CustomEvent("sashwright:unreachable", { detail: { reason, element: event.detail.elt } }));
    if (document.getElementById("state")) return;
    const notices = document.getElementById("notices");
    const notice = document.createElement("div");
    notice.className = "notice";
    notice.textContent = `Not done: ${reason}.`;
    notices.replaceChildren(notice);
  });
}
