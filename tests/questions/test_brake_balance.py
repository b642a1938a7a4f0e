from dataclasses import replace

import pytest

from benches import demo_bench
from cars import front_driven_hatchback, rear_driven_coupe
from tintop.answer import Verdict
from tintop.car.brake_balance import BrakeAsk
from tintop.car.chassis import BiasDevice, BrakeBias
from tintop.car.front_first import SetBrakes
from tintop.errors import BadInput
from tintop.garage.brakes import BrakesAsked, brakes_for
from tintop.known import Known, Origin
from tintop.questions.brake_balance import BrakeQuestion, how_are_the_brakes
from tintop.reports.brakes_sheet import brakes_content, brakes_sheet

CAR = front_driven_hatchback()
VALVE = BrakeBias(device=BiasDevice.VALVE, share_per_turn=0.04, least_turns=-2.0, most_turns=16.0)
DRY = BrakeAsk(friction=1.0, front_temp=300.0, rear_temp=200.0)
WET = replace(DRY, friction=0.5)
OF_BRAKES = ("car", "bias", "known", "turns")
QUESTION = BrakeQuestion(
    brakes=SetBrakes(car=CAR, bias=VALVE), asks={"dry": DRY, "wet": WET}, asked="dry", temp_basis="assumed",
)  # fmt: skip


def asked(**changes):
    of_brakes = {name: changes.pop(name) for name in OF_BRAKES if name in changes}
    return how_are_the_brakes(replace(QUESTION, brakes=replace(QUESTION.brakes, **of_brakes), **changes))


def with_rear_valve(share):
    return replace(CAR, brakes=replace(CAR.brakes, rear_valve_share=share))


def pads_known(doubt):
    return {
        f"brakes.{end}.pad.frictions": Known(value=1.0, uncertainty=doubt, origin=Origin.ASSUMED)
        for end in ("front", "rear")
    }


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
    found = asked(car=with_rear_valve(0.5), known=pads_known(0.2))
    assert found.cases[0].worst.margin > 0.0
    assert found.answer.verdict is Verdict.NOT_PROVEN
    assert "NOT PROVEN" in found.answer.sentence


def test_wound_back_for_the_wet_it_is_called_unsafe_in_the_dry():
    found = asked(car=with_rear_valve(0.8), asked="wet")
    assert [case.name for case in found.cases] == ["wet", "dry"]
    assert found.cases[0].first == "front"
    assert found.answer.sentence.endswith("On a dry road the rear locks first: UNSAFE there.")
    assert any(caution.startswith("UNSAFE on a dry road") for caution in found.answer.cautions)
    assert "A dry road wants it at +" in found.answer.next_thing
    assert found.cases[0].turns.turns >= 0.0


def test_too_much_front_may_go_rearwards_as_far_as_the_dry_allows_but_need_not():
    found = asked(car=with_rear_valve(0.3), bias=replace(VALVE, least_turns=-16.0), asked="wet")
    assert found.answer.verdict is Verdict.YES
    assert found.answer.next_thing.startswith("It may stay.")
    assert "towards the rear" in found.answer.next_thing
    wet, dry = (case.turns for case in found.cases)
    assert wet.at == dry.at < 0.0
    assert found.cases[0].gained > 0.0


def test_nothing_rearward_is_offered_for_the_road():
    bias = replace(VALVE, least_turns=-16.0)
    found = asked(car=with_rear_valve(0.3), bias=bias, may_go_rearward=False)
    assert "Leave the rear valve" in found.answer.next_thing
    assert all(case.turns.turns == 0.0 for case in found.cases)


def test_what_is_advised_is_accepted_when_it_is_done():
    """Rearward and forward, with the device's own doubt: done, the answer is yes and nothing is left."""
    doubts = {
        "brakes.rear_valve_share": Known(value=0.7, uncertainty=0.02, origin=Origin.MEASURED),
        "bias.share_per_turn": Known(value=0.04, uncertainty=0.008, origin=Origin.ESTIMATED),
    }
    known = pads_known(0.05) | doubts
    for share, least in ((0.3, -16.0), (1.0, -2.0)):
        bias = replace(VALVE, least_turns=least, most_turns=24.0)
        brakes = SetBrakes(car=with_rear_valve(share), bias=bias, known=known)
        question = replace(QUESTION, brakes=brakes)
        turns = how_are_the_brakes(question).cases[0].turns
        assert turns.reached and abs(turns.turns) > 0.5
        after = how_are_the_brakes(replace(question, more_turns=turns.turns))
        assert after.answer.verdict is Verdict.YES
        assert "Leave the rear valve" in after.answer.next_thing


def test_a_device_without_room_and_a_car_without_device_are_told_what_to_fit():
    short = asked(car=with_rear_valve(1.0), bias=replace(VALVE, most_turns=0.0))
    assert "has not room enough" in short.answer.next_thing
    bare = asked(car=with_rear_valve(1.0), bias=BrakeBias())
    assert "before it runs" in bare.answer.next_thing
    assert bare.cases[0].turns is None


def test_turns_that_end_short_of_the_need_say_that_it_stays_not_proven():
    car, known = with_rear_valve(0.5), pads_known(0.2)
    short = asked(car=car, known=known, bias=replace(VALVE, most_turns=1.0))
    assert not short.cases[0].turns.reached
    assert "to its end at +1" in short.answer.next_thing
    assert "it stays NOT PROVEN" in short.answer.next_thing
    there = asked(car=car, known=known, bias=replace(VALVE, most_turns=0.0))
    assert there.answer.next_thing.startswith("The rear valve stands at its front end (0 turns)")
    assert "it stays NOT PROVEN" in there.answer.next_thing


def test_cold_pads_that_lock_the_rear_first_are_said_in_words():
    rear = replace(CAR.brakes.rear.pad, frictions=(0.5, *CAR.brakes.rear.pad.frictions[1:]))
    car = replace(
        CAR, brakes=replace(CAR.brakes, rear=replace(CAR.brakes.rear, pad=rear), rear_valve_share=0.5)
    )
    found = asked(car=car)
    assert found.cases[0].balance.margin > 0.0
    assert found.answer.verdict is Verdict.NO
    assert "the rear axle locks first with cold pads" in found.answer.sentence


def test_a_foot_that_cannot_lock_an_axle_is_told_so():
    weak = replace(with_rear_valve(0.4), brakes=replace(CAR.brakes, rear_valve_share=0.4, pedal_force=90.0))
    found = asked(car=weak)
    limit = found.cases[0].balance
    assert limit.hardest_rate < limit.at_limit.rate
    said = next(why for why in found.answer.why if why.startswith("Your hardest push, 90 N"))
    assert f"gives {limit.hardest_rate:.2f} g" in said and "below" in said
    strong = asked(car=replace(weak, brakes=replace(weak.brakes, pedal_force=900.0)))
    assert not any(why.startswith("Your hardest push") for why in strong.answer.why)


def test_a_driven_rear_axle_is_warned_of_downshifts_and_of_a_locked_rear():
    coupe = asked(car=rear_driven_coupe())
    warned = [one for one in coupe.answer.cautions if "downshift" in one and "limited-slip" in one]
    assert warned and "third gear is counted in" in warned[0]
    assert not any("downshift" in one for one in asked().answer.cautions)


def test_every_assumed_input_is_listed_on_the_sheet_and_in_the_content():
    known = pads_known(0.05) | {
        "brakes.rear_valve_share": Known(value=0.95, uncertainty=0.05, origin=Origin.ASSUMED),
        "brakes.front.piston_area": Known(value=2e-3, uncertainty=1e-5, origin=Origin.ASSUMED),
        "brakes.rear.piston_area": Known(value=1e-3, uncertainty=1e-5, origin=Origin.MEASURED),
        "masses.cg_height": Known(value=0.5, uncertainty=0.02, origin=Origin.ASSUMED),
    }
    found = asked(known=known)
    assert found.assumed == (
        "pad friction front and rear",
        "caliper pistons front",
        "rear valve (taken as none, the less safe side)",
        "height of the centre of gravity",
        "temperatures of cold, working and hot pads",
    )
    assert any(
        said.startswith("Assumed, not measured: pad friction") for said in brakes_sheet(found).sentences
    )
    assert brakes_content(found)["assumed"] == found.assumed
    assert asked(known=known, temp_basis="as typed").assumed[-1] == "temperatures of cold and hot pads"


def test_the_sheet_says_what_to_do_before_why():
    found = asked()
    sheet = brakes_sheet(found)
    assert sheet.sentences[:2] == (found.answer.sentence, f"Next: {found.answer.next_thing}")
    assert sheet.tables[0].title == "Which axle locks first"


def test_more_grip_than_asked_about_is_warned_of_rounded_down():
    found = asked(car=with_rear_valve(0.4))
    critical = found.cases[0].balance.critical_rate
    points = {round(each.rate, 2): each for each in found.cases[0].balance.points}
    assert not points[round(critical, 2)].rear_first and points[round(critical + 0.01, 2)].rear_first
    assert any(caution.startswith(f"Above {critical:.2f} g") for caution in found.answer.cautions)


@pytest.mark.parametrize("name", ["dry", "wet", "road"])
def test_the_advice_for_the_demos_set_ups_is_accepted_when_it_is_done(name):
    bench = demo_bench()
    turns = brakes_for(bench, BrakesAsked(setup=name)).cases[0].turns
    after = brakes_for(bench, BrakesAsked(setup=name, turns=turns.at))
    assert (after.answer.verdict is Verdict.YES) == turns.reached
    assert name != "road" or turns.turns >= 0.0


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
    assert len(names) == 8 and "pedal travel then" in names and "your hardest push gives" in names
    assert any("R13-H" in why for why in found.answer.why)
    assert len(found.by_temperature) == 3 and found.by_part[0].name == "as it stands"
