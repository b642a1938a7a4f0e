"""What has gone into the car: parts by area, what each has run, and the ledger of mass."""

from collections.abc import Mapping

from tintop.logbook.amounts import amount, written_money
from tintop.logbook.build import Build, PartToday
from tintop.logbook.counters import Count
from tintop.logbook.entries import Area, Counter
from tintop.logbook.mass_ledger import MassLedger
from tintop.reports.sheet import Sheet, Table

CAUTIONS = (
    "Hours and kilometres are those written in the book; what a part had done before counts only where it "
    "was written down.",
)


def build_sheet(
    build: Build,
    counts: Mapping[str, Count],
    ledger: MassLedger,
    currency: str = "£",
    has_prices: bool = True,
) -> Sheet:
    """The build for reading, area by area; without prices for those they are no business of."""
    by_area: dict[Area, list[PartToday]] = {area: [] for area in Area}
    for each in build.fitted:
        by_area[each.area].append(each)
    columns = ("part", "maker's number", "since", "mass", "running", "distance", "papers")
    prices = ("paid", "supplier") if has_prices else ()
    tables = [
        Table(
            title=str(area).capitalize(),
            columns=(*columns, *prices),
            rows=[_row(each, counts, currency, has_prices) for each in parts],
        )
        for area, parts in by_area.items()
    ]
    tables += [
        Table(
            title="On the shelf",
            columns=(*columns, *prices),
            rows=[_row(each, counts, currency, has_prices) for each in build.shelf],
        ),
        Table(
            title="Gone for good",
            columns=("part", "on", "what became of it", "why"),
            rows=[
                (
                    each.title,
                    each.gone_on.isoformat() if each.gone_on else "",
                    str(each.fate),
                    each.reason,
                )
                for each in build.gone
            ],
        ),
        Table(
            title="Mass out and in, car as bought onwards",
            columns=("day", "part", "change", "sum so far"),
            rows=[
                (
                    line.day.isoformat(),
                    line.name,
                    _kilograms(line.change, line.uncertainty),
                    _kilograms(line.running_change, line.running_uncertainty),
                )
                for line in ledger.lines
            ],
        ),
        Table(
            title="On the scales",
            columns=("day", "scales", "by the ledger", "difference"),
            rows=[
                (
                    each.day.isoformat(),
                    f"{each.mass:.1f} kg",
                    f"{each.ledger:.1f} kg" if each.ledger is not None else "first weighing",
                    _kilograms(each.difference, each.doubt or 0.0) if each.difference is not None else "",
                )
                for each in ledger.weighings
            ],
        ),
    ]
    return Sheet(
        title="What has gone into it",
        sentences=tuple(_sentences(build, ledger)),
        tables=tuple(table for table in tables if table.rows),
        cautions=CAUTIONS,
    )


def _sentences(build: Build, ledger: MassLedger) -> list[str]:
    said = [
        f"On {build.day.isoformat()}: {len(build.fitted)} on the car, {len(build.shelf)} on the shelf, "
        f"{len(build.gone)} gone."
    ]
    if ledger.lines:
        said.append(f"Taken out {-ledger.taken_off:.1f} kg, put in {ledger.put_on:.1f} kg.")
    if ledger.today is not None and ledger.bought is not None:
        said.append(
            f"{ledger.bought:.0f} kg as bought, {ledger.today:.0f} ± {ledger.today_uncertainty or 0.0:.0f} "
            "kg today, without driver and fuel."
        )
    if ledger.unweighed:
        said.append(f"Never weighed, and so not in the sum: {'; '.join(ledger.unweighed)}.")
    if build.unknown:
        said.append(f"Fitted or taken off without ever being entered: {', '.join(build.unknown)}.")
    return said


def _row(each: PartToday, counts: Mapping[str, Count], currency: str, has_prices: bool) -> tuple[str, ...]:
    count, part = counts[each.part.part], each.part
    row = (
        each.title,
        part.maker_number,
        each.since.isoformat() if each.since else "",
        f"{part.mass.value:.1f} kg" if part.mass is not None else "",
        amount(count.running, Counter.RUNNING),
        amount(count.distance, Counter.DISTANCE),
        str(len(each.papers)) if each.papers else "",
    )
    if not has_prices:
        return row
    price = written_money(part.price_cents, currency) if part.price_cents is not None else ""
    return (*row, price, part.supplier)


def _kilograms(change: float | None, uncertainty: float) -> str:
    return "not weighed" if change is None else f"{change:+.1f} ± {uncertainty:.1f} kg"
