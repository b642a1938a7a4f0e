from dataclasses import replace

import pytest

from cars import front_driven_hatchback
from tintop.answer import Verdict
from tintop.car.brake_balance import BrakeAsk
from tintop.car.chassis import BiasDevice, BrakeBias
from tintop.errors import BadInput
from tintop.known import Known, Origin
from tintop.questions.brake_balance import BrakeQuestion, how_are_the_brakes

CAR = front_driven_hatchback()
VALVE = BrakeBias(device=BiasDevice.VALVE, share_per_turn=0.04, least_turns=-2.0, most_turns=16.0)
DRY = BrakeAsk(friction=1.0, front_temp=300.0, rear_temp=200.0)
WET = replace(DRY, friction=0.5)
QUESTION = BrakeQuestion(
    car=CAR, bias=VALVE, turns_now=0.0, asks={"dry": DRY, "wet": WET}, asked="dry", temp_basis="assumed",
)  # fmt: skip


def asked(**changes):
    return how_are_the_brakes(replace(QUESTION, **changes))


def with_rear_valve(share):
    return replace(CAR, brakes=replace(CAR.brakes, rear_valve_share=share))


def test_a_rear_that_locks_first_is_called_unsafe_before_anything_else():
    found = asked(car=with_rear_valve(1.0))
    assert found.answer.verdict is Verdict.NO
    assert found.answer.sentence.startswith("UNSAFE")
    assert "towards the front" in found.answer.next_thing and "closed" in found.answer.next_thing
    assert found.cases[0].first == "rear"


def test_the_turns_that_are_told_make_it_front_first():
    found = asked(car=with_rear_valve(1.0))
    turns = found.cases[0].turns
    after = asked(car=with_rear_valve(1.0), more_turns=turns.turns)
    assert after.cases[0].first == "front"
    assert after.cases[0].balance.margin >= 0.02
    assert after.answer.verdict is Verdict.YES
    assert "Leave the rear valve" in after.answer.next_thing


def test_a_margin_within_the_doubt_is_not_proven():
    known = {
        path: Known(value=1.0, uncertainty=0.2, origin=Origin.ASSUMED)
        for path in ("brakes.front.pad.frictions", "brakes.rear.pad.frictions")
    }
    found = asked(car=with_rear_valve(0.55), known=known)
    assert found.cases[0].balance.margin > 0.0
    assert found.answer.verdict is Verdict.NOT_PROVEN
    assert "not proven" in found.answer.sentence


def test_wound_back_for_the_wet_it_is_called_unsafe_in_the_dry():
    found = asked(car=with_rear_valve(0.95), asked="wet")
    assert [case.name for case in found.cases] == ["wet", "dry"]
    assert found.cases[0].first == "front"
    assert any(caution.startswith("UNSAFE on a dry road") for caution in found.answer.cautions)


def test_too_much_front_may_go_rearwards_but_need_not():
    found = asked(car=with_rear_valve(0.3), bias=replace(VALVE, least_turns=-16.0))
    assert found.answer.verdict is Verdict.YES
    assert found.answer.next_thing.startswith("It may stay.")
    assert "towards the rear" in found.answer.next_thing


def test_a_device_without_room_and_a_car_without_device_are_told_what_to_fit():
    short = asked(car=with_rear_valve(1.0), bias=replace(VALVE, most_turns=0.0))
    assert "has not room enough" in short.answer.next_thing
    bare = asked(car=with_rear_valve(1.0), bias=BrakeBias())
    assert "before it runs" in bare.answer.next_thing
    assert bare.cases[0].turns is None


@pytest.mark.parametrize(
    ("changes", "named"),
    [
        ({"more_turns": 30.0}, "turns"),
        ({"more_turns": 1.0, "bias": BrakeBias()}, "nothing to turn"),
        ({"asked": "snow"}, "road"),
    ],
)
def test_what_cannot_be_is_refused(changes, named):
    with pytest.raises(BadInput, match=named):
        asked(**changes)


def test_every_figure_and_the_rule_are_there():
    found = asked()
    names = [figure.name for figure in found.answer.figures]
    assert len(names) == 7 and "pedal travel then" in names
    assert any("R13-H" in why for why in found.answer.why)
    assert len(found.by_temperature) == 6 and found.by_part[0].name == "as it stands"


def test_the_turns_leave_no_less_than_the_doubt_in_hand():
    known = {
        path: Known(value=1.0, uncertainty=0.1, origin=Origin.ASSUMED)
        for path in ("brakes.front.pad.frictions", "brakes.rear.pad.frictions")
    }
    bias = replace(VALVE, most_turns=24.0)
    turns = asked(car=with_rear_valve(1.0), bias=bias, known=known).cases[0].turns
    assert turns.reached
    after = asked(car=with_rear_valve(1.0), bias=bias, known=known, more_turns=turns.turns)
    assert after.cases[0].balance.margin >= 1.6 * after.cases[0].balance.doubt > 0.02
