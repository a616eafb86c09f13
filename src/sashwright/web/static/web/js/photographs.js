// Brings photographs in one by one, and shows how far each of them is. Without it the form is an
// ordinary one.

function fresh() {
  // Sent twice, a photograph counts once: each gets a name of its own before it is sent.
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}

function send(form, file, line) {
  const data = new FormData();
  for (const name of ["window", "component", "note", "keep_place"]) {
    const field = form.elements[name];
    if (field && (field.type !== "checkbox" || field.checked)) data.append(name, field.value);
  }
  data.append("key", fresh());
  data.append("photo", file);
  const bar = line.querySelector("progress");
  return new Promise((done) => {
    const request = new XMLHttpRequest();
    request.open("POST", form.action);
    request.setRequestHeader("Accept", "application/json");
    request.setRequestHeader("X-CSRFToken", form.elements.csrfmiddlewaretoken.value);
    request.upload.addEventListener("progress", (event) => {
      if (event.lengthComputable) bar.value = event.loaded / event.total;
    });
    request.addEventListener("loadend", () => {
      let says = request.status ? `the server answered ${request.status}` : "no connection to the server";
      try {
        says = JSON.parse(request.responseText).says;
      } catch {
        // Not an answer of ours; the number says enough.
      }
      done(request.status === 200 ? "" : says);
    });
    request.send(data);
  });
}

function lineFor(form, file) {
  const line = document.createElement("li");
  const name = document.createElement("span");
  name.textContent = file.name;
  const bar = document.createElement("progress");
  bar.max = 1;
  bar.value = 0;
  bar.setAttribute("aria-label", `Bringing in ${file.name}`);
  line.append(name, bar);
  form.querySelector(".sending").append(line);
  return line;
}

function show(form) {
  window.htmx.ajax("GET", form.dataset.list, {
    source: "#photo-list",
    target: "#photo-list",
    select: "#photo-list",
    swap: "outerHTML",
  });
}

async function sendAll(form, files) {
  const waiting = [...files].map((file) => [file, lineFor(form, file)]);
  let kept = 0;
  for (const [file, line] of waiting) {
    const says = await send(form, file, line);
    if (!says) {
      kept += 1;
      line.remove();
      continue;
    }
    line.classList.add("refused");
    line.textContent = says.startsWith(file.name) ? says : `${file.name}: ${says}`;
  }
  if (!kept) return;
  const note = form.elements.note;
  if (note) note.value = "";
  show(form);
}

document.body.addEventListener("change", (event) => {
  const input = event.target;
  const form = input.matches('input[type="file"]') && input.closest("form[data-photos]");
  if (!form || !input.files.length) return;
  form.querySelectorAll(".sending .refused").forEach((line) => line.remove());
  sendAll(form, [...input.files]);
  input.value = "";
});

document.documentElement.classList.add("sends-photos");
