"""The answer about the cage: never a bare yes, never a word of homologation as given."""

import dataclasses

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cages import DEMO, STEEL, cage_of, template
from tintop.answer import Verdict
from tintop.car.cage import CageLoad, Case, KnownHow, NodeForce
from tintop.car.cage_loads import standard_loads, with_own
from tintop.errors import BadInput
from tintop.known import Origin
from tintop.questions.will_the_cage_hold import CAUTIONS, will_the_cage_hold, written_times
from tintop.store.documents.cage_reader import read_cage

CAGE = cage_of(template(roof_diagonals=2))


def own(case: Case, force: float, permitted: float | None = 0.05) -> CageLoad:
    node, way = {
        Case.MAIN_HOOP: ("hoop top left", (0.0, 0.0, -1.0)),
        Case.FRONT: ("screen top right", (0.0, 0.0, -1.0)),
        Case.LATERAL: ("hoop shoulder right", (0.0, 1.0, 0.0)),
    }[case]
    return CageLoad(
        name=f"{case.value}, this year's book",
        case=case,
        forces=(NodeForce(node=node, force=tuple(force * each for each in way)),),
        axes=(way,),
        permitted_deflection=permitted,
        known=KnownHow.YOURS,
        source="the book in hand",
    )


def all_own(force: float, permitted: float | None = 0.05) -> tuple[CageLoad, ...]:
    mine = tuple(own(case, force, permitted) for case in (Case.MAIN_HOOP, Case.FRONT, Case.LATERAL))
    return with_own(standard_loads(CAGE), mine)


def test_the_demo_is_not_proven_and_says_why():
    described = read_cage(DEMO)
    found = will_the_cage_hold(described.cage, described.loads)
    answer = found.answer
    assert answer.verdict is Verdict.NOT_PROVEN
    assert answer.sentence.startswith("Not proven")
    assert any("from memory only" in reason for reason in answer.why)
    assert any("no lateral load was entered" in reason for reason in answer.why)
    assert "lateral" in answer.next_thing
    assert answer.cautions == CAUTIONS
    assert "no substitute for an approved" in answer.cautions[0]
    assert [each.load for each in found.judgements] == [load.name for load in described.loads]
    assert found.mass == pytest.approx(sum(tube.mass for tube in found.tubes))
    for figure in answer.figures:
        assert figure.low <= figure.value <= figure.high
        assert figure.basis


def test_whatever_is_remembered_is_at_best_not_proven():
    loads = with_own(standard_loads(CAGE), (own(Case.LATERAL, 100.0),))
    light = dataclasses.replace(CAGE, car_mass=300.0)
    answer = will_the_cage_hold(light, with_own(standard_loads(light), (own(Case.LATERAL, 100.0),))).answer
    assert answer.verdict is Verdict.NOT_PROVEN
    assert will_the_cage_hold(CAGE, loads).answer.verdict in (Verdict.NOT_PROVEN, Verdict.NO)


def test_all_figures_the_owners_own_is_found_never_yes():
    found = will_the_cage_hold(CAGE, all_own(5000.0))
    assert found.answer.verdict is Verdict.FOUND
    assert "no certificate" in found.answer.sentence


@settings(max_examples=4, deadline=None)
@given(st.floats(1e3, 2e5), st.sampled_from([0.05, None]), st.sampled_from(Origin))
def test_never_yes_and_never_a_word_of_approval(force, permitted, origin):
    cage = dataclasses.replace(CAGE, steel=dataclasses.replace(STEEL, origin=origin))
    answer = will_the_cage_hold(cage, all_own(force, permitted)).answer
    assert answer.verdict is not Verdict.YES
    if permitted is None or origin in (Origin.ESTIMATED, Origin.ASSUMED):
        assert answer.verdict in (Verdict.NOT_PROVEN, Verdict.NO)
    said = " ".join((answer.sentence, answer.next_thing, *answer.why)).casefold()
    for word in ("homologated", "certified", "passes", "legal", "safe"):
        assert word not in said


def test_little_in_hand_is_close_and_too_much_is_no():
    limit = will_the_cage_hold(CAGE, all_own(5000.0))
    carried = min(result.limit.carries for result in limit.results if result.load.known is KnownHow.YOURS)
    assert will_the_cage_hold(CAGE, all_own(5000.0 * carried / 1.05)).answer.verdict is Verdict.CLOSE
    too_much = will_the_cage_hold(CAGE, all_own(5000.0 * carried * 1.05)).answer
    assert too_much.verdict is Verdict.NO
    assert "Do not race on this cage" in too_much.next_thing


def test_carried_but_farther_than_permitted_is_no():
    found = will_the_cage_hold(CAGE, all_own(5000.0, permitted=1e-6))
    assert found.answer.verdict is Verdict.NO
    judged = [each for each in found.judgements if each.applies and not each.holds]
    assert judged
    assert all("moves" in each.words and "permitted" in each.words for each in judged)


def test_a_load_for_comparison_decides_nothing():
    found = will_the_cage_hold(CAGE, all_own(5000.0))
    compared = [each for each in found.judgements if not each.applies]
    assert any(not each.holds for each in compared)
    assert all("for comparison only" in each.words for each in compared)


def test_no_load_is_refused():
    with pytest.raises(BadInput, match="no proof load that decides"):
        will_the_cage_hold(CAGE, ())


def test_a_multiple_is_never_rounded_up():
    assert written_times(0.99999) == "0.99"
    assert written_times(1.0) == "1.00"
    assert written_times(1.119) == "1.11"
