"""The answer to "Which clicks?" as a sheet and as plain content."""

import math
from collections.abc import Iterator
from dataclasses import asdict
from typing import Any

from tintop.car.chassis import CORNERS, End
from tintop.car.click_search import Rated
from tintop.car.damping import AxleDamping
from tintop.car.ride_in_time import KerbStrike, RoadDrive
from tintop.physics.ride_comfort import comfort_words
from tintop.questions.which_clicks import Choice, ClicksAnswer, changes_to
from tintop.references import work
from tintop.reports.sheet import Sheet, Table


def ride_sheet(found: ClicksAnswer) -> Sheet:
    """The sheet: sentences, figures, clicks by purpose, dampers, motions, the drive and the kerb."""
    answer = found.answer
    return Sheet(
        title=f"Dampers and ride: {found.setup.name}",
        sentences=(
            f"Set-up: {found.setup.name} ({found.setup.purpose}).",
            answer.sentence,
            f"Next: {answer.next_thing}",
            *answer.why,
        ),
        tables=tuple(ride_tables(found)),
        cautions=answer.cautions,
    )


def ride_tables(found: ClicksAnswer) -> Iterator[Table]:
    """The tables of an answer, those that there are."""
    if found.answer.figures:
        yield Table(
            title=f"As it stands, on the {found.road.name}",
            columns=("what", "value", "range", "how it was come by"),
            rows=[
                (
                    each.name,
                    _figure(each.value, each.unit),
                    _range(each.low, each.high, each.unit),
                    each.basis,
                )
                for each in found.answer.figures
            ],
        )
    if found.choices:
        yield Table(
            title="Clicks from full soft for each purpose, with this set-up's springs, bars and tyres",
            columns=(
                "for",
                "road",
                "front bump",
                "front rebound",
                "rear bump",
                "rear rebound",
                "damping ratios with these clicks, front / rear",
                "comfort",
            ),
            rows=[_choice(choice) for choice in found.choices],
        )
        yield Table(
            title="What to turn from how it stands",
            columns=("for", "turn"),
            rows=[(choice.purpose.value, turns_for(found, choice)) for choice in found.choices],
        )
    yield Table(
        title="Dampers at the clicks as set, and their damping ratios",
        columns=(
            "end",
            "stroke",
            "at",
            "at the wheel",
            "heave (up and down)",
            "pitch",
            "roll",
            "how known",
        ),
        rows=[row for end, each in found.damping.items() for row in _damper(end, each)],
    )
    if found.now is not None:
        modes = found.now.modes
        named = (
            ("heave", modes.heave),
            ("pitch", modes.pitch),
            ("roll", modes.roll),
            ("front hop", modes.hop_front),
            ("rear hop", modes.hop_rear),
        )
        yield Table(
            title="Motions on the springs and tyres",
            columns=("motion", "frequency", "damping ratio"),
            rows=[(name, f"{mode.frequency:.2f} Hz", f"{mode.ratio:.2f}") for name, mode in named],
        )
    if found.drive is not None:
        yield _drive(found.drive)
    if found.kerb is not None:
        yield kerb_table(found.kerb)


def turns_for(found: ClicksAnswer, choice: Choice) -> str:
    """What to turn for a purpose, in words; nothing where the set-up's own clicks do as well."""
    if choice.purpose is found.setup.purpose and found.is_as_good:
        return "nothing: as good as it stands"
    return "; ".join(changes_to(found, choice.best)) or "nothing"


def kerb_table(strike: KerbStrike) -> Table:
    """What a kerb does, a row a wheel."""
    kerb, side = strike.kerb, "left" if strike.is_left else "right"
    settled = "not within 3 s" if strike.settled is None else f"within {strike.settled:.2f} s"
    return Table(
        title=f"Kerb of {1e3 * kerb.height:.0f} mm, {side} wheels, {3.6 * strike.speed:.0f} km/h: settled "
        f"{settled} of leaving it; body rolls {math.degrees(strike.most_roll):.1f}°",
        columns=("wheel", "off the ground", "most load", "most bump travel", "bump stop"),
        rows=[
            (
                corner,
                f"{1e3 * air:.0f} ms",
                f"{load / 1e3:.1f} kN",
                f"{1e3 * travel:.0f} mm",
                "met" if stop else "free",
            )
            for corner, air, load, travel, stop in zip(
                CORNERS, strike.in_air, strike.most_load, strike.most_travel, strike.on_stop, strict=True
            )
        ],
    )


def _drive(drive: RoadDrive) -> Table:
    return Table(
        title=f"{drive.seconds:.0f} s of such a road, driven in time with stops: {drive.comfort:.2f} m/s² at "
        f"the seat's floor, {comfort_words(drive.comfort)}",
        columns=(
            "wheel",
            "load variation",
            "off the ground",
            "on the stop",
            "most bump travel",
            "damper heat",
        ),
        rows=[
            (
                corner,
                f"{100.0 * drive.load_variation[place]:.1f} %",
                f"{100.0 * drive.in_air[place]:.2f} % of the time",
                f"{100.0 * drive.on_stops[place]:.2f} % of the time",
                f"{1e3 * drive.most_travel[place]:.0f} mm",
                f"{drive.damper_heat[place]:.0f} W",
            )
            for place, corner in enumerate(CORNERS)
        ],
    )


def _choice(choice: Choice) -> tuple[str, ...]:
    best = choice.best
    return (
        choice.purpose.value,
        f"{choice.road.name}, {choice.road.road_class}, {3.6 * choice.road.speed:.0f} km/h",
        str(best.front.bump),
        str(best.front.rebound),
        str(best.rear.bump),
        str(best.rear.rebound),
        f"{choice.ratio_front:.2f} / {choice.ratio_rear:.2f}",
        f"{choice.quality.comfort:.2f} m/s²",
    )


def _damper(end: End, damping: AxleDamping | None) -> list[tuple[str, ...]]:
    if damping is None:
        return [(end.value, "both", "", "unknown", "unknown", "unknown", "unknown", "no curve and no ratio")]
    at = f"{1e3 * damping.shaft_speed:.0f} mm/s"
    return [
        (
            end.value,
            name,
            at,
            f"{1e-3 * wheel:.2f} N·s/mm",
            f"{ratios.heave:.2f}",
            f"{ratios.pitch:.2f}",
            f"{ratios.roll:.2f}",
            damping.known.value,
        )
        for name, wheel, ratios in (
            ("bump", damping.bump_damping, damping.bump),
            ("rebound", damping.rebound_damping, damping.rebound),
        )
    ]


def _figure(value: float, unit: str) -> str:
    if unit == "share":
        return f"{100.0 * value:.1f} %"
    return f"{value:.2f} {unit}".strip()


def _range(low: float, high: float, unit: str) -> str:
    return f"{_figure(low, unit)} to {_figure(high, unit)}"


def ride_content(found: ClicksAnswer) -> dict[str, Any]:
    """The whole answer as plain content, SI and shares."""
    answer, now = found.answer, found.now
    return {
        "question": answer.question,
        "verdict": answer.verdict.value,
        "sentence": answer.sentence,
        "next": answer.next_thing,
        "why": list(answer.why),
        "cautions": list(answer.cautions),
        "works": [work(key) for key in answer.works],
        "setup": found.setup.name,
        "road": asdict(found.road),
        "figures": [asdict(figure) for figure in answer.figures],
        "ride": None if now is None else asdict(now),
        "clicks_now": None if found.rated_now is None else _rated(found.rated_now),
        "dampers": {
            end.value: None if each is None else asdict(each) | {"rebound_to_bump": each.rebound_to_bump}
            for end, each in found.damping.items()
        },
        "choices": [
            {
                "purpose": choice.purpose.value,
                "road": asdict(choice.road),
                "clicks": _rated(choice.best),
                "damping_ratio_front": choice.ratio_front,
                "damping_ratio_rear": choice.ratio_rear,
                "as_good": {
                    f"{end.value} {knob}": list(span) for (end, knob), span in choice.found.as_good.items()
                },
                "turn": list(changes_to(found, choice.best)),
            }
            for choice in found.choices
        ],
        "marks": [_rated(each) for each in found.marks],
        "drive": None if found.drive is None else asdict(found.drive),
        "kerb": None if found.kerb is None else asdict(found.kerb),
    }


def _rated(rated: Rated) -> dict[str, Any]:
    return {
        "front": asdict(rated.front),
        "rear": asdict(rated.rear),
        "load_variation": rated.variation,
        "comfort": rated.comfort,
    }
