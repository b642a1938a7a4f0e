"""Chapters of the scrutineering pack beside the clauses: what is open, cage, labels, dates."""

from collections.abc import Iterator, Sequence
from datetime import date

from tintop.car.cage import Cage
from tintop.logbook.amounts import written_money
from tintop.logbook.jobs import Job
from tintop.logbook.season import CHECK_COSTS, DueDate, Season, price_in_words
from tintop.papers.content import Chapter, Column, Facts, Picture, Table, Words, plain, shortened
from tintop.papers.pack_content import OpenLine, OpenPart
from tintop.papers.pack_groups import group_title, in_groups
from tintop.papers.pack_lines import MET, Shown, lacks_evidence, reason_of, to_do_of
from tintop.papers.stand import day_words
from tintop.rules.book import Severity
from tintop.rules.findings import Finding, Ruling

_LONGEST, _MOST_EVENTS = 220, 6
CAGE_CAUTION = (
    "The owner's own drawing, from a tape measure: no homologation, no certificate, and no proof of welds, "
    "bends, walls or plates. Do not weld, drill or bend a certified cage."
)


def open_parts(shown: Shown, jobs: Sequence[Job]) -> tuple[OpenPart, ...]:
    """What is not met or not proven, the worst first: nothing is left out, what has no evidence is named."""
    found = [each for each in shown.inspection.findings if each.ruling not in MET]
    missed = [each for each in found if each.ruling is not Ruling.NOT_PROVEN]
    bare = [each for each in found if lacks_evidence(each)]
    unverified = [each for each in found if each.is_unverified]
    recorded = [
        each
        for each in found
        if each.ruling is Ruling.NOT_PROVEN and each not in bare and each not in unverified
    ]
    stops = [each for each in missed if each.stops_racing]
    advised = [each for each in missed if each.ruling is Ruling.ADVISED]
    mend = [each for each in missed if each not in stops and each not in advised]
    parts = (
        _in_full(shown, jobs, "Stops the car", stops),
        _in_full(shown, jobs, "To be mended", mend),
        _in_full(shown, jobs, "Recorded, and not enough to say", recorded),
        OpenPart(
            title="Not recorded, or not all of it",
            note="What of it was recorded, and what not, stands with each group.",
            names=tuple(_by_group(shown, bare)),
        ),
        _in_full(shown, jobs, "Allowed, and advised against", advised),
        OpenPart(
            title="Met by figures from memory",
            note="Not proven until the figure is read in the regulation itself.",
            names=tuple(_by_group(shown, unverified)),
        ),
    )
    return tuple(part for part in parts if part.lines or part.names)


def _in_full(shown: Shown, jobs: Sequence[Job], title: str, findings: Sequence[Finding]) -> OpenPart:
    return OpenPart(
        title=title,
        lines=tuple(
            OpenLine(
                sign=each.ruling.sign,
                word=each.ruling.value,
                title=plain(each.clause.title),
                reason=reason_of(shown, each),
                doing=_doing(shown, jobs, each),
                rule=shown.rule(each.book, each.clause),
            )
            for each in findings
        ),
    )


def _doing(shown: Shown, jobs: Sequence[Job], finding: Finding) -> str:
    """What is being done about it: what the rule says, and a job open in the logbook about the same part."""
    parts = {proof.part for proof in finding.evidence if proof.part}
    opened = [each.job.title for each in jobs if each.job.part in parts]
    said = shortened(to_do_of(shown, finding), _LONGEST)
    return " ".join(filter(None, (said, *(f"Job open: {shown.own(plain(each))}." for each in opened))))


def _by_group(shown: Shown, findings: Sequence[Finding]) -> Iterator[tuple[str, str, str]]:
    """Group, names of clauses that may stop the car, names of the others."""
    for name in in_groups(shown.inspection):
        of = [each.clause for each in findings if each.clause.group == name]
        stops = [plain(each.title) for each in of if each.severity is Severity.STOPS]
        others = [plain(each.title) for each in of if each.severity is not Severity.STOPS]
        if of:
            yield group_title(name), "; ".join(stops), "; ".join(others)


# -- dates --------------------------------------------------------------------------------------------


def dates_chapter(shown: Shown, season: Season, currency: str, *, has_prices: bool) -> Chapter:
    """What runs out against the season's events; what a new one costs in the owner's own copy alone."""
    events = season.events[:_MOST_EVENTS]
    heads = ["item", "last good day", "rule", *(str(number) for number in range(1, len(events) + 1))]
    shares = [2.6, 1.4, 3.2, *(0.35 for _ in events)]
    if has_prices:
        heads, shares = [*heads, "a new one"], [*shares, 1.6]
    rows = []
    for due in season.dates:
        lasts = [_lasts(due, each.last_day) for each in events]
        price = [_price(shown, due, currency)] if has_prices else []
        rows.append(
            (
                shown.own(plain(due.title)),
                "; ".join(filter(None, (_day(due), due.hit_words))),
                plain(due.rule.removesuffix(", your copy")),
                *lasts,
                *price,
            )
        )
    named = [
        (
            str(number),
            f"{shown.own(plain(each.name))}, to {day_words(each.last_day)}"
            + _costs(season, each.meeting, currency, has_prices),
        )
        for number, each in enumerate(events, 1)
    ]
    unread = [shown.own(plain(each.name)) for each in season.events if each.meeting in season.unread]
    return Chapter(
        title="Dates against the season",
        blocks=(
            Words(
                text="✓ lasts to the end of that event, ✗ does not, ? is not proven since a hard hit, "
                "whatever its date. An item's rule is that of the books of the first event it does not last."
                + (f" {CHECK_COSTS}" if has_prices else "")
                + (f" The rule books of {', '.join(unread)} could not be read." if unread else ""),
                is_small=True,
            ),
            Facts(pairs=tuple(named)),
            Table(
                columns=_columns(tuple(heads), tuple(shares)),
                rows=tuple(rows),
                empty="No date is recorded.",
                strong=frozenset(place for place, due in enumerate(season.dates) if due.due_for),
            ),
        ),
    )


def _day(due: DueDate) -> str:
    return day_words(due.expires) if due.expires else due.until_words


def _lasts(due: DueDate, last_day: date) -> str:
    if due.expires is None or due.expires < last_day:
        return "✗"
    return "?" if due.hit is not None else "✓"


def _costs(season: Season, meeting: str, currency: str, has_prices: bool) -> str:
    cents = season.cents_for(meeting)
    if not has_prices or not season.due_for(meeting):
        return ""
    unpriced = len(season.unpriced_for(meeting))
    said = [f"new ones of what does not last it {written_money(cents, currency)}"] if cents else []
    said += [f"{unpriced} without a known price"] if unpriced else []
    return f": {', and '.join(said)}" if said else ""


def _price(shown: Shown, due: DueDate, currency: str) -> str:
    if due.spare:
        return f"a like one is on the shelf: {plain(shown.parts.get(due.spare, due.spare))}"
    return "–" if due.edition else price_in_words(due, currency).removeprefix("a new one, ")


# -- cage ---------------------------------------------------------------------------------------------


def cage_chapter(cage: Cage, drawing: str) -> Chapter:
    """The cage as its owner measured it: drawing with its list of tubes, sums by size, feet, and caution."""
    sizes: dict[tuple[str, str], list[float]] = {}
    for cut in cage.tube_list():
        sizes.setdefault((cut.role.value, str(cut.tube)), []).append(cut.length)
    steel = cage.steel
    source = f"{steel.origin.value}{f', {plain(steel.source)}' if steel.source else ''}"
    feet = [each.fixing.value for each in cage.feet]
    return Chapter(
        title="Drawing of the cage",
        blocks=(
            Facts(
                pairs=(
                    ("Feet", ", ".join(f"{feet.count(each)} {each}" for each in dict.fromkeys(feet))),
                    ("Steel", f"yield strength {1e-6 * steel.yield_strength:.0f} N/mm², {source}"),
                )
            ),
            Picture(svg=drawing, caption=CAGE_CAUTION),
            Table(
                title="Tubes by use and size",
                columns=_columns(
                    ("use", "outside diameter and wall", "tubes", "length in all"),
                    (3.0, 3.0, 1.0, 1.5),
                    ("tubes", "length in all"),
                ),
                rows=tuple(
                    (use, size, str(len(lengths)), f"{sum(lengths):.2f} m")
                    for (use, size), lengths in sizes.items()
                ),
            ),
        ),
    )


def _columns(
    heads: Sequence[str], shares: Sequence[float], numbers: Sequence[str] = ()
) -> tuple[Column, ...]:
    return tuple(
        Column(head=head, share=share, is_number=head in numbers)
        for head, share in zip(heads, shares, strict=True)
    )
