"""The weighing answered: what is asked first, what is short at the finish, which perch turns."""

from dataclasses import replace
from datetime import date

import pytest

from benches import demo_bench
from tintop.answer import Verdict
from tintop.car.chassis import End
from tintop.car.on_scales import Lifted, OnScales
from tintop.errors import BadInput
from tintop.logbook.mass_balance import Foretold
from tintop.logbook.mass_ledger import CornerWeighing
from tintop.questions.what_does_it_weigh import Before, quarter_turns, what_does_it_weigh

SCALES = OnScales(loads=(343.5, 353.0, 220.5, 229.0), is_driver_aboard=True, fuel_volume=0.032)


def weighed(scales=SCALES, **more):
    bench = demo_bench()
    more = {"chassis": bench.chassis, "setup": bench.setup("dry"), **more}
    return what_does_it_weigh(scales, bench.described, **more)


def with_least(mass):
    return replace(demo_bench().chassis, least_mass=mass)


def earlier(loads, place="driver aboard, 32 L of fuel") -> CornerWeighing:
    total = sum(loads)
    return CornerWeighing(
        day=date(2026, 3, 27),
        place=place,
        loads=loads,
        total=total,
        front_share=(loads[0] + loads[1]) / total,
        left_share=(loads[0] + loads[2]) / total,
        cross_share=(loads[1] + loads[2]) / total,
        difference=None,
    )


def figure(found, name):
    return next(each for each in found.answer.figures if each.name.startswith(name))


def test_four_loads_are_total_shares_and_centre_each_with_its_range():
    found = weighed()
    assert found.answer.verdict is Verdict.FOUND and not found.asks
    assert figure(found, "total").value == pytest.approx(1146.0)
    cross = figure(found, "cross-weight")
    assert cross.value == pytest.approx(573.5 / 1146.0)
    assert cross.high - cross.value == pytest.approx(2.0 / 1146.0)
    behind = figure(found, "centre of gravity behind")
    assert behind.value == pytest.approx(2.558 * 449.5 / 1146.0)
    assert "50.0 %" in found.answer.sentence


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"is_driver_aboard": None}, "Was the driver aboard"),
        ({"fuel_volume": None}, "How much fuel"),
        ({"loads": (330.0, 340.0, 205.0, 215.0)}, "Is every scale right"),
        ({"loads": (220.5, 229.0, 343.5, 353.0)}, "front and rear taken for each other"),
    ],
)
def test_what_does_not_fit_is_asked_before_it_counts(changed, words):
    found = weighed(replace(SCALES, **changed))
    assert found.answer.verdict is Verdict.NOT_PROVEN
    assert any(words in each for each in found.asks)
    assert found.answer.next_thing == found.asks[0]


def test_left_and_right_swapped_is_asked_by_the_loads_before():
    usual = (340.0, 356.0, 215.0, 235.0)
    before = Before(last=earlier(usual))
    swapped = replace(SCALES, loads=(356.0, 340.0, 235.0, 215.0))
    assert any("left and right" in each for each in weighed(swapped, before=before).asks)
    assert not weighed(replace(SCALES, loads=usual), before=before).asks
    assert not weighed(swapped, before=Before(last=earlier(swapped.loads))).asks


def test_left_and_right_swapped_is_asked_by_the_driver_without_loads_before():
    swapped = replace(SCALES, loads=(360.0, 336.0, 240.0, 210.0))
    assert any(
        "The driver sits on the right" in e for e in weighed(swapped, before=Before(driver_side="right")).asks
    )
    assert not weighed(swapped, before=Before(driver_side="left")).asks


def test_under_the_least_mass_with_the_fuel_burnt_says_no_and_what_to_bolt_where():
    found = weighed(chassis=with_least(1135.0))
    assert found.answer.verdict is Verdict.NO
    assert found.ballast.at_finish == pytest.approx(1146.0 - 32.0 * 0.748)
    assert found.answer.next_thing.startswith("Bolt in ")
    assert "scrutineer" in found.answer.next_thing
    saved = weighed(chassis=with_least(1135.0), finish_fuel=0.02)
    assert saved.answer.verdict is not Verdict.NO


def test_over_it_by_less_than_the_scales_know_is_close():
    at_finish = 1146.0 - 32.0 * 0.748
    assert weighed(chassis=with_least(at_finish - 2.0)).answer.verdict is Verdict.CLOSE
    assert weighed(chassis=with_least(at_finish - 5.0)).answer.verdict is Verdict.FOUND


def test_the_driver_left_out_is_added_for_the_finish():
    alone = OnScales(loads=(318.0, 325.0, 208.0, 211.0), is_driver_aboard=False, fuel_volume=0.032)
    found = weighed(alone)
    assert found.ballast.at_finish == pytest.approx(1062.0 + 84.0 - 32.0 * 0.748)
    assert found.ballast.doubt > alone.total_doubt


def test_cross_weight_off_is_turned_back_with_the_bars_unhooked():
    skewed = replace(SCALES, loads=(361.0, 335.5, 203.0, 246.5))
    found = weighed(skewed)
    assert found.turns.before < 0.48
    assert found.turns.after == pytest.approx(0.5, abs=2e-3)
    assert "FR up" in found.answer.next_thing and "Unhook a bar drop link first" in found.answer.next_thing
    assert "near enough" in weighed().answer.next_thing


def test_without_a_chassis_there_are_shares_and_no_turns():
    found = what_does_it_weigh(SCALES, demo_bench().described)
    assert found.turns is None and "Describe chassis" in found.turns_sentence
    assert found.ballast is None and "least_mass" in found.ballast_sentence
    assert found.answer.verdict is Verdict.FOUND


def test_a_raised_axle_gives_the_height_and_says_what_doubts_it():
    lifted = Lifted(raised=End.REAR, down=(353.0, 362.5), lift=0.4)
    found = weighed(lifted=lifted)
    height = figure(found, "height")
    assert 0.4 < height.value < 0.6 and height.low < height.value < height.high
    assert any("in doubt most by scales" in each for each in found.answer.why)
    assert figure(weighed(), "height").basis.startswith("the car's document")


def test_the_ledger_is_held_against_the_scales():
    told = Foretold(
        since=date(2026, 3, 27), mass=1141.0, mass_doubt=2.2, x=-1.0, y=0.0, x_doubt=0.01, y_doubt=0.01,
        changed=3, without_mass=("Heater",), without_place=("Ballast",),
    )  # fmt: skip
    words = " ".join(weighed(before=Before(foretold=told)).answer.why)
    assert "should weigh 1141.0 kg; the scales say +5.0 kg, within the doubt" in words
    assert "should lie 1000 mm behind the front axle; the scales say +3 mm (± 20 mm)" in words
    assert "never weighed: Heater" in words and "place not written: Ballast" in words
    off = " ".join(weighed(before=Before(foretold=replace(told, mass=1130.0))).answer.why)
    assert "more than the doubt explains" in off


def test_the_logbooks_own_loads_are_carried_on_to_today():
    told = Foretold(
        since=date(2026, 3, 27), mass=1150.0, mass_doubt=2.2, x=-1.004, y=0.0, x_doubt=0.01, y_doubt=0.01,
        changed=2, without_mass=(), without_place=(),
    )  # fmt: skip
    words = " ".join(weighed(before=Before(read_on=date(2026, 3, 27), now=told)).answer.why)
    assert "read on 2026-03-27; by 2 changes of weighed parts since it weighs 1150.0 kg now" in words


def test_loads_in_pounds_are_refused():
    with pytest.raises(BadInput, match="pounds"):
        weighed(OnScales(loads=(757.0, 778.0, 486.0, 505.0), is_driver_aboard=True, fuel_volume=0.032))


@pytest.mark.parametrize(
    ("turns", "words"),
    [
        (0.0, "stays"),
        (0.25, "up ¼ turn"),
        (-0.75, "down ¾ turn"),
        (1.0, "up 1 turn"),
        (-2.5, "down 2½ turns"),
    ],
)
def test_turns_as_a_mechanic_says_them(turns, words):
    assert quarter_turns(turns) == words


def test_raising_and_ballast_are_cautioned():
    words = " ".join(weighed().answer.cautions)
    for each in ("chock", "never anybody under", "scrutineer", "torque again"):
        assert each in words


def test_without_a_set_up_it_says_to_name_one_not_to_describe_what_is_there():
    found = weighed(setup=None)
    assert "Name one: --setup" in found.turns_sentence and "Describe chassis" not in found.turns_sentence
