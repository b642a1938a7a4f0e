// The bench answers while it is turned: the address holds what was typed, and the last question asked wins.

const PAUSE = 80; // milliseconds after a key or a slide
const QUIET = 700; // milliseconds until what came of it is read out
const form = document.querySelector("form[data-bench]");
const said = document.querySelector("[data-bench-said]");
const echo = form.querySelector("[data-echo]");
const beneath = matchMedia("(max-width: 60rem)"); // the form stands under the answer, folded
const answerNow = () => document.querySelector("#bench-answer");
const ofSlide = (slide) => form.elements[slide.dataset.for];
const slides = [...form.querySelectorAll("[data-for]")];

function typed() {
  const query = new URLSearchParams();
  for (const field of form.elements) {
    if (!field.name || field.tagName === "BUTTON" || !form.contains(field)) continue;
    if ((field.type === "checkbox" || field.type === "radio") && !field.checked) continue;
    if (field.value.trim() !== (field.dataset.now ?? "")) query.append(field.name, field.value.trim());
  }
  return query.toString();
}

function follow(field) {
  for (const slide of slides) {
    if (ofSlide(slide) !== field) continue;
    const value = Number(field.value.trim().replace(",", ".").replace("\u2212", "-"));
    if (field.value.trim() && Number.isFinite(value)) slide.value = value;
  }
}

for (const slide of slides) {
  slide.hidden = false;
  slide.addEventListener("input", () => {
    const field = ofSlide(slide);
    const digits = (slide.step.split(".")[1] ?? "").length;
    const now = Number(field.dataset.now);
    const isNow = field.dataset.now && Math.abs(slide.value - now) < slide.step / 2;
    field.value = isNow ? field.dataset.now : Number(slide.value).toFixed(digits);
    soon();
  });
}
form.querySelector("[data-by-hand]").hidden = true;
const inputs = form.querySelector("[data-inputs]");
inputs.open = !beneath.matches || inputs.dataset.needed !== undefined;
document.querySelector(".bench-jump").addEventListener("click", () => { inputs.open = true; });
beneath.addEventListener("change", () => { if (!beneath.matches) inputs.open = true; });
form.addEventListener("input", (event) => {
  if (event.target.type === "range") return;
  follow(event.target);
  soon();
});
form.addEventListener("submit", (event) => {
  if (event.submitter?.formMethod === "post") return;
  event.preventDefault();
  ask();
});

let timer = 0;
let shown = typed();
let under = null;

function soon() {
  clearTimeout(timer);
  timer = setTimeout(ask, PAUSE);
}

async function ask() {
  clearTimeout(timer);
  const query = typed();
  if (query === shown) return;
  under?.abort();
  const mine = new AbortController();
  under = mine;
  shown = query;
  history.replaceState(null, "", query ? `${location.pathname}?${query}` : location.pathname);
  try {
    const address = `${location.pathname}?${query}${query ? "&" : ""}part=answer`;
    const found = await fetch(address, { headers: { Accept: "text/html" }, signal: mine.signal });
    const text = await found.text();
    if (under !== mine) return;
    const fresh = new DOMParser().parseFromString(text, "text/html");
    if (found.redirected || !fresh.querySelector("[data-answer]")) { location.reload(); return; }
    showProblems(fresh);
    if (found.ok) showAnswer(fresh);
    else sayBefore("Not worked out: mend what is marked. Below is what was worked out before.");
  } catch {
    if (under !== mine || mine.signal.aborted) return;
    shown = null;
    sayBefore("The laptop cannot be reached. Below is what was worked out before.");
  }
}

function showProblems(fresh) {
  const sentences = new Map([...fresh.querySelectorAll("[data-problems] [data-problem]")].map((each) => [each.dataset.problem, each.textContent]));
  if (sentences.size) inputs.open = true;
  for (const place of document.querySelectorAll("#content [data-problem]")) {
    const sentence = sentences.get(place.dataset.problem) ?? "";
    place.textContent = sentence;
    place.hidden = !sentence;
    const field = place.dataset.problem && form.elements[place.dataset.problem];
    if (!field?.setAttribute) continue;
    if (sentence) field.setAttribute("aria-invalid", "true");
    else field.removeAttribute("aria-invalid");
  }
}

function showAnswer(fresh) {
  const section = answerNow();
  const open = new Set([...section.querySelectorAll("details[open][id]")].map((each) => each.id));
  const focused = section.contains(document.activeElement) ? document.activeElement : null;
  const mark = focused?.id ? `#${CSS.escape(focused.id)}` : focused?.getAttribute("href") ? `[href="${CSS.escape(focused.getAttribute("href"))}"]` : "";
  section.replaceChildren(...fresh.querySelector("[data-answer]").childNodes);
  section.classList.remove("is-before");
  for (const each of section.querySelectorAll("details[id]")) each.open = open.has(each.id);
  if (mark) section.querySelector(mark)?.focus();
  document.querySelector("footer [data-cautions]")?.replaceChildren(...fresh.querySelector("[data-cautions]").childNodes);
  readOut(section.querySelector("[data-says]")?.textContent ?? "");
  markWider();
  document.dispatchEvent(new CustomEvent("tintop:worked-out"));
}

function markWider() { // a table that goes on beyond the edge says so
  for (const each of document.querySelectorAll("#content .scroll")) each.classList.toggle("is-wider", each.scrollWidth > each.clientWidth + 1);
}
document.addEventListener("toggle", markWider, true);
document.addEventListener("tintop:fresh", markWider);
window.addEventListener("resize", markWider);
markWider();

const folded = new Set(); // paper has no folds; a list of jobs is printed with those that were opened
window.addEventListener("beforeprint", () => {
  if (document.querySelector(".jobs")) return;
  for (const each of document.querySelectorAll("details.fold:not([open])")) { folded.add(each); each.open = true; }
});
window.addEventListener("afterprint", () => {
  for (const each of folded) each.open = false;
  folded.clear();
});

function sayBefore(words) {
  const section = answerNow();
  section.classList.add("is-before");
  const place = document.querySelector('#content [data-problem=""]');
  if (place.hidden) { place.textContent = words; place.hidden = false; }
  readOut(words);
}

let reading = 0;
function readOut(words) {
  clearTimeout(reading);
  echo.textContent = words;
  echo.hidden = !words;
  reading = setTimeout(() => { if (said.textContent !== words) said.textContent = words; }, QUIET);
}

window.addEventListener("pageshow", () => { // what a browser brings back with Back is worked out as it is typed
  for (const field of form.elements) follow(field);
  ask();
});
