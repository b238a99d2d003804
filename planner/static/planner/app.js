// Small comforts; every page works without them.
"use strict";

function headingOf(part) {
  if (part.matches("[data-live]")) return "Not reckoned anew";
  return part.matches(".action") ? "Not done yet" : "Not saved; what you typed is still here";
}

// What could not be sent stays as typed; the words of the answer stand above it.
function notSaved(form, words) {
  const box = document.createElement("div");
  box.className = "errors";
  box.setAttribute("role", "alert");
  const heading = document.createElement("h2");
  heading.textContent = headingOf(form);
  const advice = document.createElement("p");
  advice.textContent = words;
  box.append(heading, advice);
  form.querySelectorAll(":scope > .errors").forEach((old) => old.remove());
  form.prepend(box);
  if (!form.matches("[data-live]")) box.scrollIntoView({ block: "nearest" });
}

function wordsOf(html) {
  const page = new DOMParser().parseFromString(html, "text/html");
  const parts = page.querySelectorAll("main h1, main h1 ~ p:not(.page-actions)");
  const words = Array.from(parts, (part) => part.textContent.trim());
  return words.map((line) => (/[.!?]$/.test(line) ? line : `${line}.`)).join(" ");
}

function answer(event, words) {
  const form = event.detail.requestConfig.elt.closest("[data-live], form");
  if (form) notSaved(form, words);
  else window.location.assign(event.detail.pathInfo.requestPath);
}

document.addEventListener("htmx:responseError", (event) => {
  const words = wordsOf(event.detail.xhr.responseText);
  answer(event, words || "The house did not take it. Wait a moment and send it again.");
});

for (const lost of ["htmx:sendError", "htmx:timeout"]) {
  document.addEventListener(lost, (event) => {
    answer(event, "The house cannot be reached. Send it again when the network is back.");
  });
}

// A picture is sent no larger than it is kept; what cannot be drawn here is sent as it is.
async function shrunk(file, longest) {
  const whole = await createImageBitmap(file, { imageOrientation: "from-image" });
  const share = longest / Math.max(whole.width, whole.height);
  if (share >= 1) return file;
  const canvas = document.createElement("canvas");
  canvas.width = Math.round(whole.width * share);
  canvas.height = Math.round(whole.height * share);
  canvas.getContext("2d").drawImage(whole, 0, 0, canvas.width, canvas.height);
  const drawn = await new Promise((done) => canvas.toBlob(done, "image/jpeg", 0.85));
  return drawn ? new File([drawn], "picture.jpg", { type: "image/jpeg" }) : file;
}

document.addEventListener("change", async (event) => {
  const box = event.target;
  if (!box.dataset.shrink || !box.files.length) return;
  try {
    const list = new DataTransfer();
    list.items.add(await shrunk(box.files[0], Number(box.dataset.shrink)));
    box.files = list.files;
  } catch {
    // The house looks at it and says what is wrong.
  }
});

// Bottles counted as they are filled: the first press begins at one, and a page loaded again remembers.
const counted = () => `counted ${window.location.pathname}`;

function recall() {
  const kept = JSON.parse(sessionStorage.getItem(counted()) || "{}");
  for (const button of document.querySelectorAll("[data-count]")) {
    const box = document.getElementById(button.dataset.count);
    button.hidden = false;
    if (!(box.id in kept)) continue;
    box.value = kept[box.id];
    button.dataset.begun = "yes";
  }
}

document.addEventListener("click", (event) => {
  const button = event.target.closest("[data-count]");
  if (!button) return;
  const box = document.getElementById(button.dataset.count);
  box.value = button.dataset.begun ? Number(box.value || 0) + 1 : 1;
  button.dataset.begun = "yes";
  const kept = JSON.parse(sessionStorage.getItem(counted()) || "{}");
  kept[box.id] = box.value;
  sessionStorage.setItem(counted(), JSON.stringify(kept));
});

document.addEventListener("submit", (event) => {
  if (event.target.querySelector("[data-count]")) sessionStorage.removeItem(counted());
});
document.addEventListener("htmx:load", recall);
document.addEventListener("DOMContentLoaded", recall);
