// A set-up value is read as what its item is: camber in degrees, a spring by its rate, a damper by its clicks.
document.addEventListener("input", (event) => {
  if (event.target.id !== "set_item") return;
  const value = document.getElementById("set_value");
  const item = [...document.querySelectorAll("#set-items option")].find((each) => each.value === event.target.value);
  const kind = item?.dataset.kind ?? "";
  if ((value.dataset.understand ?? "") === kind) return;
  if (kind) value.dataset.understand = kind;
  else delete value.dataset.understand;
  document.getElementById("set_value-understood").textContent = "";
  value.dispatchEvent(new Event("input", { bubbles: true }));
});
