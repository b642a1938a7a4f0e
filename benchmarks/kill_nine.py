"""Kill a writer with SIGKILL at random moments and look whether anything it acknowledged is lost.

python benchmarks/kill_nine.py [--kills 1000] [--seed 1] [--write docs/kill_nine.md]

A child opens the garage, writes entries, corrections, documents, originals and backups as fast as it can,
and says on a pipe what was acknowledged, that is, what the store returned from. After a random time it is
killed. Then the garage is opened: its database must be whole, every acknowledged change there, no entry half
there, every document's file equal to its latest revision, every original equal to its digest, every backup
whole. Nothing but a fork separates one kill from the next, so the child starts in milliseconds.
"""

import argparse
import json
import os
import platform
import random
import select
import shutil
import signal
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable, Sequence
from contextlib import ExitStack
from dataclasses import dataclass, field
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

from tintop.logbook.entries import Draft, Measure, Reading, Remark, Withdrawn
from tintop.settings import Settings
from tintop.store.backups import verify
from tintop.store.database import DATABASE_NAME
from tintop.store.garage_store import Store
from tintop.store.revisions import digest_of

DOCUMENTS = ("car.toml", "circuits/larkmoor.csv", "events/larkmoor.toml")
IN_MEMORY = Path("/dev/shm")  # quicker than a disk, so that more is written before a kill
AFRESH_EVERY = 40  # kills after which a new garage is begun, so that looking stays quick
LONGEST_LIFE = 0.15  # [s] that a child lives at most once it has opened the garage
FROM_BIRTH = 0.2  # share of the children whose life counts from their birth, so that openings are struck too
SLOWEST_OPENING = 30.0  # [s]
DAY = date(2026, 5, 2)


@dataclass
class Acknowledged:
    """What the children said was written, since the garage was made."""

    entries: dict[int, str] = field(default_factory=dict)  # number → key
    revisions: dict[str, list[str]] = field(default_factory=dict)  # document → digests in order
    originals: set[str] = field(default_factory=set)
    backups: set[str] = field(default_factory=set)

    def note(self, said: dict[str, Any]) -> None:
        if said["what"] == "entries":
            self.entries.update({int(number): key for number, key in said["keys"].items()})
        elif said["what"] == "document":
            self.revisions.setdefault(said["name"], []).append(said["digest"])
        elif said["what"] == "original":
            self.originals.add(said["digest"])
        elif said["what"] == "backup":
            self.backups.add(said["path"])


@dataclass
class Tally:
    """What happened over all kills."""

    kills: int = 0
    acknowledged: Counter[str] = field(default_factory=Counter)
    struck: Counter[str] = field(default_factory=Counter)  # what the child was at when it died
    journals: int = 0  # kills that left a journal to roll back
    unacknowledged: int = 0  # entries found whole that the child had no time to report
    finished: int = 0  # saves of a document cut off and finished on opening
    lost: list[str] = field(default_factory=list)


def write_until_killed(folder: Path, seed: int, say: Callable[[dict[str, Any]], None]) -> None:
    """Open the garage and write at random, saying what was begun and what the store acknowledged."""
    chance = random.Random(seed)
    say({"begin": "opening"})
    store = Store.open(folder)
    last = store.last_entry()
    while True:
        work = chance.choices(
            ("entries", "correction", "document", "original", "backup"), (40, 10, 30, 12, 8)
        )[0]
        say({"begin": work})
        if work in ("entries", "correction"):
            drafts = [_draft(chance) for _ in range(chance.randint(1, 12))]
            if work == "correction" and last:
                drafts = [_draft(chance, Withdrawn(reason="mistyped"), corrects=last)]
            written = store.append(drafts)
            last = written[-1].number
            say({"what": "entries", "keys": {entry.number: entry.key for entry in written}})
        elif work == "document":
            name = chance.choice(DOCUMENTS)
            stands = store.digests().get(name)
            text = f"# {chance.random()}\n" + "speed = 1\n" * chance.choice((1, 100, 20_000))
            saved = store.save_document(name, text, based_on=stands, who="Ann", why="trial")
            say({"what": "document", "name": name, "digest": saved.digest})
        elif work == "original":
            content = chance.randbytes(chance.choice((10, 10_000, 1_000_000)))
            say(
                {
                    "what": "original",
                    "digest": store.keep_original("log.bin", "application/x", content).digest,
                }
            )
        else:
            say({"what": "backup", "path": str(store.back_up())})


def _draft(chance: random.Random, matter: Any = None, corrects: int | None = None) -> Draft:
    reading = Reading(measure=Measure.PRESSURE_HOT, value=chance.uniform(1.5e5, 2.5e5), corner="FL")
    words = Remark(text="x" * chance.choice((1, 200, 15_000)))
    return Draft(
        key=f"{chance.getrandbits(96):024x}",
        day=DAY,
        who="Ann",
        matter=matter or chance.choice((reading, words)),
        corrects=corrects,
    )


def kill_once(folder: Path, seed: int, life: float, *, is_from_birth: bool) -> list[dict[str, Any]]:
    """Let a child live `life` seconds from its birth, or else from when it has opened the garage; kill it.

    Gives what it said.
    """
    ours, theirs = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(ours)
        try:
            write_until_killed(folder, seed, lambda said: _say(theirs, said))
        except BaseException as error:  # a child that stops by itself is a failure of its own
            _say(theirs, {"error": f"{type(error).__name__}: {error}"})
        os._exit(1)
    os.close(theirs)
    said = _listen(ours, child, life, 1 if is_from_birth else 2)
    os.close(ours)
    return said


def _say(pipe: int, said: dict[str, Any]) -> None:
    os.write(pipe, json.dumps(said).encode() + b"\n")


def _listen(pipe: int, child: int, life: float, lines: int) -> list[dict[str, Any]]:
    """Read what the child says, kill it `life` seconds after so many lines, and read the pipe empty.

    A line cut off was not said.
    """
    end = time.monotonic() + SLOWEST_OPENING
    is_counting = False
    heard = b""
    is_alive = True
    while True:
        if not is_counting and heard.count(b"\n") >= lines:
            end = time.monotonic() + life
            is_counting = True
        left = end - time.monotonic()
        if is_alive and left <= 0.0:
            os.kill(child, signal.SIGKILL)
            is_alive = False
        if is_alive and not select.select([pipe], [], [], left)[0]:
            continue
        some = os.read(pipe, 65536)
        if not some:
            break
        heard += some
    os.waitpid(child, 0)
    return [json.loads(line) for line in heard.split(b"\n")[:-1]]


def look(folder: Path, known: Acknowledged, tally: Tally) -> None:
    """Open the garage after a kill and note everything that is not as it was acknowledged."""
    tally.journals += (folder / f"{DATABASE_NAME}-journal").exists()
    wrong = tally.lost.append
    with Store.open(folder) as store:
        tally.finished += sum("cut off" in words for words in store.notices)
        tally.lost += [words for words in store.notices if "cut off" not in words]
        entries = store.entries()
        if [entry.number for entry in entries] != list(range(1, len(entries) + 1)):
            wrong("numbers of entries with a gap")
        there = {entry.number: entry.key for entry in entries}
        for number, key in known.entries.items():
            if there.get(number) != key:
                wrong(f"entry {number} acknowledged as {key}, found {there.get(number)}")
        tally.unacknowledged += len(there.keys() - known.entries.keys())
        known.entries = there
        for name in store.document_names():
            revisions = store.revisions(name)
            digests = [one.digest for one in reversed(revisions)]
            said = known.revisions.get(name, [])
            if [digest for digest in digests if digest in set(said)] != said:
                wrong(f"{name}: a revision acknowledged is missing or out of order")
            if any(digest_of(one.text) != one.digest for one in revisions):
                wrong(f"{name}: a revision is not the text of its digest")
            if digest_of((folder / name).read_bytes()) != digests[-1]:
                wrong(f"{name}: the file is not the latest revision")
        for name in known.revisions.keys() - set(store.document_names()):
            wrong(f"{name} acknowledged, not there")
        for digest in known.originals:
            if digest_of(store.original_content(digest)) != digest:
                wrong(f"original {digest} damaged")
        paths = {str(one.path) for one in store.backups()}
        for path in known.backups - paths:
            wrong(f"{path} acknowledged, not there")
        for path in paths - known.backups:
            known.backups.add(path)
    verify(folder / DATABASE_NAME)
    left = [path.name for path in (folder, folder / "circuits", folder / "events", folder / "originals")
            if path.is_dir() for path in path.glob(".*.part*")]  # fmt: skip
    if left:
        wrong(f"left lying: {left}")


def run(
    kills: int,
    seed: int,
    places: Sequence[Path],
    progress: Callable[[Tally], None] = lambda _tally: None,
) -> Tally:
    """Kill so many writers in garages under some folders in turn, and give what happened."""
    chance = random.Random(seed)
    tally = Tally()
    folder, known = places[0] / "garage-0", Acknowledged()
    for kill in range(kills):
        if kill % AFRESH_EVERY == 0:
            if kill:
                _close_off(folder, known, tally)
            place = places[kill // AFRESH_EVERY % len(places)]
            folder, known = place / f"garage-{kill}", Acknowledged()
            Store.create(folder, Settings(title="Lantern")).close()
        said = kill_once(
            folder,
            chance.getrandbits(32),
            chance.uniform(0.0, LONGEST_LIFE),
            is_from_birth=chance.random() < FROM_BIRTH,
        )
        tally.kills += 1
        at = "before opening"
        for one in said:
            if "begin" in one:
                at = one["begin"]
            elif "error" in one:
                tally.lost.append(one["error"])
            else:
                known.note(one)
                tally.acknowledged[one["what"]] += 1
                at = "between two writes"
        tally.struck[at] += 1
        look(folder, known, tally)
        progress(tally)
    _close_off(folder, known, tally)
    return tally


def _close_off(folder: Path, known: Acknowledged, tally: Tally) -> None:
    for path in known.backups:
        verify(Path(path))
    with Store.restore(folder) as store:
        if store.last_entry() > len(known.entries):
            tally.lost.append("a backup holds entries that the garage had not")
    shutil.rmtree(folder)


def report(tally: Tally, seconds: float, seed: int) -> str:
    """The result as a page."""
    at = "\n".join(f"| {what} | {count} |" for what, count in tally.struck.most_common())
    said = "\n".join(f"| {what} | {count:,} |" for what, count in tally.acknowledged.most_common())
    lost = "\n".join(f"- {words}" for words in tally.lost) or "Nothing."
    machine = f"{platform.system()} {platform.release()}, {_processor()}, {os.cpu_count()} cores"
    command = f"python benchmarks/kill_nine.py --kills {tally.kills} --seed {seed} --write docs/kill_nine.md"
    return f"""# {tally.kills:,} kills

`{command}`

{datetime.now(UTC):%Y-%m-%d}, {machine}, Python {platform.python_version()}; {seconds:.0f} s,
{tally.kills / seconds:.1f} kills a second.

A child writes entries, corrections, documents, originals and backups and says what was acknowledged; it is
killed with SIGKILL after a random time of up to {LONGEST_LIFE * 1000:.0f} ms, counted from its birth for one
in five and from the opened garage for the others. Garages on the disk and in memory take turns. Then the
garage is opened and everything acknowledged is looked for. A kill tests what survives the death of the
program; a power cut is not tested, for that the store relies on full syncs.

## Lost or damaged

{lost}

## What was acknowledged, and was there

| what | times |
|---|---|
{said}

{tally.journals:,} kills left a transaction half-way, and it was rolled back on opening; {tally.finished:,}
left a document saved whose file was not yet written, and it was written on opening.
{tally.unacknowledged:,} entries were found whole that the child had no time left to report.

## What the child was at when it died

| at | kills |
|---|---|
{at}
"""


def _processor() -> str:
    try:
        lines = Path("/proc/cpuinfo").read_text().splitlines()
    except OSError:
        return platform.processor()
    return next((line.split(":")[1].strip() for line in lines if line.startswith("model name")), "")


def main() -> None:
    reader = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    reader.add_argument("--kills", type=int, default=1000)
    reader.add_argument("--seed", type=int, default=1)
    reader.add_argument("--write", type=Path)
    asked = reader.parse_args()
    start = time.monotonic()
    with ExitStack() as places:
        made = [
            Path(places.enter_context(tempfile.TemporaryDirectory(prefix="tintop-kills-", dir=place)))
            for place in (None, *([IN_MEMORY] if IN_MEMORY.is_dir() else []))
        ]
        tally = run(asked.kills, asked.seed, made, _show)
    page = report(tally, time.monotonic() - start, asked.seed)
    if asked.write:
        asked.write.write_text(page, encoding="utf-8")
    print(page)
    sys.exit(1 if tally.lost else 0)


def _show(tally: Tally) -> None:
    if tally.kills % 100 == 0:
        print(f"{tally.kills} kills, {len(tally.lost)} wrong", file=sys.stderr, flush=True)


if __name__ == "__main__":
    main()
