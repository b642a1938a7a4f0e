"""Published cases for the tests: the same data that the product's own check reruns."""

from functools import cache

from tintop.proof.cases import Case, run_case
from tintop.store.cases import read_cases


@cache
def _cases() -> dict[str, Case]:
    return {case.id: case for case in read_cases()}


def check(case_id: str) -> None:
    """Fail with every number of a case that misses its stated tolerance."""
    missed = [outcome for outcome in run_case(_cases()[case_id]) if not outcome.ok]
    assert not missed, "\n".join(
        f"{m.id} {m.quantity}: expected {m.expected}, computed {m.computed}, {m.tolerance}" for m in missed
    )
