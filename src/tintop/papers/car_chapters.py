"""Chapters of the build book about the car itself: donor, mass, build list, set-up, lives, failures."""

import re
from collections.abc import Iterator
from datetime import date
from itertools import groupby

from tintop.logbook.amounts import amount, written_money
from tintop.logbook.build import PartToday, part_history
from tintop.logbook.entries import Counter, PartAdded, PartFailed, Remark
from tintop.logbook.lives import Life, LifeState
from tintop.logbook.mass_ledger import MassLine, Weighing
from tintop.papers.content import Block, Chapter, Column, Facts, Picture, Table, Words, listed, plain
from tintop.papers.stand import MINUS, Stand, day_words, has_run

_CORNERS = ("FL", "FR", "RL", "RR")
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


def mass_chapter(stand: Stand, chart: str) -> Chapter:
    """Every kilogram out and in, the sum so far, and what the scales said."""
    ledger, write = stand.ledger, stand.write
    facts = []
    if ledger.bought is not None and ledger.today is not None:
        facts = [
            ("As bought", f"{write(ledger.bought, 'mass')} ± {_kg(stand, ledger.bought_uncertainty)}"),
            ("Taken off", write(ledger.taken_off, "mass")),
            ("Put on", write(ledger.put_on, "mass")),
            (
                f"On {day_words(stand.day)}",
                f"{write(ledger.today, 'mass')} ± {_kg(stand, ledger.today_uncertainty)}, by the weighing of "
                f"{day_words(ledger.weighings[-1].day)} and what changed since",
            ),
        ]
    blocks: list[Block] = [
        Words(
            text="Without driver and fuel. ± is one standard uncertainty; a difference is explained when it "
            "is within twice its own.",
            is_small=True,
        ),
        Facts(pairs=tuple(facts)) if facts else Words(text="The whole car was never weighed."),
    ]
    if chart:
        caption = "Stairs: the first weighing with what the ledger took off and put on. Bars: 95 % range."
        blocks.append(Picture(svg=chart, caption=caption))
    blocks += [_corner_loads(stand), _ledger_table(stand)]
    if ledger.unweighed:
        blocks.append(
            Words(text=f"Moved and never weighed, ? in the ledger: {listed(ledger.unweighed, 30)}.")
        )
    return Chapter(title="What came out, what went in, and what it weighs", blocks=tuple(blocks))


def _kg(stand: Stand, value: float | None) -> str:
    return "not known" if value is None else stand.write(value, "mass")


def _corner_loads(stand: Stand) -> Table:
    rows = tuple(
        (
            day_words(each.day),
            plain(each.place) or "not said",
            *(stand.write(load, "mass") for load in each.loads),
            stand.write(each.total, "mass"),
            *(f"{100.0 * share:.1f} %" for share in (each.front_share, each.left_share, each.cross_share)),
        )
        for each in stand.ledger.corners
    )
    heads = ("day", "how it stood", *_CORNERS, "sum", "front", "left", "cross")
    return Table(
        title="Corner loads",
        columns=tuple(
            Column(head=head, share=1.3 if place < 2 else 1.0, is_number=place > 1)
            for place, head in enumerate(heads)
        ),
        rows=rows,
        empty="The corners were never weighed.",
    )


def _ledger_table(stand: Stand) -> Table:
    rows: list[tuple[str, ...]] = []
    strong: set[int] = set()
    told: list[MassLine | Weighing] = [*stand.ledger.lines, *stand.ledger.weighings]
    told.sort(key=lambda each: (each.day, isinstance(each, Weighing) and each.ledger is not None))
    for each in told:
        if isinstance(each, Weighing):
            strong.add(len(rows))
            rows.append(_weighing_row(stand, each))
        else:
            rows.append(_ledger_row(stand, each))
    return Table(
        title="Strip-out and fit-up ledger",
        columns=(
            Column(head="day", share=1.15),
            Column(head="part", share=2.5),
            Column(head="out", share=0.85, is_number=True),
            Column(head="in", share=0.85, is_number=True),
            Column(head="car by the ledger", share=1.1, is_number=True),
            Column(head="weighed with", share=3.6),
            Column(head="by", share=0.75),
        ),
        rows=tuple(rows),
        strong=frozenset(strong),
        empty="No part was moved.",
    )


def _ledger_row(stand: Stand, each: MassLine) -> tuple[str, ...]:
    mass = stand.build.by_name[each.part].part.mass
    moved = "?" if each.change is None else stand.write(abs(each.change), "mass")
    is_out = _is_out(stand, each)
    so_far = stand.ledger.bought
    how = "–"
    if mass is not None:
        how = ", ".join(dict.fromkeys(plain(word) for word in (mass.note, mass.source) if word))
        how = how or mass.origin.value
        how += f", ±\u00a0{_doubt(stand, mass.uncertainty)}" if mass.uncertainty else ""
    return (
        day_words(each.day),
        plain(each.name),
        moved if is_out else "",
        "" if is_out else moved,
        "–" if so_far is None else stand.write(so_far + each.running_change, "mass"),
        how,
        stand.who(each.entry),
    )


def _doubt(stand: Stand, uncertainty: float) -> str:
    """An uncertainty of mass, finer where it is small."""
    return stand.write(uncertainty, "mass", 2 if uncertainty < 0.1 else 1).replace(" ", "\u00a0")


def _is_out(stand: Stand, each: MassLine) -> bool:
    if each.change is not None:
        return each.change < 0.0
    return any(stay.until_entry == each.entry for stay in stand.build.by_name[each.part].fittings)


def _weighing_row(stand: Stand, each: Weighing) -> tuple[str, ...]:
    said = f"The whole car on the scales: {stand.write(each.mass, 'mass')}"
    if each.difference is not None and each.doubt is not None:
        is_explained = abs(each.difference) <= 2.0 * each.doubt
        difference = stand.write(abs(each.difference), "mass")
        sign = MINUS if each.difference < 0.0 else "+"
        said += f", {sign}{difference} against the ledger, {'explained' if is_explained else 'not explained'}"
    ledger = "–" if each.ledger is None else stand.write(each.ledger, "mass")
    return (day_words(each.day), said, "", "", ledger, stand.with_what(each.entry), stand.who(each.entry))


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
        whole = plain(found[""].written) if "" in found else ""
        corners = [plain(found[corner].written) if corner in found else "" for corner in _CORNERS]
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
            Words(text="As written by hand, unit and all; the last change of each item.", is_small=True),
            Table(
                columns=tuple(
                    Column(head=head, share=share) for head, share in zip(heads, shares, strict=True)
                ),
                rows=tuple(rows),
                empty="No set-up is written down.",
            ),
        ),
    )


def lives_chapter(stand: Stand, lives: tuple[Life, ...]) -> Chapter:
    """What every limited part has used of its limits, the worst first."""
    bad = (LifeState.FAILED, LifeState.OVERDUE, LifeState.DUE_BEFORE_END)
    return Chapter(
        title="Hours of parts against their limits",
        blocks=(
            Words(
                text="A limit is no promise that a part lasts to it. “Common practice” has no source but "
                "the trade's habit.",
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
                        amount(life.left, life.limit.counter).replace("-", MINUS),
                        life.limit.action,
                        ", ".join(
                            word for word in (life.limit.basis.value, plain(life.limit.source)) if word
                        ),
                        life.state.value + (f": {plain(life.why_unknown)}" if life.why_unknown else ""),
                    )
                    for life in lives
                ),
                bars=tuple(max(life.used, 0.0) / life.limit.limit for life in lives),
                strong=frozenset(place for place, life in enumerate(lives) if life.state in bad),
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
        ),
    )


def _after(stand: Stand, part: str, number: int, day: date) -> Iterator[str]:
    for event in part_history(stand.book, part):
        if day <= event.day <= stand.day and event.entry > number and not event.what.startswith("failed"):
            yield f"{day_words(event.day)} {_with_names(stand, event.what)}"


def _with_names(stand: Stand, words: str) -> str:
    """Words in which a part named for another, such as "made way for hub-2", stands under its name."""
    return _FOR_ANOTHER.sub(lambda found: f"{found[1]} {stand.name_of(found[2])}", plain(words))
