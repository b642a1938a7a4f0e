"""Set-ups and the way between them as sheets and as plain content."""

import json
from dataclasses import replace

import pytest

from benches import demo_bench
from paths import flat_path
from setups_by_hand import chassis_by_hand, setup_by_hand
from tintop.car.chassis import CORNERS
from tintop.car.lock_order import LockOrder
from tintop.garage.brakes import BrakesAsked, brakes_for
from tintop.lap.setup_effect import setup_effect
from tintop.lap.setup_gain import Confirmed
from tintop.questions.from_one_setup_to_another import from_one_setup_to_another
from tintop.reports.setup_sheet import (
    balance_words,
    changeover_content,
    changeover_sheet,
    gain_words,
    lock_words,
    setup_content,
    setup_sheet,
    setups_sheet,
    travel_words,
    wheel_rows,
)

UNITS = {"pressure": "bar"}
OVAL = flat_path("oval", [(150.0, 0.0), (125.0, 1 / 40.0)] * 2)


def _found(*, is_driven: bool):
    bench = demo_bench()
    car, a, b = bench.described.car, bench.setup("road"), bench.setup("dry")
    predicted = None
    if is_driven:
        before, after = (setup_effect(car, bench.chassis, one, OVAL, bench.weather()) for one in (a, b))
        predicted = Confirmed(before=before, after=after, low=0.1, high=0.9, doubts=())
    return from_one_setup_to_another(
        a, b, car, bench.chassis, units=UNITS, circuit="oval" if is_driven else "", predicted=predicted
    )


def test_the_list_says_what_is_on_the_car() -> None:
    sheet = setups_sheet(demo_bench().setups, "dry", {"old": "old.toml, line 3: nonsense"})
    assert sheet.sentences == ("6 set-ups. On the car: dry.", "old.toml, line 3: nonsense")
    assert [row[0] for row in sheet.tables[0].rows] == list(demo_bench().setups)
    assert "Nothing says" in setups_sheet({}, "", {}).sentences[0]


def test_one_set_up_wheel_by_wheel_in_the_owners_units() -> None:
    bench = demo_bench()
    wheels, ends, whole = setup_sheet(bench.setup("dry"), bench.chassis, UNITS, is_fitted=True).tables
    assert wheels.columns == ("", *CORNERS)
    rows = {row[0]: row[1:] for row in wheels.rows}
    assert rows["cold pressure"] == ("1.60 bar", "1.65 bar", "1.75 bar", "1.75 bar")
    assert rows["camber"][0] == "−2.90°" and rows["toe"][2].startswith("0.5 mm in")
    assert ["70 N/mm" in cell for cell in ends.rows[0][1:]] == [True, False]
    assert dict(whole.rows)["brake bias"] == "base setting (0 turns)"


def test_one_knob_has_one_row() -> None:
    setup, chassis = setup_by_hand(), chassis_by_hand()
    assert "bump clicks" not in [row[0] for row in wheel_rows(setup, chassis, UNITS)]
    half = replace(setup, front=replace(setup.front, damper="two knobs"))
    bump = next(row for row in wheel_rows(half, chassis, UNITS) if row[0] == "bump clicks")
    assert bump[1:] == ("4 from full soft", "4 from full soft", "one knob", "one knob")


def test_jobs_differences_and_what_is_predicted() -> None:
    bench = demo_bench()
    jobs, differing, predicted = changeover_sheet(_found(is_driven=True), bench.chassis, UNITS).tables
    assert [row[0] for row in jobs.rows] == [str(number) for number in range(1, len(jobs.rows) + 1)]
    assert ("camber", "FL", "−1.20°", "−2.90°") in [tuple(row) for row in differing.rows]
    names = [row[0] for row in predicted.rows]
    assert names[:3] == ["lap", "steady corner", "rear wheels lock, pads at their worst"]
    hot = {row[0]: row[2] for row in predicted.rows}["hot pressures against target, FL FR RL RR"]
    assert hot.endswith(" bar") and len(hot.split(", ")) == 4
    assert names[-1] == "rear inner edge lost in 1,000 km of road"
    alone = changeover_sheet(_found(is_driven=False), bench.chassis, UNITS).tables[2]
    assert [row[0].split()[1] for row in alone.rows] == ["inner", "inner"]


@pytest.mark.parametrize("name", ["road", "dry", "wet"])
def test_which_axle_locks_first_is_said_as_on_the_brakes_page(name: str) -> None:
    bench = demo_bench()
    setup = bench.setup(name)
    car, day = bench.described.car, bench.weather(setup.purpose)
    known = {**bench.described.known, **bench.chassis_known}
    effect = setup_effect(car, bench.chassis, setup, OVAL, day, known=known)
    said, answer = lock_words(effect.lock), brakes_for(bench, BrakesAsked(setup=name)).answer
    for words in (f"{100.0 * abs(effect.lock.margin):.1f} points", f"with {effect.lock.pads} pads"):
        assert words in said and words in answer.sentence
    assert ("not proven" in said) == ("NOT PROVEN" in answer.sentence)
    assert ("FIRST" in said) == answer.sentence.startswith("UNSAFE")
    assert effect.lock.verdict is answer.verdict


def test_a_rear_that_locks_first_and_a_stop_that_is_touched_are_said() -> None:
    assert lock_words(LockOrder(margin=-0.031)) == "FIRST, front share short by 3.1 points with working pads"
    assert lock_words(LockOrder(margin=0.01)) == "after the front by 1.0 points with working pads: close"
    assert travel_words(0.0038, UNITS) == "4 mm"
    assert travel_words(-0.0112, UNITS) == "touches the stop, 11 mm short"


@pytest.mark.parametrize("is_driven", [False, True])
def test_content_is_plain_and_says_the_same(is_driven: bool) -> None:
    found = _found(is_driven=is_driven)
    content = json.loads(json.dumps(changeover_content(found, demo_bench().chassis, UNITS)))
    assert content["sentence"] == found.answer.sentence
    assert len(content["jobs"]) == len(found.jobs) and content["minutes"] == found.minutes
    assert (content["predicted"] is not None) == is_driven
    assert gain_words(found) == ("" if not is_driven else gain_words(found))
    if is_driven:
        assert content["predicted"]["low"] == 0.1
        assert gain_words(found).endswith("(+0.10 to +0.90)")


def test_a_set_up_as_content_and_balance_in_words() -> None:
    bench = demo_bench()
    content = setup_content("dry", bench.setup("dry"), is_fitted=True)
    assert content["corners"]["FL"]["pressure_cold"] == pytest.approx(1.6e5)
    assert content["ends"]["rear"]["bar_hole"] == 3
    assert balance_words(0.02) == "understeer by 2.0 % of the limit"
    assert balance_words(-0.02).startswith("oversteer") and balance_words(0.001) == "neutral"


def test_a_sheet_says_the_share_the_turns_come_to_and_on_top_what_is_not_legal() -> None:
    bench = demo_bench()
    sheet = setup_sheet(
        bench.setup("wet"), bench.chassis, UNITS, is_fitted=False, not_legal="Too low.", front_share=0.774
    )
    assert sheet.sentences[0] == "Too low."
    assert dict(sheet.tables[2].rows)["brake bias"] == "4 turns to the rear of base, 77 % front"
