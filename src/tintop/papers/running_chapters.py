"""Chapters of the build book about what was driven and measured: events, readings, papers, gaps."""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence

from tintop.logbook.entries import Entry, Measure, PartAdded, Reading
from tintop.logbook.meetings import MeetingState
from tintop.logbook.sessions import Session
from tintop.logbook.wear import Wear
from tintop.papers.content import Block, Chapter, Column, Picture, Table, Words, listed, plain
from tintop.papers.stand import Stand, clock_words, day_words, lap_words

_GUESSED = (
    "* written without a unit: the unit was read from the size of the number, and the value is not certain."
)
_IN_CHARTS = (Measure.PAD_THICKNESS, Measure.DISC_THICKNESS, Measure.TREAD_DEPTH)


def events_chapter(stand: Stand, driven: Sequence[Session]) -> Chapter:
    """Events with their results, and every session with laps, hours and what was noted."""
    rows = []
    for meeting in stand.meetings:
        is_over = meeting.state is MeetingState.PAST
        result = plain(meeting.result) or ("no result is written down" if is_over else "to come")
        if meeting.is_finished is False:
            result = f"did not finish: {result}"
        racing = sum(run.duration for run in meeting.sessions if run.session_kind == "race")
        rows.append(
            (
                day_words(meeting.planned.first_day),
                plain(meeting.planned.name),
                result,
                str(sum(run.laps for run in meeting.sessions) or "–"),
                clock_words(meeting.driven_duration) if meeting.sessions else "–",
                clock_words(racing) if racing else "–",
                stand.write(meeting.road_driven, "distance", 0) if meeting.road_driven else "–",
                stand.papers_about(meeting.planned.meeting) or "–",
            )
        )
    heads = ("day", "event", "result", "laps", "running", "race", "on the road", "papers")
    shares = (1.3, 3.2, 3.0, 0.7, 0.9, 0.8, 1.2, 0.9)
    names = {each.planned.meeting: plain(each.planned.name) for each in stand.meetings}
    return Chapter(
        title="Events and results",
        blocks=(
            Words(text=_driven_in_all(driven)),
            Table(
                columns=_columns(heads, shares, ("laps", "running", "race", "on the road")),
                rows=tuple(rows),
                empty="No event is written down.",
            ),
            Table(
                title="Sessions",
                columns=_columns(
                    ("day", "session", "driver", "laps", "running", "best lap", "fuel an hour", "remarks"),
                    (1.3, 3.2, 1.0, 0.7, 0.9, 1.0, 1.1, 3.6),
                    ("laps", "running", "best lap", "fuel an hour"),
                ),
                rows=tuple(_session_row(stand, each, names) for each in driven),
                empty="No session is written down.",
            ),
        ),
    )


def _driven_in_all(driven: Sequence[Session]) -> str:
    if not driven:
        return "The car has not run on a circuit."
    running = sum(each.run.duration for each in driven)
    racing = sum(each.run.duration for each in driven if each.run.session_kind == "race")
    laps = sum(each.run.laps for each in driven)
    return (
        f"{laps} laps in {len(driven)} sessions, {clock_words(running)} hours of running, "
        f"{clock_words(racing)} of them in races. Hours are written hours:minutes."
    )


def _session_row(stand: Stand, each: Session, names: dict[str, str]) -> tuple[str, ...]:
    event = names.get(each.run.meeting, plain(each.run.meeting))
    wet = ", wet" if each.run.is_wet else ""
    return (
        day_words(each.day),
        f"{plain(each.run.name)}{wet}; {event}" if event else f"{plain(each.run.name)}{wet}",
        plain(each.run.driver) or "not said",
        str(each.run.laps),
        clock_words(each.run.duration),
        lap_words(each.best_lap),
        "not measured" if each.fuel_per_hour is None else stand.write(each.fuel_per_hour, "volume"),
        plain(each.run.remarks) or "–",
    )


def readings_chapter(stand: Stand, worn: Sequence[Wear], charts: Sequence[str]) -> Chapter:
    """How pads, discs and tyres wore, their last readings, and the last of every other reading."""
    entries = {entry.number: entry for entry, _ in stand.book.of(Reading)}
    rows = tuple(
        (
            plain(wear.title),
            wear.measure.value,
            "never measured" if wear.read is None else stand.reading(wear.measure, wear.read),
            plain(wear.place) or "–",
            day_words(wear.read_on),
            _by(entries.get(wear.entry or 0)),
            "not known" if wear.least is None else stand.reading(wear.measure, wear.least),
            _rate(stand, wear),
        )
        for wear in worn
    )
    heads = ("part", "what", "read", "at", "on", "by, with", "least", "wears an hour (95 % range)")
    blocks: list[Block] = [
        Words(
            text="Points are readings at the thinnest place of each part, against the hours that part had "
            "run; the first point of a part fitted new is its thickness as new.",
            is_small=True,
        ),
        *(Picture(svg=svg) for svg in charts),
        Table(
            title="Pads, discs and tyres on the car",
            columns=_columns(heads, (2.6, 1.5, 1.1, 1.5, 1.3, 2.0, 1.0, 2.1), ("read", "least")),
            rows=rows,
            empty="Nothing that wears is on the car.",
        ),
        _last_readings(stand),
    ]
    return Chapter(title="Readings", blocks=tuple(blocks))


def _rate(stand: Stand, wear: Wear) -> str:
    if wear.own_rate is None:
        return "not known"
    hour = 3600.0
    rate, low, high = (
        stand.write(each * hour, "length", 2)
        for each in (wear.own_rate.rate, wear.own_rate.low, wear.own_rate.high)
    )
    return f"{rate} ({low} to {high})"


def _last_readings(stand: Stand) -> Table:
    last: dict[tuple[str, str, str], tuple[Entry, Reading]] = {}
    for entry, reading in stand.book.of(Reading):
        if entry.day <= stand.day and reading.measure not in _IN_CHARTS:
            last[reading.measure.value, reading.corner, reading.place] = entry, reading
    rows = tuple(
        (
            reading.measure.value,
            ", ".join(word for word in (reading.corner, plain(reading.place)) if word) or "–",
            stand.reading(reading.measure, reading.value),
            (plain(reading.written) or "–") + (" *" if reading.is_guessed_unit else ""),
            day_words(entry.day),
            _by(entry),
        )
        for _, (entry, reading) in sorted(last.items(), key=lambda each: each[0])
    )
    return Table(
        title="Other readings, the last of each",
        note=_GUESSED if any(reading.is_guessed_unit for _, reading in last.values()) else "",
        columns=_columns(
            ("what", "where", "value", "as written", "on", "by, with"),
            (2.2, 1.6, 1.2, 1.6, 1.3, 2.6),
            ("value",),
        ),
        rows=rows,
        empty="No other reading is written down.",
    )


def _by(entry: Entry | None) -> str:
    if entry is None:
        return "–"
    return f"{plain(entry.who)}, {plain(entry.instrument) or 'instrument not said'}"


def papers_chapter(stand: Stand) -> Chapter:
    """The index of papers, each with the digest that proves it unchanged."""
    return Chapter(
        title="Index of papers",
        blocks=(
            Words(
                text="The digest is the SHA-256 of the file as it came: a copy that gives the same digest "
                "is that very file. It is printed in groups of eight.",
                is_small=True,
            ),
            Table(
                columns=(
                    Column(head="no.", share=0.6),
                    Column(head="name", share=2.4),
                    Column(head="about", share=2.2),
                    Column(head="day", share=1.2),
                    Column(head="by", share=0.9),
                    Column(head="SHA-256", share=3.4, is_digest=True),
                ),
                rows=tuple(
                    (
                        f"P{number}",
                        plain(paper.name),
                        _about(stand, paper.about),
                        day_words(entry.day),
                        plain(entry.who),
                        _grouped(plain(paper.digest)),
                    )
                    for number, (entry, paper) in enumerate(stand.papers, 1)
                ),
                empty="No paper or photograph is kept.",
            ),
        ),
    )


def _grouped(digest: str) -> str:
    """A digest in groups of eight, to be compared by eye."""
    return " ".join(digest[place : place + 8] for place in range(0, len(digest), 8))


def _about(stand: Stand, about: str) -> str:
    names = {each.planned.meeting: plain(each.planned.name) for each in stand.meetings}
    return names.get(about) or stand.name_of(about) or "–"


def gaps_chapter(stand: Stand, driven: Sequence[Session]) -> Chapter:
    """What this book does not hold: shown, not hidden."""
    gaps = tuple((words, listed(tuple(found), 12)) for words, found in _gaps(stand, driven) if found)
    return Chapter(
        title="What this book does not hold",
        blocks=(
            Words(
                text="Chassis and registration numbers, log book of the governing body, cage certificate and "
                "insurance are not kept as values; the lines on the first page are for a pen. No rule book "
                "has been held against this car in this book; the pack for the scrutineer does that."
            ),
            Table(
                columns=_columns(("missing", "which"), (2.4, 5.8)),
                rows=gaps,
                empty="Nothing else was found missing.",
            ),
        ),
    )


def _gaps(stand: Stand, driven: Sequence[Session]) -> Iterator[tuple[str, list[str]]]:
    fitted = stand.build.fitted
    added = {part.part for _, part in stand.book.of(PartAdded) if not part.came_with_car}
    bought = [part for part in fitted if part.part.part in added]
    readings = [(entry, reading) for entry, reading in stand.book.of(Reading) if entry.day <= stand.day]
    yield "parts on the car, never weighed", [plain(part.title) for part in fitted if part.part.mass is None]
    yield (
        "parts fitted without a maker's number",
        [plain(part.title) for part in bought if not part.part.maker_number],
    )
    yield (
        "parts fitted with no paper or photograph",
        [plain(part.title) for part in bought if not part.papers],
    )
    yield "parts named but never listed", [plain(name) for name in stand.build.unknown]
    yield (
        "readings that do not name the instrument",
        _by_measure(reading for entry, reading in readings if not entry.instrument),
    )
    yield (
        "readings whose unit was guessed from the number",
        _by_measure(reading for _, reading in readings if reading.is_guessed_unit),
    )
    yield (
        "sessions without fuel before and after",
        [f"{plain(each.run.name)}, {day_words(each.day)}" for each in driven if each.fuel_used is None],
    )
    yield (
        "events over, without a result",
        [
            plain(each.planned.name)
            for each in stand.meetings
            if each.state is MeetingState.PAST and not each.result
        ],
    )
    if stand.ledger.bought is None:
        yield "weighings of the whole car", ["never weighed"]


def _by_measure(readings: Iterable[Reading]) -> list[str]:
    counted = Counter(reading.measure.value for reading in readings)
    return [f"{measure}: {count}" for measure, count in counted.most_common()]


def _columns(
    heads: Sequence[str], shares: Sequence[float], numbers: Sequence[str] = ()
) -> tuple[Column, ...]:
    return tuple(
        Column(head=head, share=share, is_number=head in numbers)
        for head, share in zip(heads, shares, strict=True)
    )
