// What is unfolded stays unfolded when the page follows a change; a link to a line unfolds it.
const unfolded = new Set([...document.querySelectorAll("details[id][open]")].map((each) => each.id));
document.addEventListener("toggle", ({ target }) => {
  if (!(target instanceof HTMLDetailsElement) || !target.id || !target.isConnected) return;
  if (target.open) unfolded.add(target.id);
  else unfolded.delete(target.id);
}, { capture: true });
document.addEventListener("tintop:fresh", () => {
  for (const id of unfolded) document.getElementById(id)?.setAttribute("open", "");
});
function show() {
  const wanted = location.hash && document.getElementById(decodeURIComponent(location.hash.slice(1)));
  if (!wanted) return;
  for (let each = wanted; each; each = each.parentElement?.closest("details")) if (each instanceof HTMLDetailsElement) each.open = true;
  wanted.scrollIntoView({ block: "start" });
}
window.addEventListener("hashchange", show);
show();

// Paper does not unfold: what has to be seen there is unfolded for it.
let forPaper = [];
window.addEventListener("beforeprint", () => {
  forPaper = [...document.querySelectorAll("details[data-on-paper]:not([open])")];
  for (const each of forPaper) each.open = true;
});
window.addEventListener("afterprint", () => { for (const each of forPaper) each.open = false; });
