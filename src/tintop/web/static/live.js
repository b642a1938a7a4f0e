// Keeps the page true: follows changes made on other devices, and says when the laptop cannot be reached.
const root = document.documentElement;
root.classList.add("has-script");

const button = document.querySelector(".menu-button");
const menu = document.getElementById("menu");
button.hidden = false;
button.addEventListener("click", () => {
  const open = menu.classList.toggle("open");
  button.setAttribute("aria-expanded", String(open));
});
const narrow = matchMedia("(max-width: 46rem)");
const showButton = () => { button.hidden = !narrow.matches; };
narrow.addEventListener("change", showButton);
showButton();

const connection = document.getElementById("connection");
const said = { sending: "", connection: "", waiting: "" };
export function say(words, about = "sending") {
  said[about] = words;
  const shown = [said.sending || said.connection, said.waiting].filter(Boolean).join(" ");
  if (connection.textContent !== shown) connection.textContent = shown;
  connection.hidden = !shown;
}

let seen = Number(document.body.dataset.changes);
let fetching = false;
let again = false;

export async function refresh() {
  if (fetching) { again = true; return; }
  fetching = true;
  try {
    const answer = await fetch(location.href, { headers: { Accept: "text/html" } });
    if (answer.redirected && new URL(answer.url).pathname === "/pair") { location.reload(); return; }
    if (answer.ok) {
      const fresh = new DOMParser().parseFromString(await answer.text(), "text/html");
      seen = Math.max(seen, Number(fresh.body.dataset.changes));
      for (const old of document.querySelectorAll("[data-live]")) {
        const now = fresh.getElementById(old.id);
        const isBusy = old.contains(document.activeElement) && old.querySelector("input, textarea, select");
        if (now && !isBusy && now.outerHTML !== old.outerHTML) {
          const focused = old.contains(document.activeElement) ? document.activeElement.getAttribute("href") : null;
          old.replaceWith(now);
          if (focused) now.querySelector(`[href="${CSS.escape(focused)}"]`)?.focus();
        }
      }
      document.dispatchEvent(new CustomEvent("tintop:fresh"));
    }
  } catch { /* the connection's own message tells it */ }
  fetching = false;
  if (again) { again = false; refresh(); }
}

let source = null;
let silent = 0;
function follow() {
  source = new EventSource("/live");
  source.addEventListener("change", (event) => {
    silent = 0;
    if (Number(event.data) !== seen) refresh();
  });
  source.addEventListener("open", () => {
    say("", "connection");
    document.dispatchEvent(new CustomEvent("tintop:connected"));
  });
  source.addEventListener("error", () => {
    say("The laptop cannot be reached. What you type is kept on this device and sent when it is back.", "connection");
    if (source.readyState === EventSource.CLOSED) {
      silent = Math.min(silent + 1, 10);
      refresh(); // a device that is paired no longer is sent to the page of pairing
      setTimeout(follow, 1000 * silent);
    }
  });
}
if (document.body.dataset.role) follow();

if ("serviceWorker" in navigator && window.isSecureContext) {
  navigator.serviceWorker.register("/service-worker.js").catch(() => {});
}
