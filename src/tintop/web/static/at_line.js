// An address with ?line= opens the text of a document at that line, marked.
const place = document.querySelector("textarea.document:not([readonly])");
const line = Number(new URLSearchParams(location.search).get("line"));
if (place && Number.isInteger(line) && line > 0) {
  const lines = place.value.split("\n");
  const start = lines.slice(0, line - 1).join("\n").length + (line > 1 ? 1 : 0);
  place.focus({ preventScroll: true });
  place.setSelectionRange(start, start + (lines[line - 1] ?? "").length);
  place.scrollTop = Math.max(0, (line - 4) * parseFloat(getComputedStyle(place).lineHeight));
  place.scrollLeft = 0;
  place.scrollIntoView({ block: "center" });
}
