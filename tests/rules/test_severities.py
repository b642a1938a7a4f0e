"""Clauses of mixed severities on one matter: the milder one never hides the one that stops the car."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inspections import EVENT, book_text, clause_text, fact_text, found, proven, stack_of
from tintop.reports.inspection_sheet import exit_code
from tintop.rules.book import Severity
from tintop.rules.evidence import Evidence
from tintop.rules.findings import Inspection, Ruling
from tintop.rules.inspect import inspect

HEIGHT = fact_text("a.height", "number", 'quantity = "length"\nunit = "mm"')
SOUND = fact_text("a.is_sound", "yes or no")
LENGTH = fact_text("a.length", "number", 'quantity = "length"\nunit = "mm"')
LIMIT = 'value = "a.height"\nat_least = "60 mm"'


def under(written: dict[str, str], base: tuple[str, str, str], above: tuple[str, str, str] | None):
    """Inspected under a base clause and one that tightens it, each as body, severity, how it is known."""
    texts = [book_text(HEIGHT, SOUND, LENGTH, clause_text("rule", *base), id="base")]
    if above is not None:
        body, severity, known = above
        body = f'{body}\ntightens = "base:rule"'
        texts.append(book_text(clause_text("more", body, severity, known), id="top", builds_on=("base",)))
    stack, facts = stack_of(*texts)
    evidence = proven(facts, written) if written else Evidence(proven={}, fallen={})
    return inspect(stack, facts, evidence, EVENT, EVENT)


@pytest.mark.parametrize(
    ("written", "above", "code", "ruling"),
    [
        ({"a.height": "55 mm"}, 'value = "a.height"\nat_least = "70 mm"', 1, Ruling.FAIL),
        ({"a.height": "55 mm"}, 'holds = "a.is_sound"', 1, Ruling.FAIL),
        ({"a.height": "55 mm", "a.is_sound": "no"}, 'holds = "a.is_sound"', 1, Ruling.FAIL),
        ({"a.is_sound": "no"}, 'holds = "a.is_sound"', 3, Ruling.NOT_PROVEN),
        ({"a.height": "65 mm"}, 'value = "a.height"\nat_least = "70 mm"', 0, Ruling.FAIL),
    ],
)
@pytest.mark.parametrize("severity", [Severity.MEND, Severity.ADVICE])
def test_a_milder_clause_that_tightens_hides_nothing_that_stops(written, above, code, ruling, severity):
    inspection = under(written, (LIMIT, "stops you racing", "own"), (above, severity, "own"))
    finding = found(inspection, "rule")
    assert exit_code(inspection) == code
    if severity is Severity.MEND or code:
        assert finding.ruling is ruling
    assert finding.stops_racing == (code == 1) and finding.leaves_open == (code == 3)
    if code:
        assert finding.decided_by == "base:rule" and finding.clause.severity is Severity.STOPS


def test_what_is_missed_beside_what_may_stop_is_said_too():
    mild = ('holds = "a.is_sound"', "must be mended", "own")
    finding = found(under({"a.is_sound": "no"}, (LIMIT, "stops you racing", "own"), mild), "rule")
    assert "not recorded: height" in finding.reason and "more: is_sound: no" in finding.reason


severities = st.sampled_from([severity.value for severity in Severity])
bodies = st.sampled_from(
    [
        LIMIT,
        'value = "a.height"\nat_least = "80 mm"',
        'value = "a.height"\nrecommended_at_least = "80 mm"',
        'value = "a.length"\nat_most = "100 mm"',
        'holds = "a.is_sound"',
        f'applies_if = "a.is_sound"\n{LIMIT}',
        f'photograph = true\n{LIMIT}',
    ]
)  # fmt: skip
clauses = st.tuples(bodies, severities, st.sampled_from(["own", "memory"]))
records = st.fixed_dictionaries(
    {},
    optional={
        "a.height": st.sampled_from(["55 mm", "60 mm", "70 mm", "90 mm"]),
        "a.length": st.sampled_from(["90 mm", "110 mm"]),
        "a.is_sound": st.sampled_from(["yes", "no"]),
    },
)
ORDER = (1, 3, 0)


@given(records, clauses, clauses)
def test_no_clause_that_tightens_ever_makes_the_outcome_milder(written, base, above):
    alone, both = exit_code(under(written, base, None)), exit_code(under(written, base, above))
    only_aside = all(
        finding.ruling is Ruling.NOT_APPLICABLE for finding in under(written, base, None).findings
    )
    assert ORDER.index(both) <= ORDER.index(alone) or only_aside


def test_where_nothing_applies_nothing_is_proven():
    inspection = under({"a.is_sound": "no"}, (f'applies_if = "a.is_sound"\n{LIMIT}', "advice", "own"), None)
    assert [finding.ruling for finding in inspection.findings] == [Ruling.NOT_APPLICABLE]
    assert exit_code(inspection) == 3
    nothing = Inspection(first_day=EVENT, last_day=EVENT, books=(), findings=(), cautions=())
    assert exit_code(nothing) == 3
