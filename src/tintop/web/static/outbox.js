// What is saved out of the laptop's reach waits on this device, photographs too; when it is back it is sent, once.
import { say } from "./live.js";
import { forget } from "./forms.js";

const LARGEST = 11_500_000; // bytes of one entry with its photographs; the laptop takes 12 MB
const PATIENCE = 150_000; // milliseconds
const ITS_TURN = 10_000; // milliseconds until what waits is tried again
const LATER = [401, 403, 408, 421]; // not paired, another name, too slow: it waits, and is sent when that is mended
const inMemory = new Map(); // where this device keeps no database: as long as the page is open

const database = new Promise((found) => {
  try {
    const asked = indexedDB.open("tintop outbox", 1);
    asked.onupgradeneeded = () => asked.result.createObjectStore("waiting", { keyPath: "key" });
    asked.onsuccess = () => found(asked.result);
    asked.onerror = () => found(null);
  } catch { found(null); }
});
async function inStore(mode, act) {
  const kept = await database;
  if (!kept) return null;
  return new Promise((found, failed) => {
    const turn = kept.transaction("waiting", mode);
    const asked = act(turn.objectStore("waiting"));
    turn.oncomplete = () => found(asked.result);
    turn.onabort = turn.onerror = () => failed(turn.error);
  });
}
export async function waiting() {
  const kept = (await inStore("readonly", (store) => store.getAll())) ?? [];
  return [...kept, ...inMemory.values()].sort((one, other) => one.at - other.at);
}
async function put(item) {
  try {
    if (await inStore("readwrite", (store) => store.put(item)) !== null) return true;
  } catch { /* full, or not allowed here */ }
  inMemory.set(item.key, item);
  return false;
}
async function drop(key) {
  inMemory.delete(key);
  await inStore("readwrite", (store) => store.delete(key));
}

const newKey = () => [...crypto.getRandomValues(new Uint8Array(16))].map((byte) => byte.toString(16).padStart(2, "0")).join("");
const today = () => { const now = new Date(); return new Date(now - now.getTimezoneOffset() * 60_000).toISOString().slice(0, 10); };
const megabytes = (bytes) => `${(bytes / 1e6).toFixed(1)} MB`;
const starts = (bytes, ...wanted) => wanted.every((byte, place) => bytes[place] === byte);

function whatIsWrong(name, bytes) {
  const letters = String.fromCharCode(...bytes.slice(4, 12));
  if (!bytes.length) return `Found nothing in ${name}.`;
  if (starts(bytes, 0xff, 0xd8, 0xff) || starts(bytes, 0x89, 0x50, 0x4e, 0x47) || starts(bytes, 0x25, 0x50, 0x44, 0x46)) return "";
  if (/^ftyp(hei|hev|mif1|msf1|avi)/.test(letters)) return `${name} is in the phone's own format (HEIC or AVIF); expected JPEG. Set the camera to JPEG and take it again.`;
  return `${name} is neither a photograph (JPEG or PNG) nor a PDF, whatever its name says.`;
}
async function filesOf(form) {
  const found = [];
  let size = 0;
  for (const field of form.querySelectorAll("input[type=file]")) {
    for (const file of field.files) {
      size += file.size;
      if (size > LARGEST) throw new Error(`Found ${megabytes(size)} in photographs; expected ${megabytes(LARGEST)} at most. Set the camera to a smaller size, or send them one by one.`);
      const content = await file.arrayBuffer();
      const wrong = whatIsWrong(file.name, new Uint8Array(content.slice(0, 16)));
      if (wrong) throw new Error(wrong);
      if (file.type.startsWith("image/") && window.createImageBitmap) {
        await createImageBitmap(new Blob([content], { type: file.type })).then((picture) => picture.close(), () => { throw new Error(`${file.name} is a picture that cannot be opened; take it again.`); });
      }
      found.push({ field: field.name, name: file.name, type: file.type, content });
    }
  }
  return found;
}

function sayAt(form, words, isWrong = false) {
  const place = form.querySelector(".outbox-words");
  if (!place) return;
  place.textContent = words;
  place.classList.toggle("problem", isWrong);
}

async function takeIn(form, submitter) {
  let files;
  try { files = await filesOf(form); } catch (error) { sayAt(form, error.message, true); return; }
  if (form.elements.made_on) form.elements.made_on.value = today();
  const before = (await waiting()).filter((item) => item.card === form.dataset.outbox && item.refused);
  if (!files.length) files = before.flatMap((item) => item.files); // what was refused is sent again with its photographs
  const body = new FormData(form, submitter);
  const fields = [...body].filter(([, value]) => typeof value === "string");
  const item = { key: form.elements.key.value, address: form.getAttribute("action"), card: form.dataset.outbox, about: form.dataset.about, fields, files, at: Date.now(), refused: "" };
  const isSafe = await put(item);
  for (const old of before) await drop(old.key);
  sayAt(form, isSafe ? "Kept on this device; being sent …" : "Being sent …; this device keeps nothing: leave the page open until it is.");
  forget(form);
  for (const field of form.querySelectorAll("input[type=file]")) field.value = "";
  form.elements.key.value = newKey();
  document.dispatchEvent(new CustomEvent("tintop:taken-in", { detail: { form, item } }));
  await tell();
  await sendAll();
}

async function sendOne(item) {
  const body = item.files.length ? new FormData() : new URLSearchParams();
  for (const [name, value] of item.fields) body.append(name, value);
  for (const file of item.files) body.append(file.field, new Blob([file.content], { type: file.type }), file.name);
  const answer = await fetch(item.address, { method: "POST", body, headers: { Accept: "application/json" }, signal: AbortSignal.timeout(PATIENCE) });
  if (answer.status >= 500 || LATER.includes(answer.status)) throw new Error("later");
  const text = await answer.text();
  const said = asData(text);
  if (answer.ok) {
    if (!said?.entry) throw new Error("later"); // another network's page of welcome, not the laptop
    return { isSaved: true, words: said.words, verdict: said.verdict };
  }
  return { isSaved: false, refused: sentenceIn(said, text) || `Refused without a word (${answer.status}).`, isAsked: Boolean(said?.is_asked) };
}
function asData(text) {
  try { return JSON.parse(text); } catch { return null; /* plain words */ }
}
function sentenceIn(said, text) {
  if (typeof said?.sentence === "string") return said.sentence;
  if (said && typeof said === "object") return Object.values(said).flatMap((each) => typeof each === "object" && each ? Object.values(each) : [each]).filter((each) => typeof each === "string").join(" ");
  return text.replace(/<[^>]*>/g, " ").replace(/\s+/g, " ").trim().slice(0, 400);
}

let isSending = false;
let isAsked = false;
export async function sendAll() {
  if (isSending) { isAsked = true; return; }
  isSending = true;
  do {
    isAsked = false;
    for (const item of await waiting()) {
      if (item.refused) continue;
      try {
        const found = await sendOne(item);
        if (found.isSaved) await drop(item.key);
        else await put({ ...item, refused: found.refused, isAsked: found.isAsked });
        document.dispatchEvent(new CustomEvent("tintop:sent", { detail: { item, ...found } }));
      } catch { break; } // out of reach: the rest waits too
    }
  } while (isAsked);
  isSending = false;
  const left = await tell();
  clearTimeout(sendAll.later);
  if (left.some((item) => !item.refused)) sendAll.later = setTimeout(sendAll, ITS_TURN);
}

const some = (count, word) => `${count} ${word}${count === 1 ? "" : word.endsWith("y") ? "" : "s"}`.replace("entrys", "entries");
function inWords(items) {
  const photographs = items.reduce((sum, item) => sum + item.files.length, 0);
  const entries = items.length === 1 ? "1 entry" : `${items.length} entries`;
  return photographs ? `${entries} with ${some(photographs, "photograph")}` : entries;
}

async function tell() {
  const items = await waiting();
  const unsent = items.filter((item) => !item.refused);
  const refused = items.length - unsent.length;
  const words = [unsent.length ? `Waiting to be sent: ${inWords(unsent)}, kept on this device.` : "", refused ? `Refused and still here: ${refused}; see the walk-round.` : ""];
  say(words.filter(Boolean).join(" "), "waiting");
  const list = document.getElementById("outbox");
  if (list) show(list, items);
  document.dispatchEvent(new CustomEvent("tintop:waiting", { detail: items }));
  return items;
}

function show(list, items) {
  list.hidden = !items.length;
  list.querySelector("ul").replaceChildren(...items.map((item) => {
    const line = document.createElement("li");
    const words = document.createElement("p");
    words.textContent = `${item.about}${item.files.length ? `, ${some(item.files.length, "photograph")}` : ""}: ${item.refused ? `${item.isAsked ? "asked" : "refused"}. ${item.refused}` : "waiting to be sent"}`;
    if (item.refused) words.className = "problem";
    line.append(words);
    if (item.refused) {
      const right = document.createElement("button");
      right.type = "button";
      right.textContent = item.isAsked ? "It is right: send it" : "Send it again";
      right.addEventListener("click", async () => {
        const fields = item.isAsked ? [...item.fields.filter(([name]) => name !== "sure"), ["sure", "yes"]] : item.fields;
        await put({ ...item, fields, refused: "", isAsked: false });
        await tell();
        await sendAll();
      });
      line.append(right);
    }
    if (item.refused) {
      const button = document.createElement("button");
      button.type = "button";
      button.textContent = "Throw it away";
      button.addEventListener("click", async () => { await drop(item.key); await tell(); });
      line.append(button);
    }
    return line;
  }));
}

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (form.dataset.outbox === undefined) return;
  event.preventDefault();
  takeIn(form, event.submitter);
});
document.addEventListener("tintop:connected", sendAll);
window.addEventListener("online", sendAll);
if (document.body.dataset.role && document.body.dataset.role !== "reader") sendAll();
