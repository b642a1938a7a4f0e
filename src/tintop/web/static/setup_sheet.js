// What is typed at a left wheel is put at the right one too, and read there as if it were typed.
const places = () => document.querySelectorAll("[data-right-as-left]");
const show = () => {
  for (const each of places()) each.hidden = false;
  if (document.querySelector("#type-back .kept")) document.querySelector("#type-back").open = true; // typed before and not sent
};
show();
document.addEventListener("click", (event) => {
  const end = event.target.closest?.("[data-right-as-left] [data-end]")?.dataset.end;
  if (!end) return;
  for (const left of document.querySelectorAll(`.corner-${end}L input:not([type=hidden])`)) {
    const right = document.getElementById(left.id.replace(/L$/, "R"));
    if (!right || right.value === left.value) continue;
    right.value = left.value;
    right.dispatchEvent(new Event("input", { bubbles: true }));
  }
});
new MutationObserver(show).observe(document.body, { childList: true });
