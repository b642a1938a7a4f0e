"""From a finding on to where it is worked out: the plain calculators, filled in, and the cage."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, fields, is_dataclass
from urllib.parse import urlencode

from tintop.physics.threads import GRADES, THREADS
from tintop.rules.book import Limits, ListedTubes
from tintop.rules.evidence import Proven
from tintop.rules.expression import Amount, Call, Named
from tintop.rules.facts import Bolts, FactKey, FactValue, Tube
from tintop.rules.findings import Finding

_ANGLES = ("angle_below", "plan_angle", "lap_angle", "crotch_angle", "stay_angle", "angle_from_vertical")
_PLATES = ("area", "least_width", "perimeter")
_STRENGTHS = ("bolt_shear", "bolt_bearing", "pull_out")
_MOST = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class ClauseLink:
    """A way on from a finding."""

    title: str
    address: str


def clause_links(finding: Finding, proven: Mapping[FactKey, Proven]) -> tuple[ClauseLink, ...]:
    """The calculators a clause's check names, filled in from what is proven; the cage for a clause of it."""
    instances = dict.fromkeys(each.each for each in finding.heard if each.clause == finding.decided_by)
    found = [
        link for each in instances or {"": None} for link in _calculators(finding, _Values(proven, each))
    ]
    links = list(dict.fromkeys(found))[:_MOST]
    if finding.clause.group == "cage":
        links.append(ClauseLink(title="The cage, calculated", address="/cage"))
    return tuple(links)


@dataclass(frozen=True, slots=True)
class _Values:
    proven: Mapping[FactKey, Proven]
    each: str

    def of(self, argument: object) -> FactValue | None:
        if not isinstance(argument, Named):
            return None
        keys = [FactKey(argument.fact, argument.each or self.each), FactKey(argument.fact)]
        return next((self.proven[key].value for key in keys if key in self.proven), None)


def _calculators(finding: Finding, values: _Values) -> Iterator[ClauseLink]:
    check = finding.clause.check
    of = f", {values.each}" if values.each else ""
    load = _load(check)
    for call in _calls(check):
        found = [values.of(argument) for argument in call.arguments]
        if call.function in _ANGLES and _is_point(found[0]) and _is_point(found[1]):
            names = [f"{axis}{end}" for end in (1, 2) for axis in "xyz"]
            placed = [_millimetres(one) for one in (*found[0], *found[1])]  # type: ignore[misc]
            yield _link("strap", f"Strap angle{of}", dict(zip(names, placed, strict=True)))
        elif call.function in _PLATES and _is_outline(found[0]):
            corners = "\n".join(" ".join(map(_bare, corner)) for corner in found[0])  # type: ignore[arg-type, union-attr]
            yield _link("plate", f"Mounting plate{of}", {"corners": corners})
        elif call.function in _STRENGTHS:
            given = _strength(call.function, found)
            if given:
                yield _link("anchor", f"Bolt, bracket and sheet{of}", given | load)
    if isinstance(check, ListedTubes) and isinstance(tube := values.of(check.tube), Tube):
        given = {"diameter": _millimetres(tube.diameter), "wall": _millimetres(tube.wall)}
        yield _link("tube", f"Tube section{of}", given)


def _calls(value: object) -> Iterator[Call]:
    """Every function a check calls, the outer ones first."""
    if isinstance(value, Call):
        yield value
    if isinstance(value, tuple):
        for each in value:
            yield from _calls(each)
    elif is_dataclass(value):
        for field in fields(value):
            yield from _calls(getattr(value, field.name))


def _strength(function: str, found: list[FactValue | None]) -> dict[str, str]:
    given: dict[str, str] = {}
    if isinstance(bolts := found[0], Bolts):
        thread = next(
            (name for name, one in THREADS.items() if abs(one.diameter - bolts.diameter) < 1e-6), ""
        )
        given |= {"thread": thread} if thread else {}
        given |= {"grade": bolts.strength_class} if bolts.strength_class in GRADES else {}
    if function == "pull_out" and isinstance(found[1], float) and isinstance(found[2], float):
        given |= {"sheet": _millimetres(found[1]), "sheet_tensile": f"{found[2] / 1e6:.6g} N/mm²"}
    return given


def _load(check: object) -> dict[str, str]:
    least = check.at_least if isinstance(check, Limits) else None
    is_force = isinstance(least, Amount) and least.quantity == "force"
    return {"load": f"{least.value:.6g} N"} if is_force and isinstance(least, Amount) else {}


def _is_point(value: object) -> bool:
    return isinstance(value, tuple) and len(value) == 3 and all(isinstance(one, float) for one in value)


def _is_outline(value: object) -> bool:
    return isinstance(value, tuple) and bool(value) and all(isinstance(one, tuple) for one in value)


def _bare(length: float) -> str:
    return f"{1e3 * length:.6g}"


def _millimetres(length: float) -> str:
    return f"{_bare(length)} mm"


def _link(address: str, title: str, given: Mapping[str, str]) -> ClauseLink:
    return ClauseLink(title=title, address=f"/calculators/{address}?{urlencode(given)}")
