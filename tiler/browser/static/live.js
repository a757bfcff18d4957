// Tells the page that this window is open, and follows every change of the form with its figures.
"use strict";

const here = document.body.dataset.window;
const BEAT = 15000;
const PAUSE = 90;
const SPOKEN = 1200;

function beat() {
  fetch("/here", { method: "POST", body: here, keepalive: true }).catch(() => {});
}

beat();
setInterval(beat, BEAT);
addEventListener("pageshow", (event) => { if (event.persisted) beat(); });
document.addEventListener("visibilitychange", () => { if (!document.hidden) beat(); });
addEventListener("pagehide", () => navigator.sendBeacon("/closed", here));

const form = document.querySelector("form[data-live]");
if (form) follow(form);

function answers(form) {
  const filled = new URLSearchParams();
  const paired = {};
  for (const [name, value] of new FormData(form)) {
    // of a spec only what was changed is sent, an emptied field too
    const was = form.elements[name].dataset?.was;
    if (was !== undefined) {
      if (value !== was) filled.append(name, value);
      continue;
    }
    // a name and a length that belong together keep their places
    if (form.elements[name] instanceof RadioNodeList) (paired[name] ||= []).push(value.trim());
    else if (value.trim()) filled.append(name, value);
  }
  for (const [name, values] of Object.entries(paired)) {
    if (values.some(Boolean)) values.forEach((value) => filled.append(name, value));
  }
  return filled;
}

function follow(form) {
  const beside = document.getElementById("beside");
  const told = document.getElementById("told");
  let waiting = 0;
  let silent = 0;
  let asked = null;

  async function ask() {
    const query = answers(form).toString();
    history.replaceState(null, "", query ? `${form.getAttribute("action")}?${query}` : form.getAttribute("action"));
    asked?.abort();
    asked = new AbortController();
    try {
      const answer = await fetch(`${form.dataset.live}?${query}`, { signal: asked.signal });
      if (!answer.ok) throw new Error(answer.statusText);
      const opened = [...beside.querySelectorAll("details")].map((fold) => fold.open);
      beside.innerHTML = await answer.text();
      beside.querySelectorAll("details").forEach((fold, at) => { fold.open ||= opened[at] ?? false; });
      note(form, beside);
      // to be read out once somebody stops typing: what is in the way, or the first of the numbers
      clearTimeout(silent);
      silent = setTimeout(() => {
        told.textContent = beside.querySelector(".fault, .numbers tr")?.textContent.trim() ?? "";
      }, SPOKEN);
    } catch (fault) {
      if (fault.name !== "AbortError") {
        const said = document.createElement("p");
        said.className = "fault";
        said.textContent = "The page does not answer any more; start it again. Your answers stand in the address of this window.";
        beside.replaceChildren(said);
      }
    }
  }

  function changed() {
    clearTimeout(waiting);
    waiting = setTimeout(ask, PAUSE);
  }
  form.addEventListener("input", changed);
  // who chooses a word for somebody may tell of a change alone
  form.addEventListener("change", (event) => { if (event.target.matches("select")) changed(); });
  document.body.classList.add("live");
}

// puts what is said about a field below it, and shows the fields that belong to the answers
function note(form, beside) {
  for (const place of form.querySelectorAll(".notes")) place.replaceChildren();
  for (const field of form.querySelectorAll("[aria-invalid]")) field.removeAttribute("aria-invalid");
  const hidden = new Set(document.getElementById("left-out")?.dataset.names.split(" "));
  for (const field of form.querySelectorAll("[data-of]")) field.hidden = hidden.has(field.dataset.of);
  for (const told of beside.querySelectorAll("[data-note-for]")) put(told.dataset.noteFor, told.textContent, told.dataset.kind);
  for (const told of beside.querySelectorAll("[data-field]")) {
    put(told.dataset.field, told.textContent, told.className);
    if (told.className === "fault") document.getElementById(told.dataset.field)?.setAttribute("aria-invalid", "true");
  }
}

function put(field, text, kind) {
  const place = document.getElementById(`note-${document.getElementById(field)?.dataset.notes ?? field}`);
  if (!place) return;
  const said = document.createElement("p");
  said.className = kind;
  said.textContent = text;
  place.append(said);
  const around = place.closest("[data-of]");
  if (around) around.hidden = false;
  if (kind === "read") return;
  for (let fold = place.closest("details"); fold; fold = fold.parentElement.closest("details")) fold.open = true;
}

// shows how far a long work is, and goes on when it is done
const far = document.querySelector("[data-work]");
if (far) {
  const bar = document.querySelector("progress");
  // who listens hears of it now and then
  setInterval(() => { document.getElementById("told").textContent = far.textContent; }, 8000);
  const look = async () => {
    try {
      const work = await (await fetch(far.dataset.work)).json();
      if (work.done) return location.reload();
      if (far.textContent !== work.told) far.textContent = work.told;
      if (work.steps) [bar.max, bar.value] = [work.steps, work.step];
    } catch {
      far.textContent = "The page does not answer any more; start it again.";
      return;
    }
    setTimeout(look, 300);
  };
  setTimeout(look, 300);
}

// a file that is far too large would only end the connection
const LARGEST = 64 * 2 ** 20;
for (const chooser of document.querySelectorAll("input[type=file]")) {
  chooser.addEventListener("change", () => {
    const large = (chooser.files[0]?.size ?? 0) > LARGEST;
    chooser.setCustomValidity(large ? "The file is larger than 64 MB; nothing of it was read." : "");
    chooser.reportValidity();
  });
}

// a file may be dropped anywhere on a page that asks for one; the form whose kind it is takes it
const takers = [...document.querySelectorAll("form[data-drop]")];
for (const taker of takers) {
  // the answers as they stand now go along
  taker.addEventListener("submit", () => {
    if ("answers" in taker.dataset) taker.action = taker.getAttribute("action").split("?")[0] + location.search;
  });
}
if (takers.length) {
  const shown = (event, on) => {
    if (!event.dataTransfer?.types.includes("Files")) return;
    event.preventDefault();
    document.body.classList.toggle("dropping", on);
  };
  addEventListener("dragover", (event) => shown(event, true));
  addEventListener("dragleave", (event) => { if (!event.relatedTarget) shown(event, false); });
  addEventListener("drop", (event) => {
    shown(event, false);
    const names = [...(event.dataTransfer?.files ?? [])].map((file) => file.name.toLowerCase());
    if (!names.length) return;
    const fits = (taker) => taker.dataset.drop.split(" ").some((ending) => names.some((name) => name.endsWith(ending)));
    const taker = takers.find(fits) ?? takers[0];
    const chooser = taker.querySelector("input[type=file]");
    chooser.files = event.dataTransfer.files;
    chooser.dispatchEvent(new Event("change", { bubbles: true }));
    taker.requestSubmit();
  });
}
