"""The answer about the cage: never a bare yes, never a word of homologation as given."""

import dataclasses

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cages import DEMO, STEEL, cage_of, template
from tintop.answer import Verdict
from tintop.car.cage import CageLoad, Case, Fixing, KnownHow, NodeForce
from tintop.car.cage_loads import standard_loads
from tintop.errors import BadInput
from tintop.known import Origin
from tintop.questions.will_the_cage_hold import CAUTIONS, spoken_for, will_the_cage_hold, written_times
from tintop.store.documents.cage_reader import read_cage

CAGE = cage_of(template(roof_diagonals=2), car_mass=300.0)
REMEMBERED = standard_loads(CAGE)  # 33.75 kN on the hoop, 15.75 kN on the front


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
    return (*REMEMBERED, *mine)


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
    answer = will_the_cage_hold(CAGE, (*standard_loads(CAGE), own(Case.LATERAL, 100.0))).answer
    assert answer.verdict is Verdict.NOT_PROVEN
    heavy = dataclasses.replace(CAGE, car_mass=1500.0)
    answer = will_the_cage_hold(heavy, (*standard_loads(heavy), own(Case.LATERAL, 100.0))).answer
    assert answer.verdict is Verdict.NO
    assert answer.sentence.startswith("No, unverified: ") and "known from memory" in answer.sentence


def test_all_figures_the_owners_own_is_found_never_yes():
    found = will_the_cage_hold(CAGE, all_own(34e3))
    assert found.answer.verdict is Verdict.FOUND
    assert "no certificate" in found.answer.sentence


def test_an_own_load_below_the_remembered_one_leaves_it_not_proven_and_is_said():
    found = will_the_cage_hold(CAGE, all_own(30e3)).answer
    assert found.verdict is Verdict.NOT_PROVEN
    assert "less is asked by your “main hoop, this year's book” than is remembered" in found.sentence
    assert any(
        "30.0 kN, is less than “main hoop from above” as remembered, 33.8 kN" in gap for gap in found.why
    )
    assert "“front, this year's book”" not in found.sentence


def test_an_own_load_that_presses_another_way_speaks_for_nothing():
    sideways = dataclasses.replace(own(Case.LATERAL, 60e3), case=Case.MAIN_HOOP, name="sideways")
    assert not spoken_for(REMEMBERED[0], (*REMEMBERED, sideways))
    assert spoken_for(REMEMBERED[0], (*REMEMBERED, own(Case.MAIN_HOOP, 33.75e3)))
    assert not spoken_for(REMEMBERED[0], (*REMEMBERED, own(Case.FRONT, 33.75e3)))


def test_small_own_loads_do_not_hide_a_remembered_one_that_gives_way():
    cage = cage_of(template(roof_diagonals=0, feet=Fixing.BOLTED))
    mine = (own(Case.MAIN_HOOP, 9e3), own(Case.FRONT, 4e3), own(Case.LATERAL, 1e3))
    found = will_the_cage_hold(cage, (*standard_loads(cage), *mine))
    assert found.answer.verdict is Verdict.NO
    assert "front corner on the driver's side" in found.answer.sentence
    assert found.answer.sentence.startswith("No, unverified")


def test_one_load_is_not_the_hardest_of_one():
    said = will_the_cage_hold(CAGE, (own(Case.LATERAL, 30e3),)).answer.sentence
    assert "the one load that decides, lateral" in said


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
    limit = will_the_cage_hold(CAGE, all_own(34e3, permitted=0.2))
    carried = min(result.limit.carries for result in limit.results if result.load.known is KnownHow.YOURS)
    most = 34e3 * carried
    assert will_the_cage_hold(CAGE, all_own(most / 1.05, permitted=0.2)).answer.verdict is Verdict.CLOSE
    too_much = will_the_cage_hold(CAGE, all_own(most * 1.05, permitted=0.2)).answer
    assert too_much.sentence.startswith("No: ")
    assert too_much.verdict is Verdict.NO
    assert "Do not race on this cage" in too_much.next_thing


def test_carried_but_farther_than_permitted_is_no():
    found = will_the_cage_hold(CAGE, all_own(5000.0, permitted=1e-6))
    assert found.answer.verdict is Verdict.NO
    judged = [each for each in found.judgements if each.applies and not each.holds]
    assert judged
    assert all("moves" in each.words and "permitted" in each.words for each in judged)


def test_a_load_for_comparison_decides_nothing():
    cage = dataclasses.replace(CAGE, car_mass=1050.0)
    mine = tuple(own(case, 5e3) for case in (Case.MAIN_HOOP, Case.FRONT, Case.LATERAL))
    found = will_the_cage_hold(cage, (*standard_loads(cage), *mine))
    compared = [each for each in found.judgements if not each.applies]
    assert any(not each.holds for each in compared)
    assert all(load not in found.answer.sentence for load in (each.load for each in compared))
    assert all("for comparison only" in each.words for each in compared)


def test_no_load_is_refused():
    with pytest.raises(BadInput, match="no proof load that decides"):
        will_the_cage_hold(CAGE, ())


def test_a_multiple_is_never_rounded_up():
    assert written_times(0.99999) == "0.99"
    assert written_times(1.0) == "1.00"
    assert written_times(1.119) == "1.11"
