"""Springs and bars: turned on the page, with balance, travel, the next step, and the map of every pair."""

from dataclasses import replace

from fastapi import APIRouter
from fastapi.responses import Response

from tintop.car.chassis import CORNERS, Chassis, End
from tintop.car.free_parts import with_bar, with_spring_named
from tintop.car.setup import Setup, bar_in_hole
from tintop.charts.balance_map import balance_map_svg
from tintop.charts.car_words import in_owner_units, owner_unit
from tintop.charts.four_corners import four_corners_svg
from tintop.errors import BadInput, TintopError, refuse
from tintop.garage.bench import Bench
from tintop.garage.springs import ask_which_springs, map_of
from tintop.lap.spring_map import SpringMap, Varied, choices
from tintop.logbook.amounts import written_money
from tintop.questions.which_springs_and_bars import SpringsAnswer
from tintop.reports.springs_sheet import short_balance, springs_sheet
from tintop.units import unit_named
from tintop.web.bench_page import Asked, DrawnTwice, open_bench, show_bench, typed_as
from tintop.web.page import Visit, Visitor

router = APIRouter()
_MAPS = (("", "none"), ("springs", "springs"), ("bars", "bars"))
_SLIDES = (20e3, 150e3)  # of a spring's rate [N/m]


@router.get("/bench/springs")
def springs(visit: Visitor) -> Response:
    """Which springs and bars."""
    opened = open_bench(visit, "bench_springs.html")
    if isinstance(opened, Response):
        return opened
    bench, name, setup = opened
    query = visit.request.query_params
    unit = owner_unit("spring rate", bench.settings.units)
    asked = Asked(query, _standing(visit, bench, name, setup, unit))
    chassis, turned = _turned(bench, setup, asked, unit)
    circuit = asked.choice("circuit", ("", *bench.circuits))
    varied = asked.choice("map", [value for value, _ in _MAPS])
    if varied and not circuit:
        asked.refuse(refuse("map", "no circuit to drive it round", "a circuit"))
    found = mapped = None
    if not asked.problems:
        weather = bench.weather(setup.purpose)
        try:
            found = ask_which_springs(bench, turned, weather, circuit, chassis=chassis)
            if varied:
                speed = found.corner.speed
                mapped = map_of(bench, turned, weather, circuit, Varied(varied), speed, chassis=chassis)
        except TintopError as error:
            asked.refuse(error, "")
    return show_bench(
        visit,
        "bench_springs.html",
        asked,
        answer=found.answer if found else None,
        name=name,
        setups=bench.setups,
        circuits=[("", "none"), *((each, each) for each in bench.circuits)],
        maps=_MAPS,
        unit=unit,
        slides=[typed_as(rate, "spring rate", unit, 0) for rate in _SLIDES],
        ends=[(end.value, _listed(bench, end), _holes(bench.chassis, setup, end)) for end in End],
        corners=_corners(found, bench) if found else None,
        mapped=_mapped(mapped) if mapped else None,
        tables=springs_sheet(found, None, bench.settings.currency).tables if found else (),
    )


def _standing(visit: Visit, bench: Bench, name: str, setup: Setup, unit: str) -> dict[str, str]:
    meeting = visit.garage.next_meeting()
    next_one = meeting.circuit.removeprefix("circuits/").rsplit(".", 1)[0] if meeting else ""
    there = [one for one in (setup.circuit, next_one, *bench.circuits) if one in bench.circuits]
    standing = {"setup": name, "circuit": there[0] if there else "", "map": ""}
    for end in End:
        chosen, axle = setup.at(end), bench.chassis.at(end)
        standing[f"{end}_spring"] = _rate_typed(axle.spring(chosen.spring).rate, unit)
        standing[f"{end}_bar"] = bar_in_hole(chosen.bar, chosen.bar_hole)
        standing[f"{end}_other_bar"] = ""
    return standing


def _turned(bench: Bench, setup: Setup, asked: Asked, unit: str) -> tuple[Chassis, Setup]:
    """The chassis and the set-up with what was typed; sentences at their fields for what cannot be."""
    chassis = bench.chassis
    for end in End:
        spring, bar, other = f"{end}_spring", f"{end}_bar", f"{end}_other_bar"
        if asked.is_changed(spring):
            try:
                chassis, setup = _with_rate(bench, chassis, setup, end, asked.text(spring), unit)
            except BadInput as error:
                asked.refuse(error, spring)
        holes = {
            bar_in_hole(each.name, hole): (each.name, hole)
            for each in bench.chassis.at(end).bars
            for hole in range(len(each.roll_stiffness) + 1)
        }
        name, hole = holes[asked.choice(bar, tuple(holes))]
        stiffness = asked.value(other, "roll stiffness", "N·m/deg")
        if stiffness is not None:
            try:
                chassis, setup = with_bar(chassis, setup, end, stiffness)
            except BadInput as error:
                asked.refuse(error, other)
        elif asked.is_changed(bar):
            chosen = replace(setup.at(end), bar=name, bar_hole=hole)
            setup = replace(setup, front=chosen) if end is End.FRONT else replace(setup, rear=chosen)
    return chassis, setup


def _with_rate(
    bench: Bench, chassis: Chassis, setup: Setup, end: End, text: str, unit: str
) -> tuple[Chassis, Setup]:
    """A spring of the list where the rate typed is its own, else one of that rate."""
    own = next((one.name for one in chassis.at(end).springs if _rate_typed(one.rate, unit) == text), text)
    return with_spring_named(bench.described.car, chassis, setup, end, own, unit, "spring")


def _rate_typed(rate: float, unit: str) -> str:
    shown = rate / unit_named(unit, "spring rate").factor
    return typed_as(rate, "spring rate", unit, 0 if abs(shown - round(shown)) < 0.05 else 1)


def _listed(bench: Bench, end: End) -> str:
    """The springs there are for an end, in words."""
    words = []
    for spring in sorted(bench.chassis.at(end).springs, key=lambda each: each.rate):
        price = spring.offer.price_cents
        cost = written_money(price, bench.settings.currency, 0) if price is not None else "price unknown"
        words.append(spring.name + ("" if spring.offer.is_owned else f" ({cost})"))
    return "on the list: " + ", ".join(words)


def _holes(chassis: Chassis, setup: Setup, end: End) -> list[tuple[str, str]]:
    """The bars' holes to choose from, the one of the set-up among them whatever it is."""
    found = []
    for choice in choices(chassis, end, Varied.BARS):
        setting = dict(choice.setting)
        words = bar_in_hole(str(setting["bar"]), int(setting["bar_hole"]))
        found.append((words, words if choice.offer.is_owned else f"{words} (to buy)"))
    standing = bar_in_hole(setup.at(end).bar, setup.at(end).bar_hole)
    if standing not in dict(found):
        found.append((standing, standing))
    return found


def _corners(found: SpringsAnswer, bench: Bench) -> DrawnTwice:
    units, sheet = bench.settings.units, found.springs
    words = {}
    for place, corner in enumerate(CORNERS):
        axle = sheet.at(End.FRONT if place < 2 else End.REAR)
        lines = [
            f"{axle.frequency:.2f} Hz",
            f"{in_owner_units(axle.wheel_rate, 'spring rate', units, 1)} wheel",
        ]
        if found.driven:
            used = found.driven.travel
            most, left = 1e3 * used.most[place], 1e3 * used.left[place]
            lines.append(f"{'hits the stop' if most > left else 'bump'} {most:.0f} of {left:.0f} mm")
        words[corner] = lines
    share = 100.0 * sheet.body.front_share
    axles = {
        End.FRONT: (f"{share:.0f} % of the load moved",),
        End.REAR: (f"{100.0 - share:.0f} % of the load moved",),
    }
    wide, narrow = (
        four_corners_svg(
            words,
            axles=axles,
            middle=(short_balance(found.corner), f"at {3.6 * found.corner.speed:.0f} km/h"),
            title="Ride frequency, rate at the wheel and bump travel used",
            description=found.answer.sentence,
            car=sheet.car,
            is_narrow=is_narrow,
            name=f"springs-{'narrow' if is_narrow else 'wide'}",
        )
        for is_narrow in (False, True)
    )
    return DrawnTwice(wide=wide, narrow=narrow)


def _mapped(found: SpringMap) -> DrawnTwice:
    return DrawnTwice(
        wide=balance_map_svg(found, name="map-wide"),
        narrow=balance_map_svg(found, is_narrow=True, name="map-narrow"),
    )
