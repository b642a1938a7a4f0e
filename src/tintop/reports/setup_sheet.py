"""A set-up, the set-ups there are, and the way from one to another, as sheets and as plain content."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from tintop.answer import Verdict
from tintop.car.changeover_job import Job
from tintop.car.chassis import CORNERS, Chassis, End, Item
from tintop.car.lock_order import LockOrder
from tintop.car.setup import Setup
from tintop.car.setup_differences import Difference, Value, ballast_words, bar_words, has_one_knob
from tintop.car.setup_words import check_words, job_words, minutes_words, value_words
from tintop.lap.setup_effect import SetupEffect
from tintop.owner_units import MINUS, in_owner_units, lap_words, owner_unit
from tintop.questions.from_one_setup_to_another import ROAD_UNIT, Changeover
from tintop.reports.sheet import Sheet, Table

CAUTION = "A sheet says what was meant: read the car itself, and let scrutineer and regulations come first."
_AT_A_WHEEL = (
    (Item.CAMBER, "camber"),
    (Item.TOE, "toe"),
    (Item.RIDE_HEIGHT, "ride_height"),
    (Item.BUMP, "bump"),
    (Item.REBOUND, "rebound"),
    (Item.PRESSURE, "pressure_cold"),
)


def setups_sheet(
    setups: Mapping[str, Setup], fitted: str, unreadable: Mapping[str, str], notes: Sequence[str] = ()
) -> Sheet:
    """The set-ups there are; `unreadable` says what is wrong with those that are none."""
    said = f"On the car: {fitted}." if fitted else "Nothing says which set-up is on the car."
    return Sheet(
        title="Set-ups",
        sentences=(f"{len(setups)} set-ups. {said}", *unreadable.values(), *notes),
        tables=(
            Table(
                title="Set-ups",
                columns=("file", "name", "purpose", "circuit", "tyres", "pads"),
                rows=[
                    (stem, one.name, one.purpose.value, one.circuit or "any", one.tyres, one.pads)
                    for stem, one in setups.items()
                ],
            ),
        ),
        cautions=(CAUTION,),
    )


def setup_sheet(
    setup: Setup,
    chassis: Chassis,
    units: Mapping[str, str],
    *,
    is_fitted: bool | None,
    not_legal: str = "",
    front_share: float | None = None,
) -> Sheet:
    """One set-up for reading, corners in the order FL FR RL RR; `is_fitted` None where nothing says so.

    `not_legal` stands on top; `front_share` is the front's share of the braking that the turns come to.
    """
    on = "Nothing says whether it is on the car."
    if is_fitted is not None:
        on = "It is on the car now." if is_fitted else "It is not on the car now."
    purpose = setup.purpose.value + (f" at {setup.circuit}" if setup.circuit else "")
    return Sheet(
        title=setup.name,
        sentences=(*([not_legal] if not_legal else []), f"{setup.name}: {purpose}. {on}", setup.note),
        tables=(
            Table(
                title="At the wheels", columns=("", *CORNERS), rows=list(wheel_rows(setup, chassis, units))
            ),
            Table(
                title="At the ends", columns=("", "front", "rear"), rows=list(end_rows(setup, chassis, units))
            ),
            Table(
                title="Whole car", columns=("", "set to"), rows=list(whole_rows(setup, units, front_share))
            ),
        ),
        cautions=(CAUTION,),
    )


def wheel_rows(setup: Setup, chassis: Chassis, units: Mapping[str, str]) -> Iterator[tuple[str, ...]]:
    """Item, then its value at FL FR RL RR; bump is left out where one knob turns both ways at both ends."""
    one_knob = {end: has_one_knob(setup, chassis, end) for end in End}
    for item, field in _AT_A_WHEEL:
        if item is Item.BUMP and all(one_knob.values()):
            continue
        cells = []
        for place, corner in enumerate(setup.corners):
            end = End.FRONT if place < 2 else End.REAR
            rim = chassis.at(end).rim_diameter
            words = value_words(item, float(getattr(corner, field)), rim, units)
            cells.append("one knob" if item is Item.BUMP and one_knob[end] else words)
        yield item.value, *cells


def end_rows(setup: Setup, chassis: Chassis, units: Mapping[str, str]) -> Iterator[tuple[str, ...]]:
    """Part, then what is fitted in front and behind."""
    rates = [
        in_owner_units(chassis.at(end).spring(setup.at(end).spring).rate, "spring rate", units) for end in End
    ]
    yield (
        Item.SPRINGS.value,
        *(f"{setup.at(end).spring} ({rate})" for end, rate in zip(End, rates, strict=True)),
    )
    yield Item.BAR.value, *(bar_words(setup, end) for end in End)
    yield Item.DAMPERS.value, *(setup.at(end).damper for end in End)


def whole_rows(
    setup: Setup, units: Mapping[str, str], front_share: float | None = None
) -> Iterator[tuple[str, ...]]:
    """What belongs to the whole car; beside the turns of the brake bias the front's share they come to."""
    values: dict[Item, Value] = {
        Item.TYRES: setup.tyres,
        Item.PADS: setup.pads,
        Item.BRAKE_BIAS: setup.brake_bias_turns,
        Item.FINAL_DRIVE: setup.final_drive,
        Item.BALLAST: ballast_words(setup),
        Item.FUEL: setup.fuel_volume,
    }
    for item, value in values.items():
        words = value_words(item, value, 0.0, units)
        if item is Item.BRAKE_BIAS and front_share is not None:
            words += f", {100.0 * front_share:.0f} % front"
        yield item.value, words


def changeover_sheet(found: Changeover, chassis: Chassis, units: Mapping[str, str]) -> Sheet:
    """The jobs from one set-up to the other, what differs, and what is predicted of both."""
    answer = found.answer
    return Sheet(
        title=answer.question,
        sentences=(
            *([found.not_legal] if found.not_legal else []),
            answer.sentence,
            *answer.why,
            f"Next: {answer.next_thing}",
        ),
        tables=tuple(table for table in _tables(found, chassis, units) if table.rows),
        cautions=answer.cautions or (CAUTION,),
    )


def _tables(found: Changeover, chassis: Chassis, units: Mapping[str, str]) -> Iterator[Table]:
    yield Table(
        title="Jobs, in this order",
        columns=("", "job", "minutes", "do", "check"),
        rows=[job_row(number, job, chassis, units) for number, job in enumerate(found.jobs, 1)],
    )
    yield Table(
        title="What differs",
        columns=("item", "where", found.a.name, found.b.name),
        rows=[difference_row(each, chassis, units) for each in found.differences],
    )
    yield Table(
        title=f"Predicted, {found.circuit}" if found.circuit else "Predicted",
        columns=("", found.a.name, found.b.name),
        rows=list(effect_rows(found, units)),
    )


def job_row(number: int, job: Job, chassis: Chassis, units: Mapping[str, str]) -> tuple[str, ...]:
    """A job in one line: number, title with why, minutes, what to do, what to check."""
    title = f"{job.title}: {job.because}" if job.because else job.title
    minutes = "" if job.minutes == 0.0 else minutes_words(job.minutes)
    checks = [check_words(check, units) for check in job.checks]
    return (
        str(number),
        title,
        minutes,
        " ".join([*job_words(job, chassis, units), *([f"Tools: {job.tools}."] if job.tools else [])]),
        " ".join([*checks, *job.warnings]),
    )


def difference_row(each: Difference, chassis: Chassis, units: Mapping[str, str]) -> tuple[str, ...]:
    """Item, where, before, after."""
    rim = chassis.at(each.end).rim_diameter if each.end else 0.0
    before, after = (value_words(each.item, value, rim, units) for value in (each.before, each.after))
    return each.item.value, each.place or "car", before, after


def effect_rows(found: Changeover, units: Mapping[str, str]) -> Iterator[tuple[str, ...]]:
    """What is predicted of each: with a circuit lap, balance, brakes, travel, comfort; always the tread."""
    if found.predicted is not None:
        before, after = found.predicted.before, found.predicted.after
        yield "lap", lap_words(before.lap_time), lap_words(after.lap_time)
        yield "steady corner", balance_words(before.limit.balance), balance_words(after.limit.balance)
        yield "rear wheels lock, pads at their worst", lock_words(before.lock), lock_words(after.lock)
        yield (
            "bump travel left, hardest place of the lap",
            *(travel_words(one.bump_left, units) for one in (before, after)),
        )
        yield "hot pressures against target, FL FR RL RR", _off(before, units), _off(after, units)
        yield "tyre load variation, front and rear", _variation(before), _variation(after)
        yield "comfort on the road, weighted", _comfort(before), _comfort(after)
    for end in End:
        cells = [_road_wear(found.tread.get((which, end)), units) for which in "ab"]
        if not found.tread:
            continue
        yield f"{end.value} inner edge lost in 1,000 km of road", *cells


def _road_wear(lost: float | None, units: Mapping[str, str]) -> str:
    if lost is None:
        return "not on the road on these tyres"
    return in_owner_units(ROAD_UNIT * lost, "length", units, 2)


def balance_words(balance: float) -> str:
    """The limit balance of a steady corner in words; positive = the front gives up first."""
    if abs(balance) < 0.005:
        return "neutral"
    return f"{'understeer' if balance > 0.0 else 'oversteer'} by {100.0 * abs(balance):.1f} % of the limit"


def lock_words(lock: LockOrder) -> str:
    """Which axle locks first, in the words of the brakes' page."""
    points = f"{100.0 * abs(lock.margin):.1f} points with {lock.pads} pads"
    match lock.verdict:
        case Verdict.NO:
            return f"FIRST, front share short by {points}"
        case Verdict.NOT_PROVEN:
            return f"after the front by {points}: not proven"
        case Verdict.CLOSE:
            return f"after the front by {points}: close"
    return f"after the front by {points}"


def travel_words(left: float, units: Mapping[str, str]) -> str:
    """Bump travel left, or by how much the stop is in the way."""
    said = in_owner_units(abs(left), "length", units, 0)
    return said if left >= 0.0 else f"touches the stop, {said} short"


def _off(effect: SetupEffect, units: Mapping[str, str]) -> str:
    """Each wheel's hot pressure less its target; a dash where no target is known."""
    unit = owner_unit("pressure", units)
    return (
        f"{', '.join(_signed(each, units).removesuffix(f' {unit}') for each in effect.pressure_off)} {unit}"
    )


def _signed(off: float | None, units: Mapping[str, str]) -> str:
    if off is None:
        return "–"
    words = in_owner_units(off, "pressure", units)
    return words if words.startswith(MINUS) else f"+{words}"


def _variation(effect: SetupEffect) -> str:
    if effect.load_variation is None:
        return "unknown: a damper is not described"
    return " and ".join(f"{100.0 * each:.1f} %" for each in effect.load_variation)


def _comfort(effect: SetupEffect) -> str:
    return "unknown" if effect.comfort_road is None else f"{effect.comfort_road:.2f} m/s²"


def setup_content(stem: str, setup: Setup, *, is_fitted: bool | None) -> dict[str, Any]:
    """A set-up as plain values, SI and radians."""
    return {
        "file": stem,
        "name": setup.name,
        "purpose": setup.purpose.value,
        "circuit": setup.circuit,
        "is_on_the_car": is_fitted,
        "note": setup.note,
        "corners": {
            corner: {field: getattr(setup.corner(corner), field) for _, field in _AT_A_WHEEL}
            for corner in CORNERS
        },
        "ends": {
            end.value: {
                "spring": setup.at(end).spring,
                "bar": setup.at(end).bar,
                "bar_hole": setup.at(end).bar_hole,
                "damper": setup.at(end).damper,
            }
            for end in End
        },
        "tyres": setup.tyres,
        "pads": setup.pads,
        "final_drive": setup.final_drive,
        "brake_bias_turns": setup.brake_bias_turns,
        "fuel_volume": setup.fuel_volume,
        "ballast": setup.ballast,
        "ballast_place": setup.ballast_place,
    }


def changeover_content(found: Changeover, chassis: Chassis, units: Mapping[str, str]) -> dict[str, Any]:
    """The way from one set-up to the other as plain values, SI and radians, with the words beside."""
    answer = found.answer
    return {
        "question": answer.question,
        "verdict": answer.verdict.value,
        "sentence": answer.sentence,
        "why": list(answer.why),
        "next": answer.next_thing,
        "cautions": list(answer.cautions),
        "figures": [
            {"name": f.name, "value": f.value, "low": f.low, "high": f.high, "unit": f.unit, "basis": f.basis}
            for f in answer.figures
        ],
        "minutes": found.minutes,
        "not_legal": found.not_legal,
        "legality": list(found.legality),
        "differences": [
            {"item": d.item.value, "place": d.place, "before": d.before, "after": d.after}
            for d in found.differences
        ],
        "jobs": [_job_content(job, chassis, units) for job in found.jobs],
        "predicted": None
        if found.predicted is None
        else {
            "circuit": found.circuit,
            "gain": found.predicted.gain,
            "low": found.predicted.low,
            "high": found.predicted.high,
            "from": _effect_content(found.predicted.before),
            "to": _effect_content(found.predicted.after),
        },
    }


def _job_content(job: Job, chassis: Chassis, units: Mapping[str, str]) -> dict[str, Any]:
    return {
        "title": job.title,
        "stage": job.stage.value,
        "item": job.item.value if job.item else None,
        "end": job.end.value if job.end else None,
        "because": job.because,
        "minutes": job.minutes,
        "tools": job.tools,
        "words": list(job_words(job, chassis, units)),
        "steps": [
            {"place": s.place, "before": s.before, "after": s.after, "move": s.move, "turns": s.turns}
            for s in job.steps
        ],
        "toe_moves": job.toe_moves,
        "checks": [{"words": c.words, "torque": c.torque, "again_after": c.again_after} for c in job.checks],
        "warnings": list(job.warnings),
        "is_for_home": job.is_for_home,
        "needs_scales": job.needs_scales,
    }


def _effect_content(effect: SetupEffect) -> dict[str, Any]:
    return {
        "lap_time": effect.lap_time,
        "limit_balance": effect.limit.balance,
        "lock_margin": effect.lock.margin,
        "lock_verdict": effect.lock.verdict.value,
        "bump_left": effect.bump_left,
        "load_variation": effect.load_variation,
        "comfort_circuit": effect.comfort_circuit,
        "comfort_road": effect.comfort_road,
        "hot_pressures": effect.hot_pressures,
    }


def gain_words(found: Changeover) -> str:
    """The gain with its range, empty where no circuit was named."""
    one = found.predicted
    if one is None:
        return ""
    return f"{one.gain:+.2f} s a lap ({one.low:+.2f} to {one.high:+.2f})".replace("-", MINUS)
