"""The best set-up on the demo's car: what is suggested holds, gains by whole laps, and is put in words."""

from dataclasses import replace

import pytest

from short_benches import SHORT, short_bench
from tintop.answer import Verdict
from tintop.car.camber_by_treads import CamberByTreads
from tintop.car.chassis import End, Item
from tintop.car.setup_ranges import with_value
from tintop.garage.brakes import BrakesAsked, brakes_for
from tintop.garage.setup_effects import line_of
from tintop.lap.setup_search import LAP_NOISE
from tintop.questions.best_setup import Legality, best_setup
from tintop.reports.suggest_sheet import suggest_sheet

BENCH = short_bench()
LINE = line_of(BENCH, SHORT)


def asked(setup, wanted=("front camber", "rear anti-roll bar", "front cold pressure"), **more):
    weather = BENCH.weather(setup.purpose)
    return best_setup(
        BENCH.described,
        BENCH.chassis,
        setup,
        LINE,
        weather,
        "Short",
        chassis_known=BENCH.chassis_known,
        wanted=wanted,
        **more,
    )


@pytest.fixture(scope="module")
def from_bad():
    """From a set-up nobody would drive: far too little pressure and the rear bar unhooked."""
    bad = with_value(BENCH.chassis, BENCH.setup("dry"), Item.PRESSURE, End.FRONT, 1.3e5)
    return asked(with_value(BENCH.chassis, bad, Item.BAR, End.REAR, 0.0))


def test_what_is_suggested_is_quicker_by_whole_laps(from_bad):
    found = from_bad.confirmed
    assert found.gain > LAP_NOISE
    assert found.gain == pytest.approx(found.before.mean_lap_time - found.after.mean_lap_time)
    assert from_bad.searched.quick_gain == pytest.approx(found.gain, abs=0.06)
    assert found.low <= found.gain <= found.high


def test_it_stays_within_what_can_be_adjusted_and_keeps_its_balance(from_bad):
    for change in from_bad.searched.changes:
        assert change.after in change.range.places
    assert from_bad.confirmed.after.limit.balance >= 0.01
    untouched = {"front springs", "brake bias", "rear ride height"}
    assert untouched.isdisjoint(change.range.name for change in from_bad.searched.changes)


def test_the_answer_says_both_figures_the_changes_and_what_was_not_checked(from_bad):
    answer = from_bad.answer
    names = {figure.name: figure for figure in answer.figures}
    assert names["gain by whole laps"].value == from_bad.confirmed.gain
    assert names["gain by the search's quick laps"].value == from_bad.searched.quick_gain
    assert any("front cold pressure 18.9 psi to" in why for why in answer.why)
    assert any("Legality not checked" in caution for caution in answer.cautions)
    assert answer.next_thing


def test_searched_again_from_what_was_suggested_there_is_nothing_to_turn(from_bad):
    again = asked(from_bad.setup)
    assert again.confirmed.gain < 0.03
    assert again.answer.verdict in (Verdict.NO, Verdict.NOT_PROVEN)
    if again.answer.verdict is Verdict.NO:
        assert "nothing worth turning" in again.answer.sentence


def test_a_window_of_balance_is_kept():
    found = asked(BENCH.setup("dry"), wanted=("rear anti-roll bar",), balance=(0.0, 0.3))
    assert 0.0 <= found.confirmed.after.limit.balance <= 0.3
    tight = asked(BENCH.setup("dry"), wanted=("rear anti-roll bar",), balance=(0.12, None))
    assert tight.confirmed.after.limit.balance >= min(0.12, tight.confirmed.before.limit.balance) - 0.006


def test_a_height_the_rules_forbid_is_raised_and_told():
    sentence = "series regulations 4.6: raise it"
    legality = Legality(
        bounds={(Item.RIDE_HEIGHT, End.FRONT): (0.133, None)}, sentences=(sentence,), is_checked=True
    )
    found = asked(BENCH.setup("dry"), wanted=("front ride height",), legality=legality)
    (change,) = found.searched.changes
    assert change.after >= 0.133
    assert found.answer.verdict is Verdict.FOUND
    assert "not allowed as it is" in found.answer.sentence
    assert sentence in found.answer.cautions
    assert found.confirmed.gain < 0.0  # a higher car is slower, and is told so
    assert "slower" in found.answer.sentence


def test_the_treads_go_before_the_lap_and_it_is_said():
    treads = CamberByTreads(end=End.FRONT, way=-1, lean=-3.0, session="the trophy race")
    found = asked(BENCH.setup("dry"), treads=(treads,))
    assert found.setup.corners[0].camber == BENCH.setup("dry").corners[0].camber
    assert found.ranges.left_out["front camber"] == "the treads say more negative"
    words = "the treads of the trophy race say more negative (inner over outer −3 K)"
    assert words in found.answer.why[0]
    assert any(words in sentence for sentence in suggest_sheet([found]).sentences)


def test_no_outer_wheel_is_left_leaning_outwards():
    found = asked(BENCH.setup("dry"), wanted=("front camber",))
    ((end, before, after),) = found.outer
    assert end is End.FRONT and before < 0.0 and after <= 0.0
    assert any("outer shoulder, not in this lap model" in one for one in found.answer.why)
    assert any("outer shoulder" in sentence for sentence in suggest_sheet([found]).sentences)
    names = [figure.name for figure in found.answer.figures]
    assert "outer front wheel to the road at the hardest corners, as suggested" in names


def test_a_wet_set_up_is_judged_on_a_wet_road():
    found = asked(BENCH.setup("wet"), wanted=("front camber",))
    dry = asked(replace(BENCH.setup("wet"), purpose=BENCH.setup("dry").purpose), wanted=("front camber",))
    assert found.confirmed.before.lap_time > dry.confirmed.before.lap_time


@pytest.mark.parametrize("name", ["dry", "wet", "road"])
def test_the_bias_is_turned_as_far_as_the_brakes_answer_says(name):
    turns = brakes_for(BENCH, BrakesAsked(setup=name)).cases[0].turns
    found = asked(BENCH.setup(name), wanted=("brake bias",))
    assert found.setup.brake_bias_turns == turns.at or (turns.turns < 0.0 and not found.has_changes)
    assert found.confirmed.after.lock.verdict is turns.found.verdict
    assert any("little in hand" in one for one in found.answer.cautions) == (not turns.reached)


def test_a_rear_that_may_lock_first_is_told_where_the_bias_is_not_to_be_turned():
    found = asked(BENCH.setup("dry"), wanted=("front camber",))
    assert any("rear wheels may lock first" in one for one in found.answer.cautions)


def test_where_no_adjusters_are_written_it_is_unknown_and_nobody_is_told_to_drive():
    bare = best_setup(
        BENCH.described,
        replace(BENCH.chassis, adjusters=()),
        BENCH.setup("dry"),
        LINE,
        BENCH.weather(),
        "Short",
        chassis_known=BENCH.chassis_known,
    )
    assert bare.answer.verdict is Verdict.NOT_PROVEN
    assert bare.answer.sentence == "Short: unknown, for no adjusters are written in chassis.toml."
    assert "chassis.toml" in bare.answer.next_thing and "drive" not in bare.answer.next_thing


def test_what_was_not_judged_is_not_called_not_worth_turning():
    found = asked(BENCH.setup("dry"), wanted=("front toe",))
    assert found.answer.verdict is Verdict.NOT_PROVEN
    assert "nothing could be tried: front toe, what toe is for" in found.answer.sentence


def test_nobody_is_told_to_drive_on_a_bump_stop_or_a_rear_that_locks_first():
    low = BENCH.setup("dry").with_pair(End.FRONT, ride_height=0.05)
    for setup in (low, replace(BENCH.setup("dry"), brake_bias_turns=-12.0)):
        found = asked(setup, wanted=("front camber",))
        assert found.searched.still_broken
        assert "drive." not in found.answer.next_thing and "three laps" not in found.answer.next_thing
        assert "see " in found.answer.next_thing
