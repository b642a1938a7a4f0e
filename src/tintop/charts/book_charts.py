"""The charts of the build book: the car's mass from purchase to today, and how pads and tyres wore."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from tintop.charts.car_words import owner_unit
from tintop.charts.course_chart import Course, Look, course_svg, look_of, month_ticks
from tintop.charts.ink import INK, RUST
from tintop.charts.strips import Bound, even_ticks
from tintop.logbook.book import Logbook
from tintop.logbook.build import Build, PartToday
from tintop.logbook.entries import Measure
from tintop.logbook.mass_ledger import MassLedger
from tintop.logbook.running import Running
from tintop.logbook.thickness import Series, ThicknessReadings, series_of, thickness_readings
from tintop.units import unit_named

_MOST_SETS = 6
_RANGE = 1.96  # standard uncertainties in a 95 % range of a normal distribution
_TITLES = {
    Measure.PAD_THICKNESS: "friction material left",
    Measure.TREAD_DEPTH: "tread left",
    Measure.DISC_THICKNESS: "disc thickness",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class WearChart:
    """One family's wear as SVG, and what of its parts is drawn."""

    family: str
    measure: Measure
    svg: str
    parts: tuple[str, ...]


def mass_course_svg(ledger: MassLedger, units: Mapping[str, str], day: date) -> str:
    """Draw the ledger's mass as stairs and the weighings as points with their 95 % range; empty without one.

    Each change of mass is a step on its day; the stairs start from the car as bought by the first weighing.
    """
    if ledger.bought is None or not ledger.weighings:
        return ""
    unit = unit_named(owner_unit("mass", units), "mass")
    days = sorted({line.day for line in ledger.lines})
    last_of_day = {line.day: line.running_change for line in ledger.lines}
    first = min([ledger.weighings[0].day, *days])
    places = [float(first.toordinal())]
    masses = [ledger.bought]
    for each in days:
        places.append(float(each.toordinal()))
        masses.append(ledger.bought + last_of_day[each])
    places.append(float(day.toordinal()))
    masses.append(masses[-1])
    courses = (
        Course(
            words="by the ledger",
            look=Look(colour=INK, dash="", mark="none"),
            places=tuple(places),
            values=tuple(mass / unit.factor for mass in masses),
            is_stepped=True,
        ),
        Course(
            words="on the scales",
            look=Look(colour=RUST, dash="", mark="square"),
            places=tuple(float(each.day.toordinal()) for each in ledger.weighings),
            values=tuple(each.mass / unit.factor for each in ledger.weighings),
            doubts=tuple(_RANGE * each.uncertainty / unit.factor for each in ledger.weighings),
            has_line=False,
        ),
    )
    return course_svg(
        "mass-course",
        "Mass without driver and fuel",
        unit.name,
        courses,
        month_ticks(first, day),
        span=(float(first.toordinal()), float(day.toordinal())),
    )


def wear_charts(
    book: Logbook, build: Build, running: Running, units: Mapping[str, str], measures: Iterable[Measure]
) -> tuple[WearChart, ...]:
    """How the parts of each family wore, against what each has run: at its thinnest place, in the last sets.

    A family without two readings of one part is left out.
    """
    read = thickness_readings(book, build.day)
    wanted = tuple(measures)
    families: dict[tuple[int, str], list[tuple[PartToday, Series]]] = {}
    for part in sorted(build.by_name.values(), key=lambda each: (each.added_on, each.entry)):
        measure, series = _thinnest(part, read, running)
        if measure in wanted and series is not None:
            families.setdefault((wanted.index(measure), part.part.family), []).append((part, series))
    found: list[WearChart] = []
    for (place, family), parts in sorted(families.items(), key=lambda each: each[0]):
        shown = parts[-_MOST_SETS:]
        if any(len(series.thickness) > 1 for _, series in shown):
            found.append(
                WearChart(
                    family=family,
                    measure=wanted[place],
                    svg=_wear_svg(f"wear-{len(found)}", family, wanted[place], shown, units),
                    parts=tuple(part.part.part for part, _ in shown),
                )
            )
    return tuple(found)


def _thinnest(
    part: PartToday, read: ThicknessReadings, running: Running
) -> tuple[Measure | None, Series | None]:
    measure, series = series_of(part, read, running)
    measured = [each for each in series if each.readings]
    if not measured:
        return measure, None
    return measure, min(measured, key=lambda each: each.thickness[-1])


def _wear_svg(
    name: str,
    family: str,
    measure: Measure,
    parts: list[tuple[PartToday, Series]],
    units: Mapping[str, str],
) -> str:
    unit = unit_named(owner_unit("length", units), "length")
    courses = tuple(
        Course(
            words=f"{part.title}" + (f" ({series.title})" if series.title else ""),
            look=look_of(place),
            places=tuple(seconds / 3600.0 for seconds in series.running),
            values=tuple(thickness / unit.factor for thickness in series.thickness),
        )
        for place, (part, series) in enumerate(parts)
    )
    least = {part.part.thickness_least for part, _ in parts if part.part.thickness_least is not None}
    last = max(course.places[-1] for course in courses)
    span = (0.0, last * 1.04 if last > 0.0 else 1.0)
    return course_svg(
        name,
        f"{family.capitalize()}: {_TITLES[measure]}",
        unit.name,
        courses,
        tuple((tick, f"{tick:g}") for tick in even_ticks(*span, 8)),
        span=span,
        bounds=tuple(Bound(words="to be changed at", value=value / unit.factor) for value in sorted(least)),
        axis_words="hours run by the part",
        height=170.0,
    )
