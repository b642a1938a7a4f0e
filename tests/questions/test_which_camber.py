"""Which camber: sentences that follow from the numbers, and refusals."""

import math

import pytest

from benches import demo_bench
from demo_cars import demo_circuit, demo_lane
from tintop.answer import Verdict
from tintop.car.camber_by_treads import CamberByTreads
from tintop.car.chassis import End
from tintop.errors import BadInput
from tintop.event import Weather
from tintop.lap.camber_choice import BEST_DOUBT, against_more
from tintop.questions.which_camber import which_camber
from tintop.reports.answer_content import exit_code
from tintop.reports.camber_sheet import camber_content, camber_sheet

BENCH = demo_bench()
CAR, CHASSIS, DRY = BENCH.described.car, BENCH.chassis, BENCH.setup("dry")


def ask(**changes):
    return which_camber(CAR, CHASSIS, DRY, demo_circuit(), demo_lane(), Weather(), **changes)


def test_what_is_not_known_of_the_tyre_leaves_the_gain_unproven_and_the_top_alone():
    loss = BENCH.described.known["tyre_front.camber_loss"].uncertainty
    found = ask(road_distance=180e3, loss_doubt=loss)
    assert found.choice.gain > 0.0 > found.choice.gain_low
    assert found.answer.verdict is Verdict.NOT_PROVEN
    assert exit_code(found.answer) == 3
    assert found.answer.next_thing.startswith("Leave it until the treads have spoken")


def test_a_tyre_well_known_gives_millimetres_toe_and_turns():
    found = ask(road_distance=180e3, best_doubt=BEST_DOUBT / 10.0)
    assert found.answer.verdict is Verdict.FOUND
    for words in ("Move both strut tops", "mm out", "track rods", "turn each, longer", "45 N·m"):
        assert words in found.answer.next_thing


def test_the_outer_shoulder_bounds_it_and_the_treads_win_in_words():
    found = ask(road_distance=1e3)
    assert any("outer shoulder, not in this lap model" in one for one in found.answer.why)
    treads = CamberByTreads(end=End.FRONT, way=0, lean=5.0, session="the trophy race")
    told = ask(road_distance=1e3, treads=treads)
    assert told.answer.sentence.endswith("The logged treads say leave it, and they win over the lap model.")
    assert "the treads of the trophy race say leave it" in told.answer.why[0]
    assert told.answer.next_thing.startswith("Leave the camber")


def test_the_moved_top_is_the_setup_that_is_driven():
    found = ask(top_inward=0.004)
    assert found.move is not None
    by = found.setup.corners[0].camber - DRY.corners[0].camber
    assert by == pytest.approx(found.move.camber_with_toe_back)
    assert math.radians(-0.5) < by < math.radians(-0.3)
    assert found.setup.corners[2] == DRY.corners[2]
    assert "track rods" in found.answer.next_thing


def test_a_limit_that_no_camber_keeps_is_a_no():
    found = ask(limit=1e-6)
    assert found.answer.verdict is Verdict.NO
    assert "carry" in found.answer.sentence
    assert exit_code(found.answer) == 1


def test_a_beam_is_told_that_nothing_moves_it():
    assert "No way to move the camber of this end is written" in ask(end=End.REAR).answer.next_thing


def test_beyond_the_slots_is_refused_with_the_room():
    with pytest.raises(BadInput, match="-20 to 6 mm"):
        ask(top_inward=0.009)


def test_a_beam_has_no_top():
    with pytest.raises(BadInput, match="strut top"):
        ask(end=End.REAR, top_inward=0.002)


def test_every_figure_has_its_basis_and_every_range_its_value():
    for end in End:
        for figure in ask(end=end).answer.figures:
            assert figure.basis
            assert figure.low <= figure.value <= figure.high


def test_sheet_and_content_tell_the_same():
    found = ask(top_inward=0.002)
    sheet, content = camber_sheet(found), camber_content(found)
    assert sheet.sentences[0] == content["sentence"]
    assert len(sheet.tables[2].rows) == len(content["corners"]) == len(demo_circuit().corners)
    assert content["top_moved"]["inward"] == 0.002
    assert max(pose["residual"] for pose in content["bump"]) < 1e-9


def test_curves_count_from_the_wheel_as_it_stands_at_its_height():
    road = which_camber(CAR, CHASSIS, BENCH.setup("road"), demo_circuit(), demo_lane(), Weather())
    travels = [pose.travel for pose in road.curve]
    lowered = -0.008
    assert travels[0] == pytest.approx(-CHASSIS.front.droop_travel - lowered)
    at = min(road.curve, key=lambda pose: abs(pose.travel))
    assert abs(at.camber - at.travel * at.camber_rate) < math.radians(0.01)
    assert road.rest.travel == pytest.approx(lowered)


def test_the_first_sentence_says_why_the_lap_wants_less_than_the_outer_wheel():
    found = ask(road_distance=1e3)
    outer, best = found.on_lap.front.outer, found.on_lap.front.best
    quickest = min((found.choice.now, *found.choice.steps), key=lambda step: step.lap_time)
    assert outer - best > math.radians(0.1) and quickest.camber >= found.choice.now.camber
    assert "costs the inner wheel, and both in braking and traction" in found.answer.sentence
    assert not against_more(best, best, found.choice)
