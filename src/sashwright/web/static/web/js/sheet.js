// A form whose fields save themselves: what became of each is told in words, at the field.
//
// The server never replaces a field: it tells about it in an event, so that what is being typed
// stays as it is.

const unsaved = new Set();

function wrapper(id) {
  return document.getElementById(`w-${id}`);
}

function controls(field) {
  return [...field.querySelectorAll("input, select, textarea")];
}

function showState(state, words) {
  const place = document.getElementById("state");
  if (!place) return;
  place.dataset.state = state;
  place.textContent = words;
}

function say(field, words) {
  const place = field.querySelector(".says");
  field.classList.toggle("refused", Boolean(words));
  if (place && place.textContent !== words) place.textContent = words;
  for (const control of controls(field)) {
    if (words) control.setAttribute("aria-invalid", "true");
    else control.removeAttribute("aria-invalid");
  }
}

function fill(field, texts) {
  controls(field).forEach((control, index) => {
    const text = texts[index] ?? "";
    // Whoever has typed on meanwhile keeps what they typed.
    if (control.dataset.typed === undefined || control.dataset.typed === control.value) control.value = text;
    delete control.dataset.typed;
  });
}

document.body.addEventListener("sashwright:field", (event) => {
  const news = event.detail;
  const field = wrapper(news.id);
  if (!field) return;
  field.classList.remove("busy");
  if (news.status === "saved" || news.status === "unchanged") {
    unsaved.delete(news.id);
    say(field, "");
    fill(field, news.texts);
    for (const id of news.settles ?? []) {
      unsaved.delete(id);
      if (wrapper(id)) say(wrapper(id), "");
    }
    if (field.classList.contains("difference") && news.texts.length === 0) field.remove();
  } else {
    unsaved.add(news.id);
    say(field, news.status === "conflict" ? "Somebody else changed this: see above." : news.says);
  }
});

document.body.addEventListener("htmx:beforeRequest", (event) => {
  const control = event.detail.elt;
  if (!control.matches?.("input, select, textarea") || event.detail.requestConfig.verb !== "post") return;
  const field = control.closest(".field");
  if (!field) return;
  field.classList.add("busy");
  for (const each of controls(field)) each.dataset.typed = each.value;
  showState("saving", "Saving …");
});

// What somebody else changed is shown, except where something is typed that is not saved yet.
document.body.addEventListener("htmx:afterSettle", () => {
  const held = document.getElementById("held");
  if (!held) return;
  for (const [id, texts] of Object.entries(JSON.parse(held.dataset.held))) {
    const field = wrapper(id);
    if (field && !unsaved.has(id) && !field.contains(document.activeElement)) fill(field, texts);
  }
  held.remove();
});

document.addEventListener("sashwright:unreachable", (event) => {
  const field = event.detail.element.closest?.(".field");
  showState("refused", `Not saved: ${event.detail.reason}`);
  if (!field || !field.id.startsWith("w-")) return;
  field.classList.remove("busy");
  unsaved.add(field.id.slice(2));
  say(field, "Not saved yet; it is tried again when the connection is back.");
});

window.addEventListener("online", () => {
  for (const id of unsaved) {
    const control = wrapper(id)?.querySelector("input, select, textarea");
    control?.dispatchEvent(new Event("change", { bubbles: true }));
  }
});

window.addEventListener("beforeunload", (event) => {
  if (unsaved.size) event.preventDefault();
});

// Enter keeps what is typed and stays in the field; nothing is ever submitted as a whole.
document.getElementById("sheet")?.addEventListener("submit", (event) => event.preventDefault());
document.getElementById("sheet")?.addEventListener("keydown", (event) => {
  if (event.key !== "Enter" || !event.target.matches("input")) return;
  event.preventDefault();
  if (event.target.value !== event.target.defaultValue || event.target.closest(".refused")) {
    event.target.defaultValue = event.target.value;
    event.target.dispatchEvent(new Event("change", { bubbles: true }));
  }
});

// A difference taken out again: empty means as the family has it.
document.body.addEventListener("click", (event) => {
  const button = event.target.closest("[data-clear]");
  if (!button) return;
  const field = button.closest(".field");
  const saved = controls(field).some((control) => control.defaultValue || control.value || control.options);
  for (const control of controls(field)) control.value = "";
  if (saved) controls(field)[0].dispatchEvent(new Event("change", { bubbles: true }));
  else field.remove();
});

// The list from which a further field is chosen goes back to its first line.
document.body.addEventListener("htmx:beforeSwap", (event) => {
  const chooser = event.detail.requestConfig?.elt;
  if (!chooser?.id?.startsWith("add-")) return;
  const given = new DOMParser().parseFromString(event.detail.serverResponse, "text/html");
  const already = document.getElementById(given.querySelector(".field")?.id ?? "");
  if (already) {
    event.detail.shouldSwap = false;
    controls(already)[0].focus();
  }
  chooser.value = "";
});
