"""The page against its limits, on a book of ten seasons: first page, every page, weight, twenty phones.

`python benchmarks/page.py [--write docs/benchmarks_page.md]` makes the garage in a temporary folder, serves
it in a process of its own and asks it as browsers do. The time from a slider to the screen needs a browser
and is measured where Chromium is found.
"""

import argparse
import gzip
import os
import platform
import shutil
import socket
import statistics
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date, timedelta
from pathlib import Path

import httpx

sys.path.insert(0, str(Path(__file__).parent))
from ten_seasons import ten_seasons

from tintop.logbook.entries import Draft, MeetingPlanned, PlannedSession
from tintop.settings import Settings
from tintop.store.demo import demo_path
from tintop.store.demo_garage import write_demo_garage
from tintop.store.garage_store import Store

PAGES = (
    "/",
    "/answers/ready",
    "/answers/quick",
    "/car",
    "/lap",
    "/race",
    "/events",
    "/events/next",
    "/ready",
    "/costs",
    "/circuits",
    "/papers",
    "/history",
    "/documents",
)
RUNS = 15
PHONES, FOLLOWED_SECONDS, WRITE_EVERY = 20, 20.0, 2.0


def today() -> date:
    """The owner's own calendar day."""
    return date.today()  # noqa: DTZ011


def long_garage(folder: Path) -> Path:
    """A garage with the book of ten seasons, the demo's documents and an event next week."""
    store = Store.create(folder, Settings(title="Ten seasons", owner="owner"))
    store.close()
    (folder / "circuits").mkdir(exist_ok=True)
    (folder / "events").mkdir(exist_ok=True)
    for source, target in (
        ("car.toml", "car.toml"),
        ("circuit.csv", "circuits/larkmoor.csv"),
        ("event.toml", "events/next.toml"),
    ):
        shutil.copy(demo_path(source), folder / target)
    drafts = list(ten_seasons())
    last = max(draft.day for draft in drafts)
    day = max(today() + timedelta(days=7), last + timedelta(days=7))
    plan = MeetingPlanned(
        meeting="next",
        name="The next two hours",
        first_day=day,
        last_day=day,
        circuit="circuits/larkmoor.csv",
        document="events/next.toml",
        sessions=(PlannedSession(name="Race", kind="race", duration=7200.0),),
    )
    drafts.append(Draft(key="the next event", day=today(), who="owner", matter=plan))
    with Store.open(folder) as store:
        store.append(drafts)
    return folder


@contextmanager
def served(folder: Path) -> Iterator[tuple[str, int, float]]:
    """Serve a garage: its address, the process, and the seconds until the first page was whole."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    started = time.perf_counter()
    command = [sys.executable, "-m", "tintop", "serve", str(folder), "--no-open", "--port", str(port)]
    process = subprocess.Popen(command, stdout=subprocess.DEVNULL)
    address = f"http://127.0.0.1:{port}"
    try:
        while True:
            try:
                httpx.get(address, headers={"Accept": "text/html"}, timeout=60).raise_for_status()
                break
            except httpx.ConnectError:
                time.sleep(0.02)
        yield address, process.pid, time.perf_counter() - started
    finally:
        process.terminate()
        process.wait(20)


def wait_for_predictions(address: str) -> None:
    """Wait until lap and race are there."""
    for _ in range(600):
        if httpx.get(address + "/lap/readings.json", timeout=60).status_code == 200:
            return
        time.sleep(0.2)
    raise SystemExit("lap and race were not predicted in two minutes")


def page_times(address: str) -> list[tuple[str, float, float, int]]:
    """Median and greatest milliseconds and bytes on the wire of every page."""
    found = []
    with httpx.Client(base_url=address, headers={"Accept": "text/html"}, timeout=60) as client:
        for path in PAGES:
            client.get(path).raise_for_status()
            times = []
            for _ in range(RUNS):
                started = time.perf_counter()
                answer = client.get(path)
                times.append(1000.0 * (time.perf_counter() - started))
            raw = len(gzip.compress(answer.content, 5))
            found.append((path, statistics.median(times), max(times), raw))
    return found


def first_weight(address: str) -> int:
    """Bytes on the wire of the heaviest first visit: a page with its style, scripts and data."""
    import re

    heaviest = 0
    with httpx.Client(base_url=address, headers={"Accept": "text/html"}, timeout=60) as client:
        for path in PAGES:
            page = client.get(path).text
            assets = set(re.findall(r'(?:href|src)="(/(?:static|manifest|icon)[^"]+)"', page))
            for script in list(assets):
                if script.endswith(".js"):
                    base = script.rsplit("/", 1)[0]
                    assets |= {
                        f"{base}/{name}" for name in re.findall(r'from "\./([^"]+)"', client.get(script).text)
                    }
            parts = [page.encode(), *(client.get(asset).content for asset in assets)]
            if path in ("/lap", "/race"):
                parts.append(client.get(f"{path}/readings.json").content)
            heaviest = max(heaviest, sum(len(gzip.compress(part, 5)) for part in parts))
    return heaviest


def followed(address: str, process: int, folder: Path) -> float:
    """Share of one core the server takes while phones follow one event that changes."""
    stop = threading.Event()

    def follow() -> None:
        with httpx.Client(base_url=address, headers={"Accept": "text/html"}, timeout=60) as client:
            try:
                with client.stream("GET", "/live", headers={"Accept": "text/event-stream"}) as live:
                    for line in live.iter_lines():
                        if stop.is_set():
                            return
                        if line.startswith("data:"):
                            client_of_page.get("/events/next")
            except httpx.HTTPError:
                return

    client_of_page = httpx.Client(base_url=address, headers={"Accept": "text/html"}, timeout=60)
    phones = [threading.Thread(target=follow, daemon=True) for _ in range(PHONES)]
    for phone in phones:
        phone.start()
    time.sleep(2.0)
    before, started = cpu_seconds(process), time.perf_counter()
    with httpx.Client(
        base_url=address, headers={"Accept": "text/html", "Origin": address}, timeout=60
    ) as writer:
        place = 0
        while time.perf_counter() - started < FOLLOWED_SECONDS:
            place += 1
            answer = writer.post(
                "/reading/coolant", data={"key": f"bench {place}", "value": f"{90 + place % 9} °C"}
            )
            if answer.status_code not in (200, 303):
                raise SystemExit(f"a reading was refused: {answer.status_code} {answer.text[:300]}")
            time.sleep(WRITE_EVERY)
    spent = cpu_seconds(process) - before
    share = spent / (time.perf_counter() - started)
    stop.set()
    return share


def cpu_seconds(process: int) -> float:
    """Processor time a process has used."""
    fields = Path(f"/proc/{process}/stat").read_text().rsplit(")", 1)[1].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def slider(address: str) -> str:
    """Median and 95 % of the time from a slider's move to the new lap on the screen, in Chromium."""
    chromium = shutil.which("chromium")
    if chromium is None:
        return "no Chromium here"
    from playwright.sync_api import sync_playwright

    measure = """async () => {
      const slider = document.querySelector('main input[type=range]');
      const out = [];
      for (let i = 0; i < 40; i++) {
        const place = document.querySelector('[data-lap-time], output, .large');
        const before = document.querySelector('main').innerText;
        const share = (i % 2) ? 0.3 + i / 100 : 0.6;
        slider.value = Number(slider.min) + (Number(slider.max) - Number(slider.min)) * share;
        const started = performance.now();
        slider.dispatchEvent(new Event('input', {bubbles: true}));
        while (document.querySelector('main').innerText === before && performance.now() - started < 2000) {
          await new Promise(requestAnimationFrame);
        }
        await new Promise(requestAnimationFrame);
        out.push(performance.now() - started);
        await new Promise(r => setTimeout(r, 60));
      }
      return out;
    }"""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium, args=["--no-sandbox", "--disable-gpu"])
        page = browser.new_page(viewport={"width": 1400, "height": 900})
        page.goto(address + "/lap")
        page.wait_for_timeout(1000)
        times = sorted(page.evaluate(measure))
        browser.close()
    return f"{statistics.median(times):.0f} ms, 95 % within {times[int(0.95 * len(times))]:.0f} ms"


def main() -> None:
    parser = argparse.ArgumentParser()
    parser.add_argument("--write", type=Path)
    chosen = parser.parse_args()
    with tempfile.TemporaryDirectory() as place:
        demo = Path(place) / "demo"
        write_demo_garage(demo, today()).close()
        with served(demo) as (address, _process, first):
            lines = [f"| `tintop serve` to the first page, demo | {first:.2f} s | 3 s |"]
        folder = long_garage(Path(place) / "long")
        with served(folder) as (address, process, first):
            lines.append(f"| the same, ten seasons | {first:.2f} s | 3 s |")
            wait_for_predictions(address)
            for path, median, most, weight in page_times(address):
                found = f"{median:.0f} ms (most {most:.0f}), {weight / 1000:.0f} kB"
                lines.append(f"| `{path}` | {found} | 300 ms, 100 kB |")
            lines.append(f"| heaviest first visit | {first_weight(address) / 1000:.0f} kB | 1,500 kB |")
            lines.append(f"| slider to new lap on screen | {slider(address)} | 150 ms |")
            share = followed(address, process, folder)
            lines.append(
                f"| {PHONES} phones follow one event, a change every {WRITE_EVERY:.0f} s "
                f"| {share:.2f} of a core | 0.5 |"
            )
    table = "\n".join(["| what | measured | limit |", "|---|---|---|", *lines])
    machine = f"{platform.machine()}, {os.cpu_count()} cores, Python {platform.python_version()}"
    words = (
        f"# The page against its limits\n\n{today().isoformat()}, {machine}. A book of ten seasons "
        "(`benchmarks/ten_seasons.py`): 10,000 readings, 400 sessions, 60,000 cost lines. "
        f"Medians of {RUNS} requests one after another over the loopback, client's time included; "
        "weights are gzipped.\n\n"
        f"{table}\n"
    )
    print(words)
    if chosen.write:
        chosen.write.write_text(words, encoding="utf-8")


if __name__ == "__main__":
    main()
