// Findings and the parts they concern point at each other, by pointer and by keyboard.

// "lower.weight" concerns the weights on both sides; the "frame." of a part may be left out.
function concerns(name, part) {
  return `${part}.`.startsWith(`${name}.`) || `${part}.`.startsWith(`frame.${name}.`);
}

function point(name, on) {
  for (const part of document.querySelectorAll("svg [data-part]")) {
    if (concerns(name, part.dataset.part)) part.classList.toggle("pointed", on);
  }
}

function light(name, on) {
  for (const finding of document.querySelectorAll(".finding[data-on]")) {
    if (concerns(finding.dataset.on, name)) finding.classList.toggle("pointed", on);
  }
}

for (const [enter, leave] of [
  ["pointerover", "pointerout"],
  ["focusin", "focusout"],
]) {
  for (const [name, on] of [
    [enter, true],
    [leave, false],
  ]) {
    document.body.addEventListener(name, (event) => {
      const finding = event.target.closest?.(".finding[data-on]");
      if (finding) point(finding.dataset.on, on);
      const part = event.target.closest?.("svg [data-part]");
      if (part) light(part.dataset.part, on);
    });
  }
}
