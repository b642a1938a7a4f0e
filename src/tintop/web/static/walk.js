// The walk-round on the phone: what is typed is read back, what is saved shows as waiting, the next card opens.
const remembered = (field) => `tintop walk ${field.dataset.remember}`;
for (const field of document.querySelectorAll("[data-remember]")) {
  try { field.value = localStorage.getItem(remembered(field)) || field.value; } catch { /* nothing is remembered here */ }
  field.addEventListener("input", () => { try { localStorage.setItem(remembered(field), field.value); } catch { /* as above */ } });
}
const card = (form) => form.closest("details.card");

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (form.dataset.outbox === undefined) return;
  const who = document.getElementById("walk-who");
  if (who && form.elements.who) form.elements.who.value = who.value;
  const origin = document.getElementById("walk-origin");
  if (origin?.value && form.dataset.kind === "point" && !form.elements.note.value) form.elements.note.value = `origin: ${origin.value}`;
}, { capture: true });

// What was understood of the value stands below it.
const VALUE = ["value", "x", "y", "z", "unit", "year", "month", "day_marked", "error", "form", "instrument"];
const pause = new Map();
document.addEventListener("input", (event) => {
  const form = event.target.form;
  if (!form?.elements.fact || !VALUE.includes(event.target.name)) return;
  clearTimeout(pause.get(form));
  pause.set(form, setTimeout(() => read(form), 150));
});
async function read(form) {
  const place = form.querySelector(".understood");
  const query = new URLSearchParams([...new FormData(form)].filter(([name, value]) => typeof value === "string" && (VALUE.includes(name) || name === "fact")));
  try {
    const answer = await fetch(`/legal/understood?${query}`);
    if (answer.ok) place.replaceChildren(...new DOMParser().parseFromString(await answer.text(), "text/html").body.childNodes);
  } catch { place.textContent = ""; /* out of reach: the laptop reads it when it is sent */ }
}

document.addEventListener("click", (event) => {
  const button = event.target.closest?.("[data-turn]");
  if (!button) return;
  const field = document.getElementById(button.dataset.turn);
  field.value = field.value.startsWith("-") ? field.value.slice(1) : `-${field.value}`;
  field.focus();
  field.dispatchEvent(new Event("input", { bubbles: true }));
});

// The list of parts stands once in the page; a card takes it over when it is unfolded.
function withParts(card) {
  for (const choice of card.querySelectorAll("[data-all-parts]")) {
    const chosen = choice.value;
    delete choice.dataset.allParts;
    for (const part of document.querySelectorAll("#all-parts option")) if (part.value !== chosen) choice.append(part.cloneNode(true));
  }
}
document.addEventListener("toggle", (event) => {
  if (event.target.matches?.("details.card[open]")) withParts(event.target);
}, { capture: true });

// An outline is drawn as its corners are typed.
function draw(field) {
  const drawing = document.getElementById(field.dataset.outline)?.querySelector("polygon");
  const corners = field.value.split(/[\n;]|,(?=\s)/).map((line) => line.trim().split(/[\s,]+/).map(Number)).filter((pair) => pair.length >= 2 && pair.slice(0, 2).every(Number.isFinite));
  if (!drawing || corners.length < 2) { drawing?.setAttribute("points", ""); return; }
  const [left, low] = [0, 1].map((axis) => Math.min(...corners.map((corner) => corner[axis])));
  const size = Math.max(...[0, 1].map((axis) => Math.max(...corners.map((corner) => corner[axis])) - Math.min(...corners.map((corner) => corner[axis])))) || 1;
  drawing.setAttribute("points", corners.map(([x, y]) => `${10 + 80 * (x - left) / size},${90 - 80 * (y - low) / size}`).join(" "));
}
document.addEventListener("input", (event) => { if (event.target.dataset?.outline) draw(event.target); });
document.querySelectorAll("[data-outline]").forEach(draw);

document.addEventListener("change", (event) => {
  if (event.target.type !== "file") return;
  const form = event.target.form;
  const count = [...form.querySelectorAll("input[type=file]")].reduce((sum, field) => sum + field.files.length, 0);
  const words = form.querySelector(".shot-words");
  if (words) words.textContent = count ? `${count} chosen` : "";
});

// A card that was saved stays open with what is found now; a button beside it unfolds the next one that is open.
document.addEventListener("tintop:taken-in", ({ detail: { form } }) => {
  const words = form.querySelector(".shot-words");
  if (words) words.textContent = "";
  if (form.elements.sure) form.elements.sure.checked = false;
  const here = card(form);
  if (!here) return;
  here.classList.remove("open-card");
  const place = form.querySelector(".outbox-words");
  here.querySelector(".go-on")?.remove();
  const button = document.createElement("button");
  button.type = "button";
  button.className = "go-on";
  const next = nextOpen(here);
  button.textContent = next ? `Next: ${next.querySelector(".ask-words").textContent}` : "Fold it";
  button.addEventListener("click", () => { button.remove(); goOn(here); });
  place.after(button);
  place.scrollIntoView({ block: "center" });
  button.focus({ preventScroll: true });
});
function nextOpen(here) {
  const all = [...document.querySelectorAll("details.card")];
  return all.slice(all.indexOf(here) + 1).find((each) => each.classList.contains("open-card"));
}
function goOn(here) {
  const next = nextOpen(here);
  here.open = false;
  if (next) next.open = true;
  (next ?? here).querySelector("summary").focus();
  (next ?? here).scrollIntoView({ block: "start" });
}
document.addEventListener("tintop:waiting", ({ detail: items }) => {
  const waiting = new Map(items.map((item) => [item.card, item]));
  for (const form of document.querySelectorAll("form[data-outbox]")) {
    const item = waiting.get(form.dataset.outbox);
    const mark = card(form)?.querySelector(".waits");
    if (mark) mark.hidden = !item || Boolean(item.refused);
    const sure = form.querySelector(".sure");
    if (sure) sure.hidden = !item?.isAsked;
    const words = form.querySelector(".outbox-words");
    if (item && words) words.textContent = item.refused ? item.refused : "Waiting to be sent; kept on this device.";
    if (words) words.classList.toggle("problem", Boolean(item?.refused));
  }
});
document.addEventListener("tintop:sent", ({ detail: { item, words, verdict } }) => {
  const place = document.querySelector(`form[data-outbox="${CSS.escape(item.card)}"] .outbox-words`);
  if (place && words) { place.textContent = `Saved: ${words}. ${verdict ?? ""}`.trim(); place.classList.remove("problem"); }
});

// A link to a card opens it, and the fold it lies in.
function open() {
  const wanted = location.hash && document.getElementById(decodeURIComponent(location.hash.slice(1)));
  if (!(wanted instanceof HTMLDetailsElement)) return;
  for (let each = wanted; each; each = each.parentElement?.closest("details")) each.open = true;
  wanted.scrollIntoView({ block: "start" });
}
window.addEventListener("hashchange", open);
document.querySelector(".stations [aria-current]")?.scrollIntoView({ block: "nearest", inline: "center" });
open();

// The forms of what is recorded follow once the page stands; from then on all of it works without the laptop.
const here = document.getElementById("here");
const restWords = document.getElementById("rest-words");
let isFetching = false;
async function fetchRest() {
  if (isFetching || !here?.querySelector("details[data-later]")) return;
  isFetching = true;
  try {
    const answer = await fetch(here.dataset.recorded, { headers: { Accept: "text/html" } });
    if (!answer.ok || answer.redirected) throw new Error("later");
    const fresh = new DOMParser().parseFromString(await answer.text(), "text/html");
    for (const card of fresh.querySelectorAll("details.card")) {
      const line = document.getElementById(card.id);
      if (line?.dataset.later === undefined) continue;
      const summary = line.querySelector("summary");
      card.querySelector("summary").remove();
      line.replaceChildren(summary, ...card.childNodes);
      delete line.dataset.later;
      if (line.open) withParts(line);
    }
    here.querySelectorAll("[data-outline]").forEach(draw);
    if (restWords) restWords.textContent = "All that stands here is on this device now and works without the laptop.";
    document.dispatchEvent(new CustomEvent("tintop:fresh"));
  } catch {
    if (restWords) restWords.textContent = "The laptop is out of reach: what is open can be recorded, the forms of what is recorded follow when it is back.";
  }
  isFetching = false;
}
document.addEventListener("tintop:connected", fetchRest);
fetchRest();

let forPaper = [];
window.addEventListener("beforeprint", () => {
  forPaper = [...document.querySelectorAll("details[data-on-paper]:not([open])")];
  for (const each of forPaper) each.open = true;
});
window.addEventListener("afterprint", () => { for (const each of forPaper) each.open = false; });
