"""Readings made by hand, as the paddock brings them: what is to be turned, or measured again."""

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benches import demo_bench
from demo_cars import demo_lane
from tintop.answer import Verdict
from tintop.car.chassis import End, Item
from tintop.car.driver_words import said_from
from tintop.car.setup_ranges import value_of
from tintop.car.tread_rules import RULES
from tintop.car.treads import Tread, TreadReading
from tintop.errors import BadInput
from tintop.event import Weather
from tintop.lap.setup_effect import place_for
from tintop.questions.what_do_the_tyres_say import what_do_the_tyres_say
from tintop.reports.treads_sheet import treads_sheet

BENCH = demo_bench()
CAR, CHASSIS, DRY = BENCH.described.car, BENCH.chassis, BENCH.setup("dry")
PLACE = place_for(CAR, demo_lane(), Weather())
GOOD = (85.0, 82.0, 80.0)


def reading(fl=GOOD, fr=GOOD, rl=(78.0, 75.5, 74.0), rr=(77.0, 74.5, 73.0), says=(), **told):
    treads = tuple(Tread(inner=i, middle=m, outer=o) for i, m, o in (fl, fr, rl, rr))
    usual = {"laps": 7, "is_after_cool_down": False, "minutes_since_in": 1.5}
    return TreadReading(treads=treads, said=said_from(says), **{**usual, **told})


def ask(one, setup=DRY, chassis=CHASSIS):
    return what_do_the_tyres_say(CAR, chassis, setup, PLACE, one)


def wish(found):
    assert found.change is not None, found.answer.sentence
    return found.change.wish.item, found.change.wish.end, found.change.wish.step


CLEAR = {
    "front middle hot": (reading(fl=(82, 90, 80), fr=(82, 89, 81)), (Item.PRESSURE, End.FRONT, -1)),
    "front middle cool": (reading(fl=(88, 81, 85), fr=(87, 80, 85)), (Item.PRESSURE, End.FRONT, +1)),
    "rear middle hot": (reading(rl=(72, 81, 71), rr=(72, 80, 70)), (Item.PRESSURE, End.REAR, -1)),
    "front outer edge hot": (reading(fl=(80, 84, 89), fr=(80, 83, 87)), (Item.CAMBER, End.FRONT, -1)),
    "front inner edge far hotter": (reading(fl=(98, 90, 82), fr=(96, 89, 81)), (Item.CAMBER, End.FRONT, +1)),
    "mid-corner understeer": (reading(says=["mid slow understeer"]), (Item.BAR, None, 0)),
    "mid-corner oversteer": (reading(says=["mid oversteer"]), (Item.BAR, End.REAR, -1)),
    "oversteer on the brakes": (reading(says=["entry oversteer"]), (Item.BRAKE_BIAS, None, +1)),
    "understeer on the way in": (reading(says=["entry understeer"]), (Item.BUMP, End.FRONT, -1)),
    "pulls wide on the power": (reading(says=["exit understeer"]), (Item.REBOUND, End.FRONT, +1)),
    "steps out on the way out": (reading(says=["exit fast oversteer"]), (Item.BUMP, End.REAR, -1)),
    "hot pressure over its target": (
        reading(hot=(2.35e5, 2.35e5, 2.15e5, 2.15e5)), (Item.PRESSURE, End.FRONT, -1),
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", [name for name in CLEAR if name != "mid-corner understeer"])
def test_a_clear_reading_gives_its_one_change(name):
    one, expected = CLEAR[name]
    found = ask(one)
    assert wish(found) == expected
    assert found.answer.verdict is Verdict.FOUND
    assert found.answer.next_thing.startswith("Set ")
    assert "Change nothing else" in found.answer.next_thing


def test_with_the_rear_bar_at_its_stiffest_understeer_asks_the_next_best_and_says_why():
    """The demo's rear bar is in its last hole and its front bar has one."""
    found = ask(CLEAR["mid-corner understeer"][0])
    assert wish(found) == (Item.CAMBER, End.FRONT, -1)
    whys = " ".join(found.answer.why)
    assert "the rear anti-roll bar is at the end of its room" in whys
    assert "no adjuster for the front anti-roll bar is written" in whys


def test_with_a_hole_left_understeer_goes_to_the_rear_bar():
    softer = replace(DRY, rear=replace(DRY.rear, bar_hole=1))
    found = ask(CLEAR["mid-corner understeer"][0], softer)
    assert wish(found) == (Item.BAR, End.REAR, +1)
    assert found.change.after == (2.0,)
    assert found.change.balance < 0.0  # towards oversteer, by the lap model
    assert found.second is not None


def test_camber_comes_in_millimetres_at_the_strut_top_with_toe_and_turns():
    words = ask(CLEAR["front outer edge hot"][0]).answer.next_thing
    for each in ("−2.9° to −3.4°", "strut tops 5.", "mm in", "track rods", "turn shorter", "strings"):
        assert each in words


def test_a_tread_far_out_moves_the_camber_further_and_says_why():
    found = ask(reading(fl=(101, 88, 76), fr=(98, 86, 75)))
    before, after = found.change.before[0], found.change.after[0]
    assert math.degrees(after - before) == pytest.approx(0.7, abs=0.051)
    assert any("at once because of 25 K inner over outer" in one for one in found.answer.why)
    assert [row[2] for row in treads_sheet(found).tables[1].rows if row[1] == "camber"] == ["less negative"]
    little = ask(reading(fl=(94, 88, 82), fr=(92, 87, 82)))
    assert math.degrees(little.change.after[0] - little.change.before[0]) == pytest.approx(0.3, abs=0.051)
    assert not any("at once" in one for one in little.answer.why)


def test_a_camber_whose_room_ends_goes_to_its_end_and_says_so():
    found = ask(reading(fl=(70, 80, 87), fr=(72, 80, 86)))
    assert math.degrees(found.change.after[0]) == pytest.approx(-3.4, abs=0.01)
    assert any("the adjuster's room ends" in one for one in found.answer.why)
    assert [row[2] for row in treads_sheet(found).tables[1].rows if row[1] == "camber"] == ["more negative"]


def test_pressure_goes_by_two_psi_to_the_nearest_place():
    found = ask(CLEAR["front middle hot"][0])
    assert found.change.after[0] - found.change.before[0] == pytest.approx(-0.15e5, abs=0.03e5)
    assert found.change.after[1] - found.change.after[0] == pytest.approx(0.05e5)  # left and right stay apart


AGAIN = {
    "after a cool-down lap": (reading(is_after_cool_down=True), "cool-down lap"),
    "six minutes after": (reading(minutes_since_in=6.0), "6 min after"),
    "three laps": (reading(laps=3), "too few"),
    "never warm": (reading((38, 37, 36), (38, 37, 36), (35, 34, 33), (34, 33, 32)), "too cold"),
    "left to right across the car": (
        reading((92, 86, 80), (80, 85, 91), (82, 78, 74), (73, 77, 81)), "mirrored",
    ),
    "outer first everywhere": (reading((78, 83, 90), (77, 82, 88), (70, 74, 79), (70, 73, 78)), "swapped"),
    "a slip of the pen": (reading(fl=(85, 28, 80)), "jumps by"),
    "cold and hot swapped": (
        reading(cold=(2.1e5, 2.1e5, 2.0e5, 2.0e5), hot=(1.6e5, 1.6e5, 1.6e5, 1.6e5)), "swapped",
    ),
    "left against right": (reading(fl=(82, 91, 80), fr=(88, 79, 86)), "contradict"),
    "both at once": (reading(says=["mid understeer", "mid oversteer"]), "both understeer and oversteer"),
}  # fmt: skip


@pytest.mark.parametrize("name", AGAIN)
def test_a_reading_not_to_be_acted_on_is_measured_again(name):
    one, says = AGAIN[name]
    found = ask(one)
    assert found.change is None
    assert found.answer.verdict is Verdict.NOT_PROVEN
    assert found.answer.sentence.startswith("Measure again")
    assert any(says in why for why in found.measure_again)
    assert "loaded side first" in found.answer.next_thing


def test_a_tyre_that_lost_air_comes_before_any_setup():
    found = ask(
        reading(fl=(82, 90, 80), cold=(1.6e5, 1.6e5, 1.75e5, 1.75e5), hot=(2.15e5, 1.8e5, 2.1e5, 2.1e5))
    )
    assert found.answer.verdict is Verdict.NO
    assert found.answer.sentence.startswith("FR is 0.35 bar below")
    assert found.change is None


def test_the_stopwatch_goes_before_the_treads():
    one = replace(
        CLEAR["front middle hot"][0], lap_before=96.1, lap_after=96.9, last_change="the softer rear bar"
    )
    assert ask(one).answer.sentence == (
        "Put the softer rear bar back: 0.80 s a lap slower since, whatever the treads say."
    )
    unnamed = ask(replace(one, last_change=""))
    assert any("stopwatch contradicts" in why for why in unnamed.answer.why)
    within = ask(replace(one, lap_after=96.25))
    assert any("does not contradict" in why for why in within.answer.why)


def test_evidence_that_pulls_apart_is_named_against():
    """Middle hot, while the gauge says there is too little air."""
    one = reading(fl=(82, 91, 80), fr=(82, 90, 81), hot=(2.0e5, 2.0e5, 2.15e5, 2.15e5))
    found = ask(one)
    assert wish(found) == (Item.PRESSURE, End.FRONT, -1)
    assert any("Against it: at the front hot pressure below" in why for why in found.answer.why)


def test_words_and_treads_that_agree_weigh_more():
    words = ask(reading(fl=(80, 84, 88), fr=(80, 83, 87), says=["mid understeer"]))
    alone = ask(reading(fl=(80, 84, 88), fr=(80, 83, 87)))
    assert wish(words) == wish(alone) == (Item.CAMBER, End.FRONT, -1)
    assert words.change.wish.weight > alone.change.wish.weight


def test_all_well_is_left_alone():
    found = ask(reading(says=["fine"]))
    assert found.change is None
    assert found.answer.sentence.startswith("Leave it")


def test_what_nobody_said_is_said():
    found = ask(reading(is_after_cool_down=None, minutes_since_in=None))
    assert any("nobody said so" in why for why in found.answer.why)


temperature = st.floats(60.0, 110.0)
tread = st.tuples(temperature, temperature, temperature)


@given(
    four=st.tuples(tread, tread, tread, tread),
    says=st.lists(
        st.sampled_from(["mid understeer", "entry oversteer", "exit fast oversteer", "mid slow oversteer"]),
        max_size=2, unique=True,
    ),
)  # fmt: skip
def test_it_never_asks_for_what_the_car_cannot_adjust(four, says):
    found = ask(reading(*four, says=says))
    for change in (found.change, found.second):
        if change is None:
            continue
        adjuster = next(
            one for one in CHASSIS.adjusters if one.item is change.wish.item and one.end is change.wish.end
        )
        at = float(value_of(change.setup, change.wish.item, change.wish.end))
        assert adjuster.low - 1e-9 <= at <= adjuster.high + 1e-9
        assert change.before != change.after


def test_no_rule_sends_the_brakes_rearwards():
    assert all(rule.step > 0 for rule in RULES if rule.item is Item.BRAKE_BIAS)


@pytest.mark.parametrize("text", ["mid", "wobbly", "understeer", "mid slow fast understeer", ""])
def test_words_that_are_none_are_refused_with_those_there_are(text):
    with pytest.raises(BadInput, match="entry, mid, exit"):
        said_from([text])


def test_it_says_whether_it_cures_what_the_driver_complains_of():
    for says, words in (
        (["mid oversteer"], "oversteer in mid-corner"),
        (["loose in"], "oversteer on the way in"),
    ):
        assert f"It is for the driver's {words}." in ask(reading(says=says)).answer.sentence
    found = ask(reading(fl=(82, 90, 80), fr=(82, 89, 81), says=["pushes on exit"]))
    assert wish(found)[0] is Item.PRESSURE
    assert "It is no cure for the driver's understeer on the way out" in found.answer.sentence
    assert any("The driver, as understood: understeer on the way out." in each for each in found.answer.why)
    second = next(each for each in found.answer.why if each.startswith("Second best"))
    assert "It is for the driver's understeer on the way out." in second and "(gained: " in second


def test_no_table_is_empty_and_no_second_best_is_said():
    quiet = ask(reading())
    assert not quiet.asked and all(table.rows for table in treads_sheet(quiet).tables)
    one = ask(reading(rl=(72, 81, 71), rr=(72, 80, 70)))
    if one.second is None:
        assert any(each.startswith("No second best") for each in one.answer.why)


def test_what_was_taken_with_other_tyres_is_not_judged():
    found = ask(replace(reading(fl=(82, 90, 80), fr=(82, 89, 81)), taken_with="other tyres (semi-slick)"))
    assert found.answer.verdict is Verdict.NOT_PROVEN and found.change is None
    assert "it was taken with other tyres (semi-slick)" in found.answer.sentence


def test_pressure_is_set_with_a_pump_whether_an_adjuster_is_written_or_not():
    bare = replace(CHASSIS, adjusters=())
    found = ask(CLEAR["front middle hot"][0], chassis=bare)
    assert wish(found) == (Item.PRESSURE, End.FRONT, -1)
    assert found.change.after[0] == pytest.approx(found.change.before[0] - found.change.wish.size, abs=1.0)
    other = ask(CLEAR["front outer edge hot"][0], chassis=bare)
    assert any(
        "no adjuster for the front camber is written in chassis.toml" in why for why in other.answer.why
    )
