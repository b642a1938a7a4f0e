"""Which clicks: the order the trade knows comes out, what is unknown is said, clicks are whole."""

from dataclasses import replace

import pytest

from benches import demo_bench
from dampers_by_hand import chassis_measured, setup_measured
from setups_by_hand import car_by_hand
from tintop.answer import Verdict
from tintop.car.chassis import DamperSide, End
from tintop.car.click_search import Wanted, best_clicks, with_clicks
from tintop.car.damping import critical_of
from tintop.car.ride_quality import ROAD_FOR, ROADS, ride_car, ride_quality
from tintop.car.setup import Purpose
from tintop.known import Known, Origin
from tintop.questions.which_clicks import USUAL, changes_to, which_clicks

CAR, CHASSIS = car_by_hand(), chassis_measured()


def asked(setup, **given):
    bench = demo_bench()
    return which_clicks(bench.described.car, bench.chassis, setup, known=bench.chassis_known, **given)


def ratios(car, chassis, setup):
    """Damping ratio of both ends together that grip and body alone ask for, comfort worth nothing."""
    found = {}
    for purpose in Purpose:
        one, road = replace(setup, purpose=purpose), ROAD_FOR[purpose]
        wanted = Wanted(comfort_worth=0.0, rebound_to_bump=1.5)
        best = best_clicks(car, chassis, one, road.road_class, road.speed, wanted).best
        turned = with_clicks(one, best.front, best.rear)
        quality = ride_quality(car, chassis, turned, road.road_class, road.speed)
        ride = ride_car(car, chassis, one)
        found[purpose] = 0.5 * (
            quality.damping_front / critical_of(ride, End.FRONT)
            + quality.damping_rear / critical_of(ride, End.REAR)
        )
    return found


@pytest.mark.parametrize("is_demo", [True, False])
def test_soft_for_the_road_stiff_for_the_circuit_softer_in_the_wet(is_demo):
    """Common practice, no source; here from roughness, speed and grip alone, one rule for all three."""
    bench = demo_bench()
    found = (
        ratios(bench.described.car, bench.chassis, bench.setup("dry"))
        if is_demo
        else ratios(CAR, CHASSIS, setup_measured())
    )
    assert found[Purpose.ROAD] < found[Purpose.WET] < found[Purpose.DRY]


def test_the_clicks_themselves_are_in_that_order_with_comfort_counting_on_the_road():
    choices = {each.purpose: each.best for each in asked(demo_bench().setup("dry")).choices}
    road, wet, dry = (
        sum((one.front.bump, one.front.rebound, one.rear.bump, one.rear.rebound))
        for one in (choices[Purpose.ROAD], choices[Purpose.WET], choices[Purpose.DRY])
    )
    assert road < wet < dry


def test_a_saloon_comes_near_the_ratios_of_the_trade():
    """Race 0.6 to 0.7, road 0.3 to 0.5: common practice, no source; within a fifth, ends at their mean."""
    for choice in asked(demo_bench().setup("dry")).choices:
        if choice.purpose in USUAL:
            low, high = USUAL[choice.purpose]
            assert 0.8 * low < 0.5 * (choice.ratio_front + choice.ratio_rear) < 1.2 * high


def test_clicks_as_good_as_the_best_are_left():
    found = asked(demo_bench().setup("dry"))
    assert found.answer.verdict is Verdict.FOUND and found.is_as_good
    assert found.answer.next_thing.startswith("Leave the clicks")


def test_clicks_far_off_are_turned_by_whole_clicks_and_that_is_better():
    setup = demo_bench().setup("dry")
    for end in End:
        setup = setup.with_pair(end, bump=0, rebound=0)
    found = asked(setup)
    assert found.answer.next_thing.startswith("Turn front ")
    assert "from full soft" in found.answer.next_thing and "harder, both sides" in found.answer.next_thing
    there = min(found.marks, key=lambda each: each.variation)
    assert found.rated_now is not None and there.variation < found.rated_now.variation
    assert changes_to(found, found.rated_now) == ()


def test_without_a_curve_it_is_not_proven_and_the_next_thing_is_to_measure():
    setup = replace(setup_measured(), front=replace(setup_measured().front, damper="two knobs"))
    found = which_clicks(CAR, CHASSIS, setup)
    assert found.answer.verdict is Verdict.NOT_PROVEN
    assert found.answer.sentence.startswith("Not proven.")
    assert "assumed damping ratio" in " ".join(found.answer.why)
    assert found.answer.next_thing.startswith("Have the front dampers measured")
    ratio = next(
        figure for figure in found.answer.figures if figure.name.endswith("front") and "heave" in figure.name
    )
    assert ratio.high > 1.5 * ratio.value


def test_curves_that_were_assumed_prove_nothing():
    found = which_clicks(
        CAR,
        CHASSIS,
        setup_measured(),
        known={"front.dampers.3.bump.forces": Known(value=1.0, uncertainty=1.0, origin=Origin.ASSUMED)},
    )
    assert found.answer.verdict is Verdict.NOT_PROVEN and "assumed" in found.answer.why[0]


def test_nothing_is_made_up_for_a_damper_nobody_knows():
    bare = replace(CHASSIS, rear=replace(CHASSIS.rear, dampers=()))
    setup = replace(setup_measured(), rear=replace(setup_measured().rear, damper=""))
    found = which_clicks(CAR, bare, setup)
    assert found.answer.verdict is Verdict.NOT_PROVEN
    assert found.answer.sentence.startswith("Not proven: what the rear dampers do is unknown")
    assert not found.choices and not found.marks and found.now is None and not found.answer.figures
    assert found.damping[End.FRONT] is not None and found.damping[End.REAR] is None


def test_choices_given_again_change_nothing():
    setup = demo_bench().setup("wet")
    first = asked(setup)
    again = asked(setup, choices=first.choices)
    assert again.answer == first.answer and again.named == first.named


def test_a_rougher_road_has_its_range_and_its_own_marks():
    found = asked(demo_bench().setup("dry"), road=ROADS["bumpy circuit"])
    assert "bumpy circuit" in found.answer.sentence
    assert all(figure.low < figure.value < figure.high for figure in found.answer.figures)
    assert set(found.named) == set(Purpose)


def _all_dampers(chassis, side):
    return replace(
        chassis,
        **{
            end.value: replace(
                chassis.at(end),
                dampers=tuple(replace(one, bump=side, rebound=side) for one in chassis.at(end).dampers),
            )
            for end in End
        },
    )


def _softest():
    setup = setup_measured()
    for end in End:
        setup = setup.with_pair(end, bump=0, rebound=0)
    return setup


def test_a_damper_without_clicks_gets_no_advice_on_clicks():
    fixed = DamperSide(most_clicks=0, clicks=(0,), ratios=(0.35,))
    found = which_clicks(CAR, _all_dampers(CHASSIS, fixed), _softest())
    said = " ".join((found.answer.sentence, found.answer.next_thing, *found.answer.why))
    assert "valving" not in said and "no clicks to turn" in said
    assert found.answer.verdict is Verdict.NOT_PROVEN


def test_a_guessed_ratio_asks_for_no_other_valving():
    guessed = DamperSide(most_clicks=8, clicks=(0, 8), ratios=(0.05, 0.06))
    found = which_clicks(CAR, _all_dampers(CHASSIS, guessed), _softest())
    assert not any("valving" in why for why in found.answer.why)


def test_a_damper_known_by_name_only_is_unknown_and_says_what_to_do():
    nameless = DamperSide(most_clicks=8, clicks=(0,))
    found = which_clicks(CAR, _all_dampers(CHASSIS, nameless), _softest())
    assert found.answer.verdict is Verdict.NOT_PROVEN and found.now is None
    assert "unknown" in found.answer.sentence and "measured" in found.answer.next_thing


def test_a_knob_that_does_not_matter_comes_first_and_ratios_say_whose_they_are():
    found = asked(demo_bench().setup("dry"))
    whys = " ".join(found.answer.why)
    assert "As set now: damping ratio" in whys and "With the clicks recommended for dry circuit" in whys
    wide = next(each for each in found.answer.why if each.startswith("One knob at a time"))
    for end in End:
        damper = next(iter(demo_bench().chassis.at(end).dampers))
        for knob, side in (("bump", damper.bump), ("rebound", damper.rebound)):
            is_all = f"{end} {knob} {side.clicks[0]} to {side.clicks[-1]}" in wide
            words = f"{end.value.capitalize()} {knob} does not matter here"
            assert (words in found.answer.sentence) == (is_all and side.most_clicks > 0)
    assert found.answer.sentence.startswith("Front bump does not matter here: 0 to 16 are as good.")
