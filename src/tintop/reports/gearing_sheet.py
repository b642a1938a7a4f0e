"""The answer to "Which gearing?" as a sheet and as plain content."""

from collections.abc import Sequence
from dataclasses import asdict
from typing import Any

from tintop.lap.gearing import Gear, Gearing
from tintop.owner_units import lap_words
from tintop.questions.which_gearing import RPM, GearingAnswer
from tintop.reports.sheet import Sheet, Table


def gearing_sheet(found: GearingAnswer) -> Sheet:
    """Gears, gearings ranked, engine speeds at the ends of the straights, time in each gear."""
    answer = found.answer
    tables = (
        ranked_table(found.ranked),
        gears_table(found.gears),
        straights_table(found),
        _laps(found.now, "The gearing on the car, lap by lap"),
        _laps(found.fewer, "The same with 500 rpm less"),
    )
    return Sheet(
        title=answer.question,
        sentences=(
            answer.sentence,
            *(f"{why[:1].upper()}{why[1:]}." for why in answer.why),
            f"Next: {answer.next_thing}",
        ),
        tables=tuple(table for table in tables if table.rows),
        cautions=answer.cautions,
    )


def gearing_content(found: GearingAnswer) -> dict[str, Any]:
    """Everything of the sheet as plain values, SI."""
    return {
        "answer": asdict(found.answer),
        "gears": [asdict(gear) for gear in found.gears],
        "ranked": [asdict(one) for one in found.ranked],
        "with_500_rpm_less": asdict(found.fewer),
        "gain_s": found.gain,
        "engine_speeds": [asdict(one) for one in found.engine_speeds],
    }


def ranked_table(ranked: Sequence[Gearing]) -> Table:
    """Every gearing compared, the quickest over all circuits first."""
    names = list(ranked[0].laps)
    return Table(
        title="Gearings, the quickest over all circuits first",
        columns=("final drive", "tyres", *names, "behind s", ""),
        rows=[
            (
                f"{one.final_drive:g}",
                one.tyres,
                *(lap_words(one.laps[name].mean_lap_time) for name in names),
                f"{one.behind:.2f}",
                "on the car" if one.is_now else "",
            )
            for one in ranked
        ],
    )


def gears_table(gears: Sequence[Gear]) -> Table:
    """Speed at the limiter gear by gear, and what an upshift leaves."""
    return Table(
        title="Gears",
        columns=("gear", "ratio", "at the limiter km/h", "next gear due at km/h", "at rpm", "falls to rpm"),
        rows=[
            (
                str(number),
                f"{gear.ratio:.3g}",
                f"{3.6 * gear.speed_at_limiter:.0f}",
                f"{3.6 * gear.shift_speed:.0f}" if gear.shift_speed is not None else "",
                f"{gear.shift_engine_speed / RPM:.0f}" if gear.shift_engine_speed is not None else "",
                f"{gear.engine_speed_left / RPM:.0f}" if gear.engine_speed_left is not None else "",
            )
            for number, gear in enumerate(gears, 1)
        ],
    )


def straights_table(found: GearingAnswer) -> Table:
    """The fastest points between corners, and the range of engine speed at the fastest of each circuit."""
    ranges = {(one.circuit, one.end.before): one for one in found.engine_speeds}
    rows = []
    for name, lap in found.now.laps.items():
        for end in lap.straights:
            one = ranges.get((name, end.before))
            rows.append(
                (
                    name,
                    f"before {end.before}",
                    f"{3.6 * end.speed:.0f}",
                    str(end.gear),
                    f"{end.engine_speed / RPM:.0f}",
                    f"{one.low / RPM:.0f} to {one.high / RPM:.0f}" if one else "",
                )
            )
    return Table(
        title="Ends of the straights",
        columns=("circuit", "where", "km/h", "gear", "rpm", "range rpm"),
        rows=rows,
    )


def _laps(one: Gearing, title: str) -> Table:
    return Table(
        title=title,
        columns=("circuit", "lap", "on the limiter s", "upshifts", "mean rpm", "fuel kg", "time by gear s"),
        rows=[
            (
                name,
                lap_words(lap.mean_lap_time),
                f"{lap.limiter_time:.2f}",
                str(lap.upshifts),
                f"{lap.mean_engine_speed / RPM:.0f}",
                f"{lap.fuel:.3f}",
                " ".join(f"{spent:.0f}" for spent in lap.time_in_gear),
            )
            for name, lap in one.laps.items()
        ],
    )
