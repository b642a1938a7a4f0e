"""Which springs and bars: what is said, what is suggested, and what is not."""

import math
from dataclasses import replace
from functools import cache

import pytest

from demo_cars import demo_circuit, demo_lane
from setups_by_hand import chassis_by_hand, dry_by_hand
from tintop.answer import Verdict
from tintop.car.chassis import Chassis, End, Offer, Spring
from tintop.car.described import DescribedCar
from tintop.car.setup import Purpose, Setup
from tintop.event import Weather
from tintop.known import Known, Origin
from tintop.lap.flying_lap import lap_time
from tintop.lap.setup_effect import GRIPS
from tintop.lap.setup_search import LAP_NOISE
from tintop.lap.spring_map import Tried, rough_fit
from tintop.questions.which_springs_and_bars import (
    Drive,
    SpringsAnswer,
    is_no_looser,
    stiffens,
    which_springs_and_bars,
)
from tintop.reports.springs_sheet import springs_sheet
from tintop.store.demo import demo_path
from tintop.store.documents.car_reader import read_car

DAY = Weather()
DRIVE = Drive(circuit=demo_circuit(5.0), path=demo_lane(5.0))


@cache
def described() -> DescribedCar:
    return read_car(demo_path("car.toml"))


def firm(name: str = "") -> tuple[Chassis, Setup]:
    """The car with room to sink, stiff enough not to touch its stops."""
    chassis, setup = chassis_by_hand(), dry_by_hand()
    chassis = replace(
        chassis,
        front=replace(chassis.front, bump_travel=0.12, droop_travel=0.03),
        rear=replace(chassis.rear, bump_travel=0.12, droop_travel=0.03),
    )
    return chassis, replace(setup, name=name or setup.name)


def asked(chassis: Chassis, setup: Setup, drive: Drive | None = DRIVE) -> SpringsAnswer:
    return which_springs_and_bars(described(), chassis, {}, setup, DAY, drive, "£")


def test_the_step_named_is_the_best_owned_and_its_gain_is_a_whole_laps() -> None:
    chassis, setup = firm()
    found = asked(chassis, setup)
    assert found.driven is not None
    step = found.driven.owned
    assert step is not None
    fit = rough_fit(described().car, chassis, DRIVE.path, DAY)
    times = []
    for one in (setup, step.setup):
        car, conditions = fit(one)
        grips = [tuple(share * grip for grip in conditions.grip) for share in GRIPS]
        laps = [lap_time(car, DRIVE.path, DAY, replace(conditions, grip=grip)) for grip in grips]
        times.append(sum(laps) / len(laps))
    assert step.gain == pytest.approx(times[0] - times[1], abs=1e-9)
    owned = [
        one
        for one in found.driven.steps
        if one.choice.offer.is_owned and is_no_looser(one.tried, found.driven.now)
    ]
    assert step.choice == max(owned, key=lambda one: one.gain).choice
    assert step.gain > LAP_NOISE
    low, high = found.driven.owned_range
    assert 0.0 < low < step.gain < high
    assert f"{step.gain:.2f} s a lap" in found.answer.next_thing
    assert step.choice.words in found.answer.next_thing
    assert found.answer.verdict is Verdict.FOUND


def test_a_part_in_a_shop_is_named_with_its_price_and_never_as_owned() -> None:
    chassis, setup = firm()
    quick = Spring(name="on offer", rate=75e3, offer=Offer(price_cents=18500, is_owned=False))
    chassis = replace(chassis, rear=replace(chassis.rear, springs=(*chassis.rear.springs[:1], quick)))
    found = asked(chassis, setup)
    assert found.driven is not None
    assert found.driven.bought is not None
    assert found.driven.bought.choice.words == "on offer"
    assert "on offer, to be bought (£185)" in found.answer.next_thing
    assert found.driven.owned is None or found.driven.owned.choice.words != "on offer"


def test_a_step_that_makes_the_car_looser_is_not_suggested() -> None:
    chassis, setup = firm()
    found = asked(chassis, setup)
    assert found.driven is not None
    now = found.driven.now
    looser = replace(now.balance, balance=min(now.balance.balance, 0.0) - 0.01)
    assert not is_no_looser(Tried(lap_time=1.0, balance=looser), now)
    for step in (found.driven.owned, found.driven.bought):
        assert step is None or step.balance.balance >= min(now.balance.balance, 0.0)


def test_stops_and_loose_springs_come_before_any_tuning() -> None:
    setup = dry_by_hand()
    found = asked(chassis_by_hand(), replace(setup, front=replace(setup.front, spring="stiff")))
    assert found.answer.verdict is Verdict.CLOSE
    assert "touches its bump stop in corner" in found.answer.sentence
    assert "springs come loose" in found.answer.sentence
    assert found.answer.next_thing.startswith("Put a tie-wrap")


def test_without_a_circuit_no_step_is_made_up() -> None:
    found = asked(*firm(), drive=None)
    assert found.driven is None
    assert found.answer.next_thing.startswith("Name a circuit")


def test_travel_says_what_is_left_out_and_which_way_it_errs() -> None:
    driven, undriven = asked(*firm()), asked(*firm(), drive=None)
    said = [why for why in driven.answer.why if "anti-dive" in why]
    assert len(said) == 1 and "errs to more travel" in said[0]
    assert any("anti-dive" in sentence for sentence in springs_sheet(driven).sentences)
    assert not any("anti-dive" in why for why in undriven.answer.why)


def test_figures_have_a_range_and_their_basis() -> None:
    figures = {one.name: one for one in asked(*firm()).answer.figures}
    lean = figures["lean per g"]
    assert lean.low < lean.value < lean.high
    assert all(one.basis for one in figures.values())
    assert math.isfinite(figures["balance at the limit, + = front first"].value)


def test_an_assumed_motion_ratio_is_said_with_what_its_doubt_does() -> None:
    chassis, setup = firm()
    known = {"front.motion_ratio": Known(value=0.95, uncertainty=0.04, origin=Origin.ASSUMED, source="class")}
    found = which_springs_and_bars(described(), chassis, known, setup, DAY, None)
    (one,) = found.answer.assumptions
    assert one.path == "front.motion_ratio"
    assert one.effect > 0.0
    wider = {one.name: one for one in found.answer.figures}["front ride frequency"]
    narrow = {one.name: one for one in asked(chassis, setup, None).answer.figures}["front ride frequency"]
    assert wider.high - wider.low > narrow.high - narrow.low
    assert End.FRONT.value in one.path


def test_nothing_stiffer_is_suggested_for_the_wet_and_no_lap_rules_the_road() -> None:
    """Common practice, no source: a wet set-up is softer."""
    chassis, setup = firm()
    wet = which_springs_and_bars(described(), chassis, {}, setup, Weather(wetness=1.0), DRIVE, "£")
    assert wet.driven is not None
    for step in (wet.driven.owned, wet.driven.bought):
        assert step is None or not stiffens(step, wet.springs)
    assert any(stiffens(step, wet.springs) for step in wet.driven.steps)
    road = which_springs_and_bars(
        described(), chassis, {}, replace(setup, purpose=Purpose.ROAD), DAY, DRIVE, "£"
    )
    assert road.answer.next_thing.startswith("For the road the ride comes first")
    assert road.driven is not None
    assert road.driven.owned is None


def test_a_written_preload_against_a_loose_spring_is_a_contradiction() -> None:
    chassis, setup = chassis_by_hand(), dry_by_hand()
    chassis = replace(chassis, front=replace(chassis.front, spring_preload=250.0))
    found = asked(chassis, replace(setup, front=replace(setup.front, spring="stiff")), None)
    assert "writes 250 N of preload" in found.answer.sentence


def test_a_range_that_leaves_open_which_end_slides_first_is_not_proven() -> None:
    chassis, setup = firm()
    sure = which_springs_and_bars(described(), chassis, {}, setup, DAY)
    sets = tuple(
        replace(one, rear=replace(one.rear, friction_lateral=one.rear.friction_lateral * 0.925))
        for one in chassis.tyre_sets
    )
    open_ = which_springs_and_bars(described(), replace(chassis, tyre_sets=sets), {}, setup, DAY)
    figure = next(one for one in open_.answer.figures if one.name.startswith("balance at the limit"))
    assert figure.low < 0.0 < figure.high
    assert open_.answer.verdict is Verdict.NOT_PROVEN
    assert "which end slides first is not proven" in open_.answer.sentence
    assert "rear first to" in open_.answer.sentence
    assert sure.answer.verdict is Verdict.FOUND
    assert " % before the other end (" in sure.answer.sentence
