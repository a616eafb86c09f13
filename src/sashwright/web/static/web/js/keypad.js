// Large keys for the scale: they type into the field, for those whose gloves no keyboard takes.

export const KEYS = {
  us: ["7", "8", "9", "4", "5", "6", "1", "2", "3", " lb ", "0", "⌫"],
  metric: ["7", "8", "9", "4", "5", "6", "1", "2", "3", ".", "0", "⌫"],
};

export function type(field, key) {
  if (key === "⌫") field.value = field.value.trimEnd().replace(/(\s*lb|.)$/, "").trimEnd();
  else if (key === " lb ") field.value = field.value.includes("lb") || !field.value ? field.value : `${field.value.trim()} lb `;
  else field.value += key;
  field.dispatchEvent(new Event("input", { bubbles: true }));
}

for (const pad of document.querySelectorAll("[data-keypad]")) {
  const field = document.getElementById(pad.dataset.keypad);
  for (const key of KEYS[pad.dataset.system] ?? KEYS.us) {
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = key.trim();
    button.setAttribute("aria-label", key === "⌫" ? "take back" : key.trim());
    button.addEventListener("click", () => type(field, key));
    pad.append(button);
  }
  pad.hidden = false;
}

// After a reading the field is ready for the next sash.
document.body.addEventListener("htmx:afterRequest", (event) => {
  if (event.detail.requestConfig.verb !== "post" || event.detail.xhr.status !== 200) return;
  const mass = document.getElementById("mass");
  if (mass) mass.value = "";
  // On a phone the answer stands below the keys.
  const answer = document.getElementById("answer");
  if (answer && answer.getBoundingClientRect().top > window.innerHeight * 0.6) answer.scrollIntoView({ block: "start" });
});
