"""The chapter of the build book on mass: what came out, what went in, corner loads, and the scales."""

from tintop.logbook.entries import Measure, Reading
from tintop.logbook.mass_ledger import CornerWeighing, MassLine, Weighing
from tintop.papers.content import Block, Chapter, Column, Facts, Picture, Table, Words, listed, plain
from tintop.papers.stand import MINUS, Stand, day_words

_CORNERS = ("FL", "FR", "RL", "RR")
_TELLS_OF_FUEL = ("fuel", "tank", "petrol")


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
            _fuel_aboard(stand, each),
            *(stand.write(load, "mass") for load in each.loads),
            stand.write(each.total, "mass"),
            *(f"{100.0 * share:.1f} %" for share in (each.front_share, each.left_share, each.cross_share)),
        )
        for each in stand.ledger.corners
    )
    heads = ("day", "how it stood", "fuel aboard", *_CORNERS, "sum", "front", "left", "cross")
    return Table(
        title="Corner loads",
        columns=tuple(
            Column(head=head, share=1.4 if place < 3 else 1.0, is_number=place > 2)
            for place, head in enumerate(heads)
        ),
        rows=rows,
        empty="The corners were never weighed.",
    )


def _fuel_aboard(stand: Stand, weighing: CornerWeighing) -> str:
    """The fuel read on the day of a weighing, or what its notes say of the tank; else that nothing does."""
    notes: list[str] = []
    for entry, reading in stand.book.of(Reading):
        if entry.day != weighing.day:
            continue
        if reading.measure is Measure.FUEL_ABOARD:
            return stand.reading(reading.measure, reading.value)
        if reading.measure is Measure.CORNER_LOAD and reading.place == weighing.place:
            notes.append(plain(entry.note))
    said = [note for note in notes if any(word in note.casefold() for word in _TELLS_OF_FUEL)]
    return said[-1] if said else "fuel not written down"


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
