"""The answer to "Will the cage hold?" as a sheet and as plain content."""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from tintop.answer import Verdict
from tintop.car.cage import CageLoad, FootReaction, KnownHow, LoadResult, Vector
from tintop.known import Origin
from tintop.questions.will_the_cage_hold import (
    KNOWN_WORDS,
    CageAnswer,
    Judgement,
    spoken_for,
    written_times,
)
from tintop.references import work
from tintop.reports.cage_facts import drawn_facts, facts_table, remarks
from tintop.reports.sheet import Sheet, Table

HOW_TO_ENTER = (
    "A load of yours stands in the document under [[loads]]; the lateral one may be given with --lateral."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class FootMost:
    """The most a foot is asked under the loads that decide: down, up, along the floor [N], bent [N·m]."""

    node: str
    fixing: str
    down: float
    up: float
    along_floor: float
    moment: float
    load: str  # which presses it down or pulls it up the most


@dataclass(frozen=True, slots=True, kw_only=True)
class JointMost:
    """The most that passes a bolted joint under the loads that decide: pull, shear [N] and torsion [N·m]."""

    part: str
    node: str
    pull: float
    push: float
    shear: float
    torsion: float


def load_verdict(found: CageAnswer, result: LoadResult, judgement: Judgement) -> tuple[Verdict | None, str]:
    """The verdict on one load and its words; None for one for comparison, or that the owner's own speaks for.

    A load that is carried is not proven while the load itself, its permitted deflection or the steel is not.
    """
    load = result.load
    if not judgement.applies:
        carries = result.limit.carries >= 1.0
        return None, f"for comparison only: {'carried' if carries else 'gives way'}"
    if not judgement.holds:
        unverified = "" if load.known.speaks else "; the load is from memory, unverified"
        return Verdict.NO, ("gives way" if result.limit.carries < 1.0 else "moves too far") + unverified
    bent = "" if judgement.is_elastic else ", bent for good"
    if not load.known.speaks:
        if spoken_for(load, (each.load for each in found.results)):
            return None, f"carried{bent}; yours, no smaller, speaks in its place"
        return Verdict.NOT_PROVEN, f"carried{bent}, but the load is from memory"
    if load.known is KnownHow.YOURS and load.permitted_deflection is None:
        return Verdict.NOT_PROVEN, f"carried{bent}, but no permitted deflection was entered"
    if found.cage.steel.origin not in (Origin.MEASURED, Origin.DOCUMENTED):
        return Verdict.NOT_PROVEN, f"carried{bent}, but the steel has no certificate"
    if judgement.is_close:
        return Verdict.CLOSE, f"carried{bent}, with little in hand"
    return Verdict.FOUND, f"carried{bent}, by this calculation"


def gaps(found: CageAnswer) -> tuple[str, ...]:
    """What is not proven, in words."""
    return found.answer.why[len(found.judgements) :]


def hardest(found: CageAnswer) -> LoadResult:
    """The load that is carried the fewest times, of those that decide."""
    return min((each for each in found.results if each.load.applies), key=lambda each: each.limit.carries)


def feet_most(found: CageAnswer) -> tuple[FootMost, ...]:
    """What the shell must give each foot at most, over the loads that decide."""
    decided = [result for result in found.results if result.load.applies]
    feet: list[FootMost] = []
    for place, foot in enumerate(found.cage.feet):
        reactions = [(result.load.name, result.reactions[place]) for result in decided]
        ups = [reaction.force[2] for _, reaction in reactions]
        feet.append(
            FootMost(
                node=foot.node,
                fixing=foot.fixing.value,
                down=max(0.0, *ups),
                up=max(0.0, *(-force for force in ups)),
                along_floor=max(math.hypot(*reaction.force[:2]) for _, reaction in reactions),
                moment=max(math.hypot(*reaction.moment) for _, reaction in reactions),
                load=max(reactions, key=lambda each: abs(each[1].force[2]))[0],
            )
        )
    return tuple(feet)


def joints_most(found: CageAnswer) -> tuple[JointMost, ...]:
    """What passes each bolted joint at most, over the loads that decide."""
    decided = [result for result in found.results if result.load.applies]
    joints = []
    for place, member in enumerate(found.cage.members):
        for node, is_bolted, is_end in (
            (member.start, member.bolted_start, False),
            (member.end, member.bolted_end, True),
        ):
            if not is_bolted:
                continue
            uses = [result.members[place] for result in decided]
            ends = [use.end if is_end else use.start for use in uses]
            joints.append(
                JointMost(
                    part=member.part,
                    node=node,
                    pull=max(0.0, *(use.axial for use in uses)),
                    push=max(0.0, *(-use.axial for use in uses)),
                    shear=max(math.hypot(end[1], end[2]) for end in ends),
                    torsion=max(abs(end[3]) for end in ends),
                )
            )
    return tuple(joints)


def tube_uses(found: CageAnswer) -> dict[str, tuple[float, str]]:
    """The most each whole tube uses under the loads that decide, elastic, and under which."""
    part_of = {each.name: each.part for each in found.cage.members}
    most: dict[str, tuple[float, str]] = {tube.part: (0.0, "") for tube in found.tubes}
    for result in found.results:
        for use in result.members if result.load.applies else ():
            part = part_of[use.member]
            most[part] = max(most[part], (use.use, result.load.name))
    return most


def cage_sheet(found: CageAnswer) -> Sheet:
    """The cage under its loads for reading."""
    return Sheet(
        title=found.answer.question,
        sentences=(
            found.answer.sentence,
            *(f"Not proven: {each}." for each in gaps(found)),
            *remarks(found.cage),
            *((f"Steel: {found.answer.working['steel']}.",) if "steel" in found.answer.working else ()),
            f"Next: {found.answer.next_thing}",
            *((HOW_TO_ENTER,) if gaps(found) else ()),
        ),
        tables=tuple(table for table in (*_tables(found), facts_table(found.cage)) if table.rows),
        cautions=found.answer.cautions,
    )


def _tables(found: CageAnswer) -> Iterator[Table]:
    yield Table(
        title="Loads",
        columns=("load", "known", "kN", "carried, times", "moves, mm", "permitted, mm", "weakest", "verdict"),
        rows=[_load_row(found, *each) for each in zip(found.results, found.judgements, strict=True)],
    )
    uses = tube_uses(found)
    yield Table(
        title="Tubes, the most each uses under the loads that decide (elastic: past 100 % it bends for good)",
        columns=("no.", "tube", "is", "size", "length, mm", "kg", "used", "under"),
        rows=[
            (
                str(number),
                tube.part,
                tube.role.value,
                str(tube.tube),
                f"{1e3 * tube.length:.0f}",
                f"{tube.mass:.2f}",
                f"{100.0 * uses[tube.part][0]:.0f} %",
                uses[tube.part][1],
            )
            for number, tube in enumerate(found.tubes, 1)
        ],
    )
    yield Table(
        title="Feet, the most the shell must give under the loads that decide",
        columns=("foot", "is", "pressed down, kN", "pulled up, kN", "along the floor, kN", "bent, kN·m"),
        rows=[
            (
                foot.node,
                foot.fixing,
                f"{1e-3 * foot.down:.1f}",
                f"{1e-3 * foot.up:.1f}",
                f"{1e-3 * foot.along_floor:.1f}",
                f"{1e-3 * foot.moment:.2f}",
            )
            for foot in feet_most(found)
        ],
    )
    yield Table(
        title="Bolted joints, the most that passes under the loads that decide",
        columns=("tube", "at", "pull, kN", "push, kN", "shear, kN", "torsion, N·m"),
        rows=[
            (
                joint.part,
                joint.node,
                f"{1e-3 * joint.pull:.1f}",
                f"{1e-3 * joint.push:.1f}",
                f"{1e-3 * joint.shear:.1f}",
                f"{joint.torsion:.0f}",
            )
            for joint in joints_most(found)
        ],
    )
    yield Table(
        title="Where the loads come from",
        columns=("load", "source, and what it is"),
        rows=[
            (each.load.name, "; ".join(words for words in (each.load.source, each.load.note) if words))
            for each in found.results
        ],
    )


def _load_row(found: CageAnswer, result: LoadResult, judgement: Judgement) -> tuple[str, ...]:
    load, limit = result.load, result.limit
    verdict, words = load_verdict(found, result, judgement)
    permitted = load.permitted_deflection
    return (
        load.name,
        KNOWN_WORDS[load.known],
        f"{1e-3 * math.hypot(*load.total):.1f}",
        written_times(limit.carries),
        "gives way" if limit.deflection is None else f"{1e3 * limit.deflection:.1f}",
        "none stated" if permitted is None else f"{1e3 * permitted:.0f}",
        f"{result.weakest.member}, {100.0 * result.weakest.use:.0f} %",
        words if verdict in (None, Verdict.FOUND) else f"{verdict}: {words}",
    )


def cage_content(found: CageAnswer) -> dict[str, Any]:
    """The cage under its loads as plain content; SI, keys name the unit."""
    answer, uses = found.answer, tube_uses(found)
    return {
        "cage": found.cage.name,
        "verdict": answer.verdict.value,
        "sentence": answer.sentence,
        "not_proven": list(gaps(found)),
        "loads": [_load_content(found, *each) for each in zip(found.results, found.judgements, strict=True)],
        "tubes": [
            {
                "number": number,
                "tube": tube.part,
                "role": tube.role.value,
                "diameter_m": tube.tube.diameter,
                "wall_m": tube.tube.wall,
                "length_m": tube.length,
                "mass_kg": tube.mass,
                "use": uses[tube.part][0],
                "used_under": uses[tube.part][1],
            }
            for number, tube in enumerate(found.tubes, 1)
        ],
        "drawn": [
            {"asked": each.what, "drawn": each.drawn, "facts": list(each.facts)}
            for each in drawn_facts(found.cage)
        ],
        "remarks": list(remarks(found.cage)),
        "mass_kg": found.mass,
        "steel": answer.working.get("steel", ""),
        "next_thing": answer.next_thing,
        "cautions": list(answer.cautions),
        "works": [work(key) for key in answer.works],
    }


def _load_content(found: CageAnswer, result: LoadResult, judgement: Judgement) -> dict[str, Any]:
    load, limit, weakest = result.load, result.limit, result.weakest
    verdict, words = load_verdict(found, result, judgement)
    return {
        **_asked(load),
        "verdict": verdict.value if verdict else None,
        "reason": words,
        "words": judgement.words,
        "times_carried": limit.carries,
        "times_at_first_yield": limit.first_yield,
        "times_at_first_hinge": limit.first_hinge,
        "times_at_first_buckling": limit.first_buckling,
        "times_as_mechanism": limit.mechanism,
        "times_elastic_critical": limit.elastic_critical,
        "deflection_m": limit.deflection,
        "deflection_elastic_m": result.deflection,
        "deflected_node": result.deflected_node,
        "weakest": {
            "member": weakest.member,
            "use": weakest.use,
            "plastic_use": weakest.plastic_use,
            "buckling_use": weakest.buckling_use,
            "stress_pa": weakest.stress,
        },
        "members": [
            {"member": use.member, "use": use.use, "axial_n": use.axial, "bending_nm": use.bending}
            for use in result.members
        ],
        "reactions": [_reaction(each) for each in result.reactions],
        "hinges": [
            {"times": hinge.factor, "member": hinge.member, "node": hinge.node} for hinge in limit.hinges
        ],
    }


def _asked(load: CageLoad) -> dict[str, Any]:
    return {
        "load": load.name,
        "case": load.case.value,
        "known": load.known.value,
        "source": load.source,
        "note": load.note,
        "decides": load.applies,
        "force_n": _vector(load.total),
        "nodes": [each.node for each in load.forces],
        "permitted_deflection_m": load.permitted_deflection,
    }


def _reaction(each: FootReaction) -> dict[str, Any]:
    return {
        "foot": each.node,
        "fixing": each.fixing.value,
        "force_n": _vector(each.force),
        "moment_nm": _vector(each.moment),
    }


def _vector(each: Vector) -> list[float]:
    return list(each)
