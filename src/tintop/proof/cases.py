"""Published cases: inputs and answers of the outside world, recomputed by the product's own formulae."""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from tintop.errors import refuse
from tintop.proof.figures import Inputs
from tintop.proof.runs import RUNS

Figure = float | str


@dataclass(frozen=True, slots=True, kw_only=True)
class Tolerance:
    """How far a computed number may lie from the expected: the larger of a share of it and a distance."""

    relative: float = 0.0
    absolute: float = 0.0

    def admits(self, expected: float, computed: float) -> bool:
        """Whether the computed number is near enough; NaN never is."""
        return abs(computed - expected) <= max(self.absolute, self.relative * abs(expected))

    def __str__(self) -> str:
        parts = [f"{100.0 * self.relative:g} %"] if self.relative else []
        parts += [f"±{self.absolute:g}"] if self.absolute else []
        return " or ".join(parts) or "exact"


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """One published case; `run` names the computation, `tolerances` those of single quantities."""

    id: str
    title: str
    source: str
    provenance: str
    run: str
    inputs: Inputs
    expected: Mapping[str, Any]
    tolerance: Tolerance
    tolerances: Mapping[str, Tolerance] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """One number of a case: `error` is a share of the expected, or a distance where that is 0 or text."""

    id: str
    source: str
    quantity: str
    expected: Figure
    computed: Figure
    error: float
    tolerance: str
    ok: bool


def run_case(case: Case) -> tuple[Outcome, ...]:
    """Recompute a case and give one outcome for every expected number.

    Raises BadInput for an unknown run, or for an expected quantity that the run does not compute.
    """
    if case.run not in RUNS:
        raise refuse(f"case {case.id} run", case.run, f"one of {', '.join(sorted(RUNS))}")
    computed = RUNS[case.run](case.inputs)
    return tuple(
        _compare(case, path, wanted, got) for path, wanted, got in _pairs(case, (), case.expected, computed)
    )


def _pairs(
    case: Case, path: tuple[str, ...], expected: Any, computed: Any
) -> Iterator[tuple[tuple[str, ...], Any, Any]]:
    where = f"case {case.id} {' '.join(path)}".rstrip()
    if isinstance(expected, Mapping):
        for name, value in expected.items():
            if not isinstance(computed, Mapping) or name not in computed:
                raise refuse(f"{where} {name}", f"nothing computed by {case.run}", "a quantity it computes")
            yield from _pairs(case, (*path, name), value, computed[name])
    elif isinstance(expected, Sequence) and not isinstance(expected, str):
        if not isinstance(computed, Sequence) or len(computed) != len(expected):
            raise refuse(where, f"other than {len(expected)} numbers computed", f"{len(expected)}")
        for number, (value, got) in enumerate(zip(expected, computed, strict=True), start=1):
            yield from _pairs(case, (*path, str(number)), value, got)
    else:
        yield path, expected, computed


def _compare(case: Case, path: tuple[str, ...], expected: Any, computed: Any) -> Outcome:
    tolerance = next(
        (case.tolerances[part] for part in reversed(path) if part in case.tolerances), case.tolerance
    )
    if isinstance(expected, (str, bool)):
        wanted: Figure = str(expected)
        got: Figure = str(computed)
        error, ok, allowed = (0.0 if wanted == got else math.inf), wanted == got, "exact"
    else:
        wanted, got = float(expected), float(computed)
        error = abs(got - wanted) / abs(wanted) if wanted else abs(got)
        ok, allowed = tolerance.admits(wanted, got), str(tolerance)
    return Outcome(
        id=case.id,
        source=case.source,
        quantity=" ".join(path),
        expected=wanted,
        computed=got,
        error=error,
        tolerance=allowed,
        ok=ok,
    )
