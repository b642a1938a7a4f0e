"""The cage for reading: a load from memory is never passed, feet and joints balance what the solver found."""

import dataclasses
import json
import math

import pytest

from cages import DEMO, cage_of, template
from tintop.answer import Verdict
from tintop.car.cage import KnownHow
from tintop.car.cage_loads import standard_loads
from tintop.known import Origin
from tintop.questions.will_the_cage_hold import CAUTIONS, will_the_cage_hold
from tintop.reports.answer_content import exit_code
from tintop.reports.cage_facts import drawn_facts
from tintop.reports.cage_sheet import (
    cage_content,
    cage_sheet,
    feet_most,
    gaps,
    hardest,
    joints_most,
    load_verdict,
    tube_uses,
)
from tintop.store.documents.cage_reader import read_cage

DESCRIBED = read_cage(DEMO)
FOUND = will_the_cage_hold(DESCRIBED.cage, DESCRIBED.loads)


def verdicts(found) -> dict[str, tuple[Verdict | None, str]]:
    return {
        result.load.name: load_verdict(found, result, judgement)
        for result, judgement in zip(found.results, found.judgements, strict=True)
    }


def test_no_load_from_memory_is_more_than_not_proven() -> None:
    for result in FOUND.results:
        verdict, words = verdicts(FOUND)[result.load.name]
        if not result.load.applies:
            assert verdict is None and "comparison only" in words
        elif result.load.known is KnownHow.MEMORY:
            assert verdict in (Verdict.NOT_PROVEN, Verdict.NO)
        assert verdict is not Verdict.YES


def test_a_load_that_is_not_carried_is_no_whoever_says_it() -> None:
    heavy = dataclasses.replace(DESCRIBED.cage, car_mass=2200.0)
    found = will_the_cage_hold(heavy, standard_loads(heavy))
    said = verdicts(found)
    assert said["main hoop from above"] == (Verdict.NO, "gives way; the load is from memory, unverified")
    assert exit_code(found.answer) == 1 and exit_code(FOUND.answer) == 3
    assert said["roof plate, left"][0] is not Verdict.NO
    stiff = tuple(dataclasses.replace(load, permitted_deflection=1e-4) for load in DESCRIBED.loads)
    assert verdicts(will_the_cage_hold(DESCRIBED.cage, stiff))["roof plate, left"] == (
        Verdict.NO,
        "moves too far",
    )


def test_steel_without_papers_and_a_load_without_a_limit_prove_nothing() -> None:
    steel = dataclasses.replace(DESCRIBED.cage.steel, origin=Origin.ESTIMATED)
    bare = dataclasses.replace(DESCRIBED.cage, steel=steel)
    found = will_the_cage_hold(bare, DESCRIBED.loads)
    assert verdicts(found)["roof plate, left"][0] is Verdict.NOT_PROVEN
    assert any("yield strength" in each for each in gaps(found))
    yours = tuple(
        dataclasses.replace(load, known=KnownHow.YOURS, permitted_deflection=None) for load in DESCRIBED.loads
    )
    found = will_the_cage_hold(DESCRIBED.cage, yours)
    assert verdicts(found)["roof plate, left"][0] is Verdict.NOT_PROVEN


def test_the_sheet_says_every_gap_and_every_caution() -> None:
    sheet = cage_sheet(FOUND)
    assert sheet.cautions == CAUTIONS
    said = " ".join(sheet.sentences)
    assert len(gaps(FOUND)) >= 2 and all(gap in said for gap in gaps(FOUND))
    loads, tubes, feet, sources, asked = sheet.tables
    assert len(asked.rows) == len(drawn_facts(FOUND.cage))
    assert len(loads.rows) == len(FOUND.results) and len(tubes.rows) == len(FOUND.tubes)
    assert len(feet.rows) == len(FOUND.cage.feet) and len(sources.rows) == len(loads.rows)
    assert sum(float(row[5]) for row in tubes.rows) == pytest.approx(FOUND.mass, abs=0.1)


def test_the_feet_together_hold_what_presses_on_the_cage() -> None:
    one = tuple(load for load in DESCRIBED.loads if load.name == "main hoop from above")
    found = will_the_cage_hold(DESCRIBED.cage, one)
    feet = feet_most(found)
    assert sum(foot.down - foot.up for foot in feet) == pytest.approx(-one[0].total[2], rel=1e-9)
    assert {foot.load for foot in feet} == {one[0].name}
    for foot, reaction in zip(feet, found.results[0].reactions, strict=True):
        assert foot.moment == pytest.approx(math.hypot(*reaction.moment))


def test_a_bolted_joint_lists_what_passes_and_a_welded_cage_none() -> None:
    assert joints_most(FOUND) == ()
    cage = cage_of(template(bolted_door_bars=True))
    found = will_the_cage_hold(cage, standard_loads(cage))
    joints = joints_most(found)
    assert len(joints) == 8
    assert max(max(joint.pull, joint.push) for joint in joints) > 0.0
    assert "Bolted joints" in " ".join(table.title for table in cage_sheet(found).tables)


def test_the_most_used_tube_is_the_weakest_of_the_loads_that_decide() -> None:
    most = max(tube_uses(FOUND).values())
    assert most[0] == max(result.weakest.use for result in FOUND.results if result.load.applies)
    assert hardest(FOUND).limit.carries == min(
        result.limit.carries for result in FOUND.results if result.load.applies
    )


def test_the_content_is_json_and_whole() -> None:
    content = json.loads(json.dumps(cage_content(FOUND)))
    assert content["verdict"] == "not proven" and content["cautions"] == list(CAUTIONS)
    assert [each["load"] for each in content["loads"]] == [load.name for load in DESCRIBED.loads]
    assert content["not_proven"] == list(gaps(FOUND))
    for load in content["loads"]:
        down = sum(each["force_n"][2] for each in load["reactions"])
        assert down == pytest.approx(-load["force_n"][2], rel=1e-9)
        assert load["times_carried"] > 0.0 and load["weakest"]["use"] > 0.0
