"""Chapters of the build book about the car itself: donor, build list, set-up, lives, failures."""

import re
from collections.abc import Iterator
from datetime import date
from itertools import groupby

from tintop.logbook.amounts import amount, written_money
from tintop.logbook.build import PartToday, part_history
from tintop.logbook.entries import Counter, PartAdded, PartFailed, Remark
from tintop.logbook.lives import Life, LifeState
from tintop.logbook.proof_entries import AccidentHappened
from tintop.logbook.setup import SetupItem
from tintop.logbook.stands import Grade, stands_of
from tintop.papers.content import Block, Chapter, Column, Facts, Table, Words, plain
from tintop.papers.stand import MINUS, Stand, day_words, has_run

_CORNERS = ("FL", "FR", "RL", "RR")
_HYPHEN_FOR_MINUS = re.compile(r"(?<![\w.,-])-(?=\d)")
_FOR_ANOTHER = re.compile(r"\b(made way for|in place of) (\S+)")


def donor_chapter(stand: Stand) -> Chapter:
    """What the car was when it came, in the words written then."""
    came = [(entry, part) for entry, part in stand.book.of(PartAdded) if part.came_with_car]
    parts = [stand.build.by_name[part.part] for _, part in came if part.part in stand.build.by_name]
    before = [part.counted_before.get(Counter.DISTANCE, 0.0) for _, part in came]
    bought = stand.ledger.bought
    facts = [
        ("Bought", day_words(min((entry.day for entry, _ in came), default=None))),
        ("Distance then", amount(max(before), Counter.DISTANCE) if any(before) else "not written down"),
        (
            "Mass then",
            f"{stand.write(bought, 'mass')} ± {stand.write(stand.ledger.bought_uncertainty or 0.0, 'mass')}, "
            "without driver and fuel"
            if bought is not None
            else "never weighed",
        ),
        ("Parts listed then", f"{len(came)}, of which {sum(part.is_fitted for part in parts)} still on it"),
    ]
    remarks = tuple(
        (day_words(entry.day), plain(remark.text), plain(entry.who))
        for entry, remark in stand.book.of(Remark)
        if remark.about in ("car", "") and entry.day <= stand.day
    )
    return Chapter(
        title="The car and where it came from",
        blocks=(
            Facts(pairs=tuple(facts)),
            Table(
                title="What was written about the car",
                columns=(
                    Column(head="day", share=1.0),
                    Column(head="what", share=6.0),
                    Column(head="by", share=1.0),
                ),
                rows=remarks,
            ),
        ),
    )


def build_chapter(stand: Stand) -> Chapter:
    """What the car is built of, area by area; spares; what became of the rest."""
    blocks: list[Block] = [
        Words(
            text="Hours and laps are those of the part, counted from the sessions it was on the car for; P "
            "numbers lead to the index of papers.",
            is_small=True,
        )
    ]
    for area, parts in groupby(stand.build.fitted, key=lambda part: part.area):
        found = tuple(parts)
        weighed = [part.part.mass.value for part in found if part.part.mass is not None]
        missing = len(found) - len(weighed)
        mass = stand.write(sum(weighed), "mass") if weighed else "no mass known"
        title = f"{area.value.capitalize()}: {mass}"
        title += f", {missing} of {len(found)} not weighed" if missing and weighed else ""
        blocks.append(_build_table(stand, title, found))
    if stand.build.shelf:
        blocks.append(_build_table(stand, "On the shelf", stand.build.shelf))
    blocks.append(
        Table(
            title="Gone",
            columns=(
                Column(head="day", share=1.2),
                Column(head="part", share=3.0),
                Column(head="what became of it", share=1.5),
                Column(head="why", share=3.2),
                Column(head="had run", share=1.6),
            ),
            rows=tuple(
                (
                    day_words(part.gone_on),
                    plain(part.title),
                    part.fate.value if part.fate else "–",
                    _with_names(stand, part.reason) or "–",
                    has_run(stand.counts[part.part.part]),
                )
                for part in sorted(stand.build.gone, key=lambda part: part.gone_on or date.min)
            ),
            empty="Nothing has gone.",
        )
    )
    return Chapter(title="Build list", blocks=tuple(blocks))


def _build_table(stand: Stand, title: str, parts: tuple[PartToday, ...]) -> Table:
    columns = [
        Column(head="part", share=2.8),
        Column(head="mass", share=0.95, is_number=True),
        Column(head="on since", share=1.35),
        Column(head="has run", share=1.75),
        Column(head="maker's number, supplier", share=2.3),
        Column(head="fitted by", share=0.8),
        Column(head="evidence", share=1.4),
    ]
    if not stand.is_public:
        columns.append(Column(head="paid", share=1.0, is_number=True))
    return Table(title=title, columns=tuple(columns), rows=tuple(_build_row(stand, part) for part in parts))


def _build_row(stand: Stand, part: PartToday) -> tuple[str, ...]:
    mass = part.part.mass
    is_original = part.is_fitted and len(part.fittings) == 1 and part.part.came_with_car
    looked_at = f"inspected {day_words(part.inspected[-1][0])}" if part.inspected else ""
    bad = "FAILED, see failures" if part.failed and part.is_fitted else ""
    row = [
        plain(part.title),
        "–" if mass is None else stand.write(mass.value, "mass"),
        "as bought" if is_original else (day_words(part.since) if part.is_fitted else "shelf"),
        has_run(stand.counts[part.part.part]),
        ", ".join(plain(word) for word in (part.part.maker_number, part.part.supplier) if word) or "–",
        "–" if is_original or not part.fittings else stand.who(part.fittings[-1].entry),
        ", ".join(word for word in (bad, stand.papers_about(part.part.part), looked_at) if word) or "none",
    ]
    if not stand.is_public:
        price = part.part.price_cents
        row.append("–" if price is None else written_money(price, stand.currency))
    return tuple(row)


def setup_chapter(stand: Stand) -> Chapter:
    """The set-up of the day, by corner, as it was written."""
    rows = []
    for item, group in groupby(stand.setup, key=lambda each: each.item):
        found = {each.corner: each for each in group}
        last = max(found.values(), key=lambda each: (each.since, each.entry))
        whole = _setting(stand, found[""]) if "" in found else ""
        corners = [_setting(stand, found[corner]) if corner in found else "" for corner in _CORNERS]
        rows.append(
            (
                plain(item),
                whole,
                *corners,
                day_words(last.since),
                stand.with_what(last.entry),
                plain(last.reason),
            )
        )
    heads = ("item", "whole car", *_CORNERS, "since", "measured with", "why")
    shares = (1.5, 1.3, 1.2, 1.2, 1.2, 1.2, 1.3, 1.6, 2.0)
    return Chapter(
        title="Set-up today",
        blocks=(
            Words(
                text="The last change of each item, as written by hand; angles are set in degrees.",
                is_small=True,
            ),
            Table(
                columns=tuple(
                    Column(head=head, share=share) for head, share in zip(heads, shares, strict=True)
                ),
                rows=tuple(rows),
                empty="No set-up is written down.",
            ),
        ),
    )


def _setting(stand: Stand, item: SetupItem) -> str:
    """An angle in the owner's unit, anything else as it was written; a minus is a minus sign."""
    if item.quantity == "angle" and item.value is not None:
        return stand.write(item.value, "angle", 2).replace("0°", "°")
    return _HYPHEN_FOR_MINUS.sub(MINUS, plain(item.written))


def lives_chapter(stand: Stand, lives: tuple[Life, ...]) -> Chapter:
    """What every limited part has used of its limits, the worst first; nothing is left to a failed part."""
    stands = [stands_of(life) for life in lives]
    return Chapter(
        title="Hours of parts against their limits",
        blocks=(
            Words(
                text="A limit is no promise that a part lasts to it, and a date on a label says nothing of "
                "the part. “Common practice” has no source but the trade's habit.",
                is_small=True,
            ),
            Table(
                columns=(
                    Column(head="part", share=2.8),
                    Column(head="used", share=1.2, is_number=True),
                    Column(head="limit", share=1.2, is_number=True),
                    Column(head="left", share=1.2, is_number=True),
                    Column(head="then", share=0.9),
                    Column(head="limit by", share=2.3),
                    Column(head="as it stands", share=1.9),
                ),
                rows=tuple(
                    (
                        plain(life.title),
                        amount(life.used, life.limit.counter),
                        amount(life.limit.limit, life.limit.counter),
                        "–"
                        if life.state is LifeState.FAILED
                        else amount(life.left, life.limit.counter).replace("-", MINUS),
                        life.limit.action,
                        ", ".join(
                            word for word in (life.limit.basis.value, plain(life.limit.source)) if word
                        ),
                        each.words + (f": {plain(life.why_unknown)}" if life.why_unknown else ""),
                    )
                    for life, each in zip(lives, stands, strict=True)
                ),
                bars=tuple(
                    None if life.state is LifeState.FAILED else max(life.used, 0.0) / life.limit.limit
                    for life in lives
                ),
                strong=frozenset(place for place, each in enumerate(stands) if each.grade is Grade.BAD),
                empty="No part has a limit.",
            ),
        ),
    )


def failures_chapter(stand: Stand) -> Chapter:
    """Every failure, what came of it and what was done."""
    rows: list[tuple[str, ...]] = []
    strong: set[int] = set()
    for entry, failure in stand.book.of(PartFailed):
        if entry.day > stand.day:
            continue
        known = stand.build.by_name.get(failure.part)
        done = "; ".join(_after(stand, failure.part, entry.number, entry.day))
        if known is not None and known.is_fitted and known.failed:
            done = f"{done}; STILL ON THE CAR".lstrip("; ")
            strong.add(len(rows))
        rows.append(
            (
                day_words(entry.day),
                stand.name_of(failure.part),
                plain(failure.what),
                plain(failure.consequence) or "–",
                done or "nothing is written down",
                plain(entry.who),
            )
        )
    return Chapter(
        title="What failed, and what was done",
        blocks=(
            Table(
                columns=(
                    Column(head="day", share=1.2),
                    Column(head="part", share=2.0),
                    Column(head="what failed", share=2.8),
                    Column(head="what came of it", share=2.4),
                    Column(head="what was done", share=3.0),
                    Column(head="by", share=0.9),
                ),
                rows=tuple(rows),
                strong=frozenset(strong),
                empty="No failure is written down.",
            ),
            _accidents(stand),
        ),
    )


def _accidents(stand: Stand) -> Table:
    """Every hit, hard or not: who buys, insures or inspects the car has to know."""
    hits = [(entry, hit) for entry, hit in stand.book.of(AccidentHappened) if entry.day <= stand.day]
    names = {each.planned.meeting: plain(each.planned.name) for each in stand.meetings}
    return Table(
        title="Accidents",
        columns=(
            Column(head="day", share=1.2),
            Column(head="what happened", share=5.2),
            Column(head="how hard", share=1.6),
            Column(head="event", share=2.4),
            Column(head="by", share=0.9),
        ),
        rows=tuple(
            (
                day_words(entry.day),
                plain(hit.what),
                "hard" if hit.is_hard else "a knock",
                names.get(hit.meeting, plain(hit.meeting)) or "–",
                plain(entry.who),
            )
            for entry, hit in hits
        ),
        strong=frozenset(place for place, (_, hit) in enumerate(hits) if hit.is_hard),
        empty="No accident is written down.",
    )


def _after(stand: Stand, part: str, number: int, day: date) -> Iterator[str]:
    for event in part_history(stand.book, part):
        if day <= event.day <= stand.day and event.entry > number and not event.what.startswith("failed"):
            yield f"{day_words(event.day)} {_with_names(stand, event.what)}"


def _with_names(stand: Stand, words: str) -> str:
    """Words in which a part named for another, such as "made way for hub-2", stands under its name."""
    return _FOR_ANOTHER.sub(lambda found: f"{found[1]} {stand.name_of(found[2])}", plain(words))
