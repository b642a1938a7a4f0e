"""Jobs in the words of who holds the spanner."""

from dataclasses import replace

import pytest

from setups_by_hand import car_by_hand, chassis_by_hand, dry_by_hand, setup_by_hand
from tintop.car.changeover import jobs
from tintop.car.changeover_job import Check, Job
from tintop.car.chassis import End, Item
from tintop.car.setup import Setup
from tintop.car.setup_words import (
    bias_words,
    check_words,
    job_words,
    minutes_words,
    toe_moves_words,
    toe_words,
    value_words,
)
from tintop.settings import USUAL_UNITS

CAR, CHASSIS = car_by_hand(), chassis_by_hand()
BAR = {**USUAL_UNITS, "pressure": "bar"}


def _words(a: Setup, b: Setup, item: Item, end: End | None = None) -> tuple[str, ...]:
    found: tuple[Job, ...] = jobs(a, b, CAR, CHASSIS)
    job = next(job for job in found if job.item is item and job.end is end)
    return job_words(job, CHASSIS, BAR)


def test_clicks_say_which_way_and_from_where() -> None:
    road, dry = setup_by_hand(), dry_by_hand()
    assert _words(road, dry, Item.REBOUND, End.FRONT) == (
        "FL and FR: 6 clicks stiffer: to 10 from full soft.",
    )
    assert _words(dry, road, Item.REBOUND, End.REAR) == ("RL and RR: 4 clicks softer: to 4 from full soft.",)


def test_perches_turn_and_say_their_pitch() -> None:
    road = setup_by_hand()
    low = road.with_pair(End.REAR, ride_height=0.115)
    assert _words(road, low, Item.RIDE_HEIGHT, End.REAR) == (
        "RL and RR: perch 7 turns down (1.5 mm a turn); 130 mm to 115 mm.",
    )
    unmarked = replace(road, rear=replace(road.rear, spring="unmarked"))
    assert "free lengths are not written down" in _words(road, unmarked, Item.RIDE_HEIGHT, End.REAR)[0]


def test_camber_says_millimetres_and_what_the_toe_does() -> None:
    said = _words(setup_by_hand(), dry_by_hand(), Item.CAMBER, End.FRONT)
    assert said[0].startswith("FL and FR: strut top ") and " mm inwards; −1.15° to −2.86°." in said[0]
    assert "The toe of each wheel moves by" in said[1]
    beam = _words(setup_by_hand(), setup_by_hand().with_pair(End.REAR, camber=-0.03), Item.CAMBER, End.REAR)
    assert "shims" in beam[0]
    assert "only a measurement" in beam[1]


def test_toe_says_the_rod_and_that_its_thread_is_taken() -> None:
    said = _words(setup_by_hand(), dry_by_hand(), Item.TOE, End.FRONT)[0]
    assert "track rod about" in said and "measure yours" in said and "none to 0.9 mm out (7′)" in said


def test_parts_pressures_bias() -> None:
    road, dry = setup_by_hand(), dry_by_hand()
    assert _words(road, dry, Item.TYRES) == ("Off: road tyres; on: semi-slicks.",)
    assert _words(road, dry, Item.PRESSURE, End.FRONT) == ("FL and FR: from 1.90 bar to 1.70 bar.",)
    assert _words(road, dry, Item.BRAKE_BIAS) == (
        "1 turn to the rear; base setting (0 turns) to 1 turn to the rear of base.",
    )
    assert _words(road, dry, Item.BAR, End.REAR) == ("Hole 1 to hole 3 of bar.",)


@pytest.mark.parametrize(
    ("item", "value", "words"),
    [
        (Item.RIDE_HEIGHT, 0.13, "130 mm"),
        (Item.CAMBER, -0.05, "−2.86°"),
        (Item.BUMP, 4.0, "4 from full soft"),
        (Item.FUEL, 0.03, "30.0 L"),
        (Item.FINAL_DRIVE, 4.1, "4.1"),
        (Item.BRAKE_BIAS, 1.5, "1.5 turns to the front of base"),
        (Item.TYRES, "road tyres", "road tyres"),
    ],
)
def test_values_as_a_sheet_has_them(item: Item, value: float | str, words: str) -> None:
    assert value_words(item, value, 0.43, BAR) == words


def test_small_words() -> None:
    assert toe_words(0.0, 0.43, BAR) == "none"
    assert toe_words(0.00238, 0.42, BAR) == "1.0 mm in (8′)"
    assert bias_words(0.0) == "base setting (0 turns)"
    assert [minutes_words(each) for each in (None, 5.0, 60.0, 95.0)] == [
        "not written down", "5 min", "1 h 00 min", "1 h 35 min",
    ]  # fmt: skip
    nuts = Check(words="Wheel nuts", torque=110.0, again_after=50e3)
    assert check_words(nuts, BAR) == "Wheel nuts; torque 110 N·m, and again after the first session or 50 km."
    assert toe_moves_words(0.0, End.FRONT, CHASSIS, BAR) == "The toe stays."
