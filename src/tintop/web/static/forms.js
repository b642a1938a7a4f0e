// Typed text is never lost: kept on this device while it is typed, sent again when the laptop is back.
import { say } from "./live.js";

const PREFIX = "tintop typed ";
const store = {
  get(name) { try { return JSON.parse(localStorage.getItem(PREFIX + name)); } catch { return null; } },
  set(name, value) { try { localStorage.setItem(PREFIX + name, JSON.stringify(value)); } catch { /* full: the page still holds it */ } },
  drop(name) { localStorage.removeItem(PREFIX + name); },
};
const nameOf = (form) => form.dataset.keep || null;
export const forget = (form) => store.drop(nameOf(form));
const fieldsOf = (form) => [...form.elements].filter((field) => field.name && field.type !== "file" && field.type !== "password");

function keep(form) {
  const values = {};
  for (const field of fieldsOf(form)) {
    if (field.type === "checkbox" || field.type === "radio") {
      if (field.checked) values[field.name] = field.value;
    } else values[field.name] = field.value;
  }
  store.set(nameOf(form), { values, at: Date.now() });
}

function restore(form) {
  const kept = store.get(nameOf(form));
  if (!kept) return;
  let isDifferent = false;
  for (const field of fieldsOf(form)) {
    const value = kept.values[field.name];
    if (field.type === "checkbox" || field.type === "radio") {
      const checked = value === field.value;
      if (field.checked !== checked) { field.checked = checked; isDifferent = true; }
    } else if (value !== undefined && field.value !== value) {
      if (field.type !== "hidden") isDifferent = true;
      if (field.type !== "hidden" || field.name === "key" || field.name === "seen") field.value = value;
    }
  }
  if (isDifferent && !form.querySelector(".kept")) {
    const note = document.createElement("p");
    note.className = "hint kept";
    note.setAttribute("role", "status");
    note.textContent = "What you typed here before is back. ";
    const forget = document.createElement("button");
    forget.type = "button";
    forget.textContent = "Clear it";
    forget.addEventListener("click", () => { store.drop(nameOf(form)); location.reload(); });
    note.append(forget);
    form.prepend(note);
    for (const field of fieldsOf(form)) field.dispatchEvent(new Event("input", { bubbles: true }));
  }
}

const NOT_SENT = "Not sent yet: the laptop cannot be reached. It is kept here and sent again by itself.";
const LATE = "tintop sent late";
const PATIENCE = 20_000; // milliseconds; a key sent twice writes once
const waiting = new Map(); // forms not sent yet, and the button that was tapped

function sayBeside(button, words) {
  const beside = button?.closest("p, form") ?? button;
  if (!beside) return;
  let place = beside.nextElementSibling?.classList.contains("sending") ? beside.nextElementSibling : null;
  if (!place && !words) return;
  if (!place) {
    place = document.createElement("p");
    place.className = "sending";
    place.setAttribute("role", "status");
    beside.after(place);
  }
  place.textContent = words;
}

async function send(form, submitter) {
  const body = new FormData(form, submitter);
  const hasFile = [...form.elements].some((field) => field.type === "file" && field.files.length);
  const buttons = form.querySelectorAll("button");
  buttons.forEach((each) => { each.disabled = true; });
  if (!waiting.has(form)) sayBeside(submitter, nameOf(form) ? "Sending …" : "");
  try {
    const address = submitter?.getAttribute("formaction") || form.getAttribute("action") || location.href;
    const answer = await fetch(address, {
      method: "POST",
      body: hasFile ? body : new URLSearchParams(body),
      headers: { Accept: "text/html" },
      signal: nameOf(form) && !hasFile ? AbortSignal.timeout(PATIENCE) : null,
    });
    const text = answer.redirected ? "" : await answer.text();
    const isLate = waiting.delete(form);
    if (!waiting.size) say("");
    sayBeside(submitter, "");
    if (answer.ok && nameOf(form)) store.drop(nameOf(form));
    if (answer.ok && answer.redirected) {
      if (isLate) sessionStorage.setItem(LATE, "yes");
      location.href = answer.url;
      if (answer.url.split("#")[0] === location.href.split("#")[0]) location.reload();
      return;
    }
    if (isLate) say("The laptop is back: what waited here was sent.");
    if (answer.ok) showAnswer(text);
    else showRefusal(text, form, answer.headers.get("Content-Location"));
  } catch {
    waiting.set(form, submitter);
    say(NOT_SENT);
    sayBeside(submitter, NOT_SENT);
  } finally {
    buttons.forEach((each) => { each.disabled = false; });
  }
}

function showAnswer(text) {
  const fresh = new DOMParser().parseFromString(text, "text/html");
  const main = fresh.querySelector("main");
  if (!main) { say(text.slice(0, 300)); return null; }
  document.querySelector("main").replaceWith(main);
  prepare(main, false);
  main.focus();
  return main;
}

function showRefusal(text, form, address) {
  const main = showAnswer(text);
  if (!main) return;
  if (address) history.replaceState(null, "", address);
  const fresh = [...main.querySelectorAll("form[data-keep]")];
  const same = fresh.find((each) => nameOf(each) === nameOf(form)) ?? (address ? fresh[0] : null);
  if (nameOf(form) && same) { store.drop(nameOf(form)); keep(same); } // with the key it is shown with now
  const first = main.querySelector("[aria-invalid=true], .problem");
  if (first) { first.setAttribute("tabindex", first.tabIndex < 0 ? "-1" : "0"); first.focus(); first.scrollIntoView({ block: "center" }); }
  document.dispatchEvent(new CustomEvent("tintop:fresh"));
}

const prepared = new WeakSet();
function prepare(where, mayRestore = true) {
  for (const form of where.querySelectorAll("form[data-keep]")) {
    if (prepared.has(form)) continue;
    prepared.add(form);
    if (mayRestore) restore(form);
    form.addEventListener("input", () => keep(form));
    form.addEventListener("change", () => keep(form));
  }
}

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (form.method !== "post" || form.dataset.outbox !== undefined) return; // the outbox sends its own
  event.preventDefault();
  if (nameOf(form)) keep(form);
  send(form, event.submitter);
});
function sendAgain() {
  for (const [form, submitter] of waiting) if (form.isConnected) send(form, submitter);
}
document.addEventListener("tintop:connected", sendAgain);
window.addEventListener("online", sendAgain);
prepare(document);
document.addEventListener("tintop:fresh", () => prepare(document)); // forms that came with a change made elsewhere
if (sessionStorage.getItem(LATE)) {
  sessionStorage.removeItem(LATE);
  say("The laptop is back: what waited here was sent and is saved.");
}
document.addEventListener("input", () => { if (!waiting.size) say(""); });

// Reads a value as it is typed: the answer of /understand stands beside the field it belongs to.
const pause = new Map();
document.addEventListener("input", (event) => {
  const field = event.target.closest?.("[data-understand]");
  if (!field) return;
  clearTimeout(pause.get(field));
  pause.set(field, setTimeout(async () => {
    const place = document.getElementById(`${field.id}-understood`);
    if (!place) return;
    if (!field.value.trim()) { place.textContent = ""; return; }
    const query = new URLSearchParams({ kind: field.dataset.understand, text: field.value, name: field.name });
    try {
      const answer = await fetch(`/understand?${query}`);
      if (answer.ok) place.replaceChildren(...new DOMParser().parseFromString(await answer.text(), "text/html").body.childNodes);
    } catch { /* offline: the server reads it when it is sent */ }
  }, 120));
});
document.addEventListener("click", (event) => {
  const choice = event.target.closest?.("[data-write]");
  if (!choice) return;
  const asked = choice.closest(".understood")?.id.replace(/-understood$/, "");
  const names = choice.dataset.for.split(" ");
  const texts = names.length > 1 ? choice.dataset.write.split("|") : [choice.dataset.write];
  names.forEach((name, place) => {
    const field = document.getElementById(name);
    if (!field || (names.length > 1 && name !== asked && field.value.trim())) return; // what was typed there stays
    field.value = texts[place];
    field.dispatchEvent(new Event("input", { bubbles: true }));
  });
  document.getElementById(names.includes(asked) ? asked : names[0])?.focus();
});

// Paper does not scroll: what a long field holds is printed as text, a lap list in columns.
window.addEventListener("beforeprint", () => {
  for (const paper of document.querySelectorAll(".field.long .on-paper")) {
    const text = paper.closest(".field").querySelector("textarea").value.trim();
    if (paper.tagName !== "OL") { paper.textContent = text; continue; }
    paper.replaceChildren(...text.split(/[\s;]+/).filter(Boolean).map((lap) => {
      const line = document.createElement("li");
      line.textContent = lap;
      return line;
    }));
  }
});
