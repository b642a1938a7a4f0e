import dataclasses
import math

import pytest

from tintop.errors import BadInput
from tintop.proof.cases import Tolerance, run_case
from tintop.proof.runs import RUNS
from tintop.store.cases import read_cases

CASES = {case.id: case for case in read_cases()}


def test_the_case_library_is_as_large_as_promised():
    assert len(CASES) >= 45


@pytest.mark.parametrize("case_id", CASES)
def test_every_published_case_comes_out_within_its_tolerance(case_id):
    outcomes = run_case(CASES[case_id])
    assert outcomes
    assert [o for o in outcomes if not o.ok] == []


@pytest.mark.parametrize("case_id", CASES)
def test_every_case_says_where_it_comes_from(case_id):
    case = CASES[case_id]
    assert case.source.strip()
    ways = ("read", "inputs read", "from memory", "closed form", "numerical reference")
    assert case.provenance.startswith(ways)
    assert ("from memory" in case.source) or not case.provenance.startswith("from memory")


def _spoiled(expected):
    """The same expected answers, the first number moved by a tenth, or by one where it is nought."""
    for name, value in expected.items():
        if isinstance(value, dict):
            return {**expected, name: _spoiled(value)}
        if isinstance(value, list) and not isinstance(value[0], (list, str)):
            return {**expected, name: [1.1 * value[0] or 1.0, *value[1:]]}
        if isinstance(value, (int, float)):
            return {**expected, name: 1.1 * value or 1.0}
    raise AssertionError("a case without numbers")


@pytest.mark.parametrize("case_id", [c for c in CASES if c not in {"V8-10"}])
def test_a_wrong_expected_value_is_reported_wrong(case_id):
    case = CASES[case_id]
    outcomes = run_case(dataclasses.replace(case, expected=_spoiled(case.expected)))
    assert sum(not o.ok for o in outcomes) == 1


def test_a_wrong_word_is_reported_wrong():
    case = dataclasses.replace(CASES["V2-02"], expected={"handling": "oversteer"})
    (outcome,) = run_case(case)
    assert not outcome.ok
    assert outcome.computed == "understeer"


def test_not_a_number_is_never_within_tolerance():
    assert not Tolerance(relative=1.0, absolute=1e9).admits(1.0, math.nan)
    assert not Tolerance(relative=1.0).admits(math.nan, 1.0)


def test_an_unknown_run_is_refused_by_name():
    with pytest.raises(BadInput, match="case V1-01 run: found no_such_run"):
        run_case(dataclasses.replace(CASES["V1-01"], run="no_such_run"))


def test_a_quantity_nobody_computes_is_refused():
    with pytest.raises(BadInput, match="case V7-07 v_knots"):
        run_case(dataclasses.replace(CASES["V7-07"], expected={"v_knots": 1.0}))


def test_no_run_is_left_without_a_case():
    named = {case.run for case in CASES.values()}
    assert {run for run in RUNS if not run.startswith("lap_")} <= named
