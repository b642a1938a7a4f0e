// A photograph chosen in a card and not saved yet is kept on this device, and is chosen again after a reload.
const LARGEST = 11_500_000; // bytes, as much as one entry may have
const database = new Promise((found) => {
  try {
    const asked = indexedDB.open("tintop chosen", 1);
    asked.onupgradeneeded = () => asked.result.createObjectStore("files", { keyPath: "card" });
    asked.onsuccess = () => found(asked.result);
    asked.onerror = () => found(null);
  } catch { found(null); }
});
async function inStore(mode, act) {
  const kept = await database;
  if (!kept) throw new Error("this device keeps nothing");
  return new Promise((found, failed) => {
    const turn = kept.transaction("files", mode);
    const asked = act(turn.objectStore("files"));
    turn.oncomplete = () => found(asked.result);
    turn.onabort = turn.onerror = () => failed(turn.error);
  });
}
const fieldsOf = (form) => [...form.querySelectorAll("input[type=file]")];
const forget = (card) => inStore("readwrite", (store) => store.delete(card)).catch(() => {});

async function keep(form) {
  const card = form.dataset.outbox;
  const chosen = fieldsOf(form).flatMap((field) => [...field.files].map((file) => [field.name, file]));
  if (!chosen.length) { await forget(card); return; }
  const words = form.querySelector(".shot-words");
  try {
    if (chosen.reduce((sum, [, file]) => sum + file.size, 0) > LARGEST) throw new Error("too large");
    const files = await Promise.all(chosen.map(async ([field, file]) => ({ field, name: file.name, type: file.type, content: await file.arrayBuffer() })));
    await inStore("readwrite", (store) => store.put({ card, files }));
    words.textContent = `${chosen.length} chosen, kept on this device until you save`;
  } catch { words.textContent = `${chosen.length} chosen; a reload forgets it: save first`; }
}

async function choose(form) {
  const kept = await inStore("readonly", (store) => store.get(form.dataset.outbox)).catch(() => null);
  if (!kept || fieldsOf(form).some((field) => field.files.length)) return;
  for (const field of fieldsOf(form)) {
    const again = new DataTransfer();
    for (const file of kept.files) if (file.field === field.name) again.items.add(new File([file.content], file.name, { type: file.type }));
    field.files = again.files;
  }
  const words = form.querySelector(".shot-words");
  words.textContent = `${kept.files.length} chosen before, kept on this device until you save`;
  form.closest("details.card")?.classList.add("has-chosen");
}
const seen = new WeakSet();
function all() {
  for (const form of document.querySelectorAll("form[data-outbox]")) if (!seen.has(form)) { seen.add(form); choose(form); }
}
document.addEventListener("change", ({ target }) => {
  if (target.type === "file" && target.form?.dataset.outbox !== undefined) keep(target.form);
});
document.addEventListener("tintop:taken-in", ({ detail: { form } }) => {
  form.closest("details.card")?.classList.remove("has-chosen");
  forget(form.dataset.outbox);
});
document.addEventListener("tintop:fresh", all);
all();
