"""Will the cage hold the published proof loads, by a calculation on the owner's own drawing?"""

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from tintop.answer import Answer, Figure, Verdict
from tintop.car.cage import Cage, CageLoad, Case, CutTube, KnownHow, LoadResult, MemberUse
from tintop.car.cage_holding import hold, stand
from tintop.errors import refuse
from tintop.known import Origin

CAUTIONS = (
    "A calculation on your own drawing is no homologation, no certificate and no substitute for an approved "
    "fabricator; the scrutineer decides.",
    "It knows nothing of welds, bends, rust, notches, foot plates or the shell under them: any of these may "
    "fail long before a tube does.",
    "Never weld, drill or bend a certified cage: its certificate is void.",
    "The limit is an estimate: hinges at nodes, steel that neither hardens nor tears, a load that grows "
    "slowly. A crash is none of these.",
)
WORKS = ("McGuire2000", "Horne1979", "Maier1970", "Shigley", "FMVSS216a")
NEEDED = (Case.MAIN_HOOP, Case.FRONT, Case.LATERAL)
_LITTLE = 0.10  # in hand, of load or of movement, is close
_AS_MUCH, _THE_SAME_WAY = 0.995, 0.9  # of a force, for rounding; cosine between two directions
_WALL = 0.05  # of the tubes' mass: tolerance of the wall; common practice, no source


KNOWN_WORDS: Mapping[KnownHow, str] = MappingProxyType(
    {
        KnownHow.READ: "read",
        KnownHow.QUOTED: "read as quoted by others",
        KnownHow.MEMORY: "from memory, unverified",
        KnownHow.YOURS: "entered by you",
    }
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Judgement:
    """One load judged: carried or not by the estimate, with little in hand or more, and the words for it.

    `is_elastic` says that no tube yields or buckles on the way.
    """

    load: str
    applies: bool
    holds: bool
    is_close: bool
    is_elastic: bool
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CageAnswer:
    """The answer, and all it stands on: a result and a judgement for each load in the order given.

    `tubes` are to be cut, `mass` is theirs [kg].
    """

    answer: Answer
    cage: Cage
    results: tuple[LoadResult, ...]
    judgements: tuple[Judgement, ...]
    tubes: tuple[CutTube, ...]
    mass: float


def will_the_cage_hold(cage: Cage, loads: tuple[CageLoad, ...]) -> CageAnswer:
    """Answer for a cage under proof loads.

    Never more than found: a load from memory, a missing one or steel without papers leaves it not proven. A
    load from memory goes on deciding beside the owner's: one that is not carried is no, unverified.
    Raises BadInput for a frame that cannot stand, or with no load that decides.
    """
    if not any(load.applies for load in loads):
        raise refuse("loads", "no proof load that decides", "at least one")
    results = hold(stand(cage), loads)
    judgements = tuple(judged(result) for result in results)
    gaps = _gaps(cage, loads)
    decided = [
        (result, judgement)
        for result, judgement in zip(results, judgements, strict=True)
        if judgement.applies
    ]
    failed = [(result, judgement) for result, judgement in decided if not judgement.holds]
    verdict, sentence = _verdict(failed, decided, gaps, _below(loads))
    answer = Answer(
        question="Will the cage hold?",
        verdict=verdict,
        sentence=sentence,
        figures=_figures(cage, [result for result, _ in decided]),
        why=(*(judgement.words for judgement in judgements), *gaps),
        next_thing=_next_thing(failed, gaps),
        cautions=CAUTIONS,
        works=WORKS,
        working={"steel": _steel(cage)},
    )
    return CageAnswer(
        answer=answer,
        cage=cage,
        results=results,
        judgements=judgements,
        tubes=cage.tube_list(),
        mass=cage.mass,
    )


def judged(result: LoadResult) -> Judgement:
    """Judge one load: the estimate carries it, and the loaded nodes stay within the permitted deflection."""
    load, limit = result.load, result.limit
    carries = limit.carries >= 1.0
    permitted, moved = load.permitted_deflection, limit.deflection
    within = permitted is None or (moved is not None and moved <= permitted)
    is_close = limit.carries < 1.0 + _LITTLE or (
        permitted is not None and moved is not None and moved > (1.0 - _LITTLE) * permitted
    )
    is_elastic = min(limit.first_yield, limit.first_buckling) >= 1.0
    return Judgement(
        load=load.name,
        applies=load.applies,
        holds=carries and within,
        is_close=carries and within and is_close,
        is_elastic=is_elastic,
        words=_words(result, carries, is_elastic),
    )


def _words(result: LoadResult, carries: bool, is_elastic: bool) -> str:
    load, limit = result.load, result.limit
    force = _kilonewtons(load)
    times = written_times(limit.carries)
    if not carries:
        said = f"gives way at {times} times {force}"
    elif is_elastic:
        said = f"carried {times} times, {force}, without yielding"
    else:
        said = f"carried {times} times, {force}, but bent for good from {written_times(limit.first_yield)}"
    if carries:
        permitted = load.permitted_deflection
        moved = "an unknown way" if limit.deflection is None else f"{1e3 * limit.deflection:.1f} mm"
        allowed = "no limit stated" if permitted is None else f"{1e3 * permitted:.0f} mm permitted"
        said += f"; moves {moved}, {allowed}"
    said += f"; the {result.weakest.member} is used most ({_most_used(result.weakest)})"
    aside = "" if load.applies else ", for comparison only"
    return f"{load.name} ({KNOWN_WORDS[load.known]}{aside}): {said}"


def written_times(factor: float) -> str:
    """Write a multiple of a load with two decimals, never rounded up."""
    return f"{math.floor(100.0 * factor) / 100.0:.2f}"


def _most_used(use: MemberUse) -> str:
    if use.buckling_use > use.plastic_use:
        return f"{100.0 * use.buckling_use:.0f} % of what buckles it, bent as it is, elastic"
    return f"{100.0 * use.plastic_use:.0f} % of its full plastic strength, elastic"


def spoken_for(load: CageLoad, loads: Iterable[CageLoad]) -> bool:
    """Whether a load of the owner's, no smaller and pressing the same way, speaks for a remembered one."""
    return any(_is_no_less(own, load) for own in _own_beside(load, loads))


def _own_beside(load: CageLoad, loads: Iterable[CageLoad]) -> list[CageLoad]:
    return [each for each in loads if each.known is KnownHow.YOURS and each.case is load.case]


def _is_no_less(own: CageLoad, load: CageLoad) -> bool:
    force, other = math.hypot(*own.total), math.hypot(*load.total)
    along = math.fsum(a * b for a, b in zip(own.total, load.total, strict=True))
    return force >= _AS_MUCH * other and along >= _THE_SAME_WAY * force * other


def _below(loads: Iterable[CageLoad]) -> tuple[tuple[CageLoad, CageLoad], ...]:
    """The owner's loads that are less than what is remembered of the same case, each with that."""
    loads = tuple(loads)
    return tuple(
        (own, load)
        for load in loads
        if load.applies and not load.known.speaks and not spoken_for(load, loads)
        for own in _own_beside(load, loads)
    )


def _gaps(cage: Cage, loads: tuple[CageLoad, ...]) -> tuple[str, ...]:
    """What keeps the answer from being more than not proven."""
    deciding = [load for load in loads if load.applies]
    gaps = []
    alone = [load for load in deciding if not load.known.speaks and not _own_beside(load, loads)]
    if alone:
        gaps.append(f"known from memory only, which proves nothing: {_named(load.name for load in alone)}")
    gaps += [
        f"your {_named([own.name])}, {_kilonewtons(own)}, is less than {_named([load.name])} as remembered, "
        f"{_kilonewtons(load)}, or presses another way; the remembered one, unverified, goes on deciding"
        for own, load in _below(loads)
    ]
    for case in NEEDED:
        if not any(load.case is case for load in deciding):
            gaps.append(
                "no lateral load was entered: none is shipped, for none was read"
                if case is Case.LATERAL
                else f"no load for the {case.value} decided"
            )
    gaps += [
        f"{_named([load.name])}: no permitted deflection was entered"
        for load in deciding
        if load.known is KnownHow.YOURS and load.permitted_deflection is None
    ]
    if cage.steel.origin not in (Origin.MEASURED, Origin.DOCUMENTED):
        gaps.append(
            f"the steel's yield strength is {cage.steel.origin.value}, not from a certificate or a test"
        )
    return tuple(gaps)


def _named(names: Iterable[str]) -> str:
    *first, last = (f"“{name}”" for name in names)
    return f"{', '.join(first)} and {last}" if first else last


def _kilonewtons(load: CageLoad) -> str:
    return f"{1e-3 * math.hypot(*load.total):.1f} kN"


def _verdict(
    failed: list[tuple[LoadResult, Judgement]],
    decided: list[tuple[LoadResult, Judgement]],
    gaps: tuple[str, ...],
    below: tuple[tuple[CageLoad, CageLoad], ...],
) -> tuple[Verdict, str]:
    if failed:
        names = _named(result.load.name for result, _ in failed)
        if any(result.load.known.speaks for result, _ in failed):
            return Verdict.NO, f"No: by this calculation the cage does not hold {names}."
        return (
            Verdict.NO,
            f"No, unverified: by this calculation the cage does not hold {names}, known from memory.",
        )
    hardest = min((result for result, _ in decided), key=lambda result: result.limit.carries)
    of = "the one load that decides" if len(decided) == 1 else f"the hardest of {len(decided)} loads"
    carried = f"the cage carries {written_times(hardest.limit.carries)} times {of}, {hardest.load.name}"
    if gaps:
        own = dict.fromkeys(each.name for each, _ in below)
        less = f", and less is asked by your {_named(own)} than is remembered" if own else ""
        return Verdict.NOT_PROVEN, f"Not proven: by this calculation {carried}, but that is no proof{less}."
    if any(judgement.is_close for _, judgement in decided):
        return Verdict.CLOSE, f"Close: by this calculation {carried}, with little in hand."
    return Verdict.FOUND, f"By this calculation {carried}; a calculation is no certificate."


def _figures(cage: Cage, results: list[LoadResult]) -> tuple[Figure, ...]:
    figures = []
    for result in results:
        limit = result.limit
        figures.append(
            Figure(
                name=f"{result.load.name}: times carried",
                value=limit.carries,
                low=min(limit.first_hinge, limit.carries),
                high=limit.mechanism,
                unit="",
                basis="estimate, from the first plastic hinge to a mechanism; buckling counted in the value",
            )
        )
        if limit.deflection is not None:
            low = min(result.deflection, limit.deflection)
            figures.append(
                Figure(
                    name=f"{result.load.name}: deflection",
                    value=limit.deflection,
                    low=low,
                    high=limit.deflection,
                    unit="m",
                    basis="along the load's axis with hinges counted, down to the elastic figure",
                )
            )
    mass = cage.mass
    figures.append(
        Figure(
            name="mass of the tubes",
            value=mass,
            low=mass * (1.0 - _WALL),
            high=mass * (1.0 + _WALL),
            unit="kg",
            basis="node to node along the tubes' axes; no plates, gussets, welds or padding",
        )
    )
    return tuple(figures)


def _next_thing(failed: list[tuple[LoadResult, Judgement]], gaps: tuple[str, ...]) -> str:
    if failed:
        weakest = min((result for result, _ in failed), key=lambda result: result.limit.carries)
        return (
            "Do not race on this cage as drawn. Take the drawing to an approved fabricator, beginning at the "
            f"{weakest.weakest.member} under the {weakest.load.name}."
        )
    if gaps:
        return (
            "Hold each load against the edition of the regulations in force and enter it as yours, the "
            "lateral one with its permitted deflection; then ask an approved fabricator."
        )
    return "Take the drawing and this sheet to an approved fabricator."


def _steel(cage: Cage) -> str:
    steel = cage.steel
    return (
        f"yield {1e-6 * steel.yield_strength:.0f} N/mm² ({steel.origin.value}), modulus "
        f"{1e-9 * steel.youngs_modulus:.0f} GPa, Poisson's ratio {steel.poisson_ratio:g}, "
        f"{steel.density:.0f} kg/m³"
    )
