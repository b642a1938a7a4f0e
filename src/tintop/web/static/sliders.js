// Sliders of the what-if: a move asks the laptop for the lap and shows it; the number beside may be typed.
// One question is under way at a time; what was moved meanwhile is asked for next.

const form = document.getElementById("what-if");
const strips = document.getElementById(form.dataset.strips);
const fields = [...form.querySelectorAll("input[data-now]")];
const time = form.querySelector("[data-time]");
const difference = form.querySelector("[data-difference]");
const asItStands = { time: form.dataset.timeNow, difference: "as the car stands" };

const slideOf = field => form.querySelector(`[data-for="${field.id}"]`);
const isMoved = field => field.value.trim() !== field.dataset.now;

for (const slide of form.querySelectorAll("[data-for]")) {
  const field = document.getElementById(slide.dataset.for);
  slide.hidden = false;
  slide.addEventListener("input", () => {
    field.value = Number(slide.value).toFixed(Number(field.dataset.digits));
    if (Math.abs(slide.value - field.dataset.now) < slide.step / 2) field.value = field.dataset.now;
    ask();
  });
  field.addEventListener("input", () => {
    const value = Number(field.value.replace(",", "."));
    if (field.value.trim() && Number.isFinite(value)) slide.value = value;
    ask();
  });
}
form.querySelector("button[type=submit]").hidden = true;
form.addEventListener("submit", event => {
  event.preventDefault();
  ask();
});
form.querySelector("[data-reset]").addEventListener("click", event => {
  event.preventDefault();
  for (const field of fields) {
    field.value = field.dataset.now;
    slideOf(field).value = field.dataset.now;
  }
  ask();
});

let isAsking = false;
let isAnotherWanted = false;

async function ask() {
  if (isAsking) {
    isAnotherWanted = true;
    return;
  }
  isAsking = true;
  do {
    isAnotherWanted = false;
    await answer();
  } while (isAnotherWanted);
  isAsking = false;
}

async function answer() {
  const query = new URLSearchParams({ event: form.elements.event.value });
  for (const field of fields) if (isMoved(field)) query.set(field.name, field.value.trim());
  history.replaceState(null, "", `${location.pathname}?${query}`);
  if (!fields.some(isMoved)) {
    show({}, null);
    return;
  }
  try {
    query.set("basis", form.dataset.forBasis);
    const found = await fetch(`${form.dataset.whatIf}?${query}`, { headers: { Accept: "application/json" } });
    const content = await found.json();
    show(content.problems ?? {}, found.ok ? content : null, !found.ok);
  } catch {
    show({ "": "The laptop cannot be reached; the numbers above are from before." }, null, true);
  }
}

function show(problems, changed, isRefused = false) {
  for (const place of form.querySelectorAll("[data-problem]")) {
    const sentence = problems[place.dataset.problem] ?? "";
    place.textContent = sentence;
    place.hidden = !sentence;
    const field = form.elements[place.dataset.problem];
    if (field) field.toggleAttribute("aria-invalid", Boolean(sentence));
    if (field && sentence) field.setAttribute("aria-invalid", "true");
  }
  if (isRefused) return;
  time.textContent = changed ? changed.time_words : asItStands.time;
  difference.textContent = changed ? changed.difference_words : asItStands.difference;
  strips.dispatchEvent(new CustomEvent("lap-changed", { detail: changed }));
}

document.addEventListener("strips-ready", () => { if (fields.some(isMoved)) ask(); });
