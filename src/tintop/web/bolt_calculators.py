"""The calculators of bolt group, anchor and ballast."""

import math
from collections.abc import Mapping
from typing import Any

from tintop.charts.anchor_drawings import anchor_drawing, ballast_drawing, group_drawing
from tintop.physics import bolts
from tintop.physics.bolt_groups import Place, ballast_load, shear_in_group
from tintop.physics.plates import bearing_pressure, disc_area
from tintop.physics.threads import GRADES, THREADS
from tintop.web.calculating import (
    Blank,
    Calculator,
    Result,
    Worked,
    degrees,
    kilonewtons,
    millimetres,
    newtons,
    plain,
    square_centimetres,
)

_SHIGLEY = (
    "Budynas and Nisbett, Shigley's Mechanical Engineering Design, eccentric shear joints (from memory)"
)


def _bolt_blanks(thread: str, grade: str) -> tuple[Blank, Blank]:
    return (
        Blank(
            name="thread",
            label="Thread",
            example=thread,
            kind="name",
            hint="M5 to M16, a fine one as M10x1.25, or 7/16 UNF",
            refusals=("thread",),
            choices=tuple(THREADS),
        ),
        Blank(
            name="grade",
            label="Strength class",
            example=grade,
            kind="name",
            hint="as marked on the head",
            refusals=("strength class",),
            choices=tuple(GRADES),
        ),
    )


def _group(given: Mapping[str, Any]) -> Worked:
    places = [Place(*place) for place in given["bolts"]]
    pull, at = Place(given["force_x"], given["force_y"]), Place(given["at_x"], given["at_y"])
    found = shear_in_group(places, pull, at)
    capacity = bolts.shear_capacity(given["thread"], given["grade"])
    size = math.hypot(*pull)
    middle = f"({millimetres(found.centroid.x)}, {millimetres(found.centroid.y)})"
    moment = plain(found.moment, "N·m")
    put_in = f"F {newtons(size)}, n {len(places)}, M {moment} about {middle}"
    forces = [newtons(math.hypot(*force)) for force in found.forces]
    results = (
        Result(
            name="Force on each bolt",
            value="; ".join(f"{index}: {force}" for index, force in enumerate(forces, start=1)),
            formula="F/n along the pull, with M r / Σr² square to each arm",
            put_in=put_in,
            source=_SHIGLEY,
        ),
        Result(
            name="Used of the worst bolt, single shear",
            value=plain(100.0 * found.largest / capacity.value, "%", digits=3),
            formula=f"force / ({capacity.formula})",
            put_in=f"{newtons(found.largest)} / {newtons(capacity.value)}",
            source=capacity.source,
        ),
    )
    return Worked(
        lead=f"The worst is bolt {found.worst + 1}, with {newtons(found.largest)} across it.",
        results=results,
        drawing=group_drawing("group", places, pull, at, found.forces),
    )


GROUP = Calculator(
    address="bolt-group",
    title="Bolt group",
    question="What does each bolt take of a pull that does not run through their middle?",
    blanks=(
        Blank(
            name="bolts",
            label="Bolts, one a line: across, up",
            example="50 50\n-50 50\n-50 -50\n50 -50",
            kind="places",
            refusals=("bolts", "bolt group"),
        ),
        Blank(name="force_x", label="Pull across", example="0 N", quantity="force", unit="N"),
        Blank(
            name="force_y",
            label="Pull up",
            example="-1 kN",
            quantity="force",
            unit="N",
            hint="down is negative",
        ),
        Blank(name="at_x", label="Acts at, across", example="200 mm"),
        Blank(name="at_y", label="Acts at, up", example="0 mm"),
        *_bolt_blanks("M8", "8.8"),
    ),
    work=_group,
)


def _anchor(given: Mapping[str, Any]) -> Worked:
    thread, grade = given["thread"], given["grade"]
    shear, tension = bolts.shear_capacity(thread, grade), bolts.tension_capacity(thread, grade)
    side = bolts.bearing_capacity(
        thread=thread,
        grade=grade,
        hole=given["hole"],
        thickness=given["plate"],
        plate_tensile=given["plate_tensile"],
        end_distance=given["end"],
        edge_distance=given["edge"],
    )
    through = bolts.pull_through_capacity(
        math.pi * given["counterplate"], given["sheet"], given["sheet_tensile"]
    )
    anchor = bolts.anchor_capacity(
        given["angle"],
        shear=shear.value,
        tension=tension.value,
        bearing=side.value,
        pull_through=through.value,
    )
    load = given["load"]
    under = disc_area(given["counterplate"])
    pressure = bearing_pressure(load * math.sin(given["angle"]), under)
    bolt = f"{thread} {grade}, γ 1.25"

    def result(name: str, capacity: bolts.Capacity, put_in: str) -> Result:
        return Result(
            name=name,
            value=kilonewtons(capacity.value),
            formula=capacity.formula,
            put_in=put_in,
            source=capacity.source,
        )

    tensile = [plain(given[name], "N/mm²", 1e6) for name in ("plate_tensile", "sheet_tensile")]
    results = (
        result(
            "Whole anchor, along the strap",
            anchor,
            f"pull at {degrees(given['angle'])}; gives way first: {anchor.governs}",
        ),
        Result(
            name="Of the load asked for",
            value=f"{plain(anchor.value / load, digits=3)} times" if load > 0.0 else "no load asked for",
            formula="capacity / load",
            put_in=f"{kilonewtons(anchor.value)} / {kilonewtons(load)}",
            source="arithmetic",
        ),
        result("Bolt across, thread in the plane", shear, bolt),
        result("Bolt straight off", tension, bolt),
        result(
            "Bracket at the side of its hole",
            side,
            f"d₀ {millimetres(given['hole'])}, t {millimetres(given['plate'])}, Rm {tensile[0]}: "
            f"{side.governs}",
        ),
        result(
            "Sheet punched through",
            through,
            f"u = π × {millimetres(given['counterplate'])}, t {millimetres(given['sheet'])}, Rm {tensile[1]}",
        ),
        Result(
            name="Pressure of the reinforcement on the sheet, at the load",
            value=plain(pressure, "N/mm²", 1e6),
            formula="F sin β / A",
            put_in=f"{kilonewtons(load)} × sin {degrees(given['angle'])} / {square_centimetres(under)}",
            source="statics; a mean",
        ),
    )
    return Worked(
        lead=f"About {kilonewtons(anchor.value)} along the strap; {anchor.governs} gives way first.",
        results=results,
        drawing=anchor_drawing("anchor", given["angle"], anchor.governs),
        caution=(
            "The formulae mean plates of 3 mm and more: thin body sheet buckles, tears and rusts first, so "
            "that its figure is too good. A bracket that bends, the eye and every weld are not looked at. "
            f"{bolts.CAUTION}"
        ),
    )


ANCHOR = Calculator(
    address="anchor",
    title="Anchor: bolt, bracket, sheet",
    question="What pull does one bolted anchor carry, and what gives way first?",
    blanks=(
        *_bolt_blanks("7/16-20 UNF", "8.8"),
        Blank(name="hole", label="Hole in the bracket", example="11.5 mm", refusals=("hole",)),
        Blank(name="plate", label="Bracket thickness", example="3 mm", refusals=("plate thickness",)),
        Blank(
            name="plate_tensile",
            label="Bracket tensile strength",
            example="360 N/mm²",
            hint="360 is plain structural steel (EN 10025-2, S235, from memory)",
            refusals=("tensile strength of the plate",),
            quantity="pressure",
            unit="N/mm2",
        ),
        Blank(
            name="end",
            label="Hole's middle to the end, along the pull",
            example="20 mm",
            refusals=("end distance",),
        ),
        Blank(name="edge", label="Hole's middle to the side", example="20 mm", refusals=("edge distance",)),
        Blank(
            name="counterplate",
            label="Round reinforcement under the sheet, diameter",
            example="72 mm",
            refusals=("perimeter", "diameter"),
        ),
        Blank(name="sheet", label="Sheet thickness", example="0.8 mm", refusals=("sheet thickness",)),
        Blank(
            name="sheet_tensile",
            label="Sheet tensile strength",
            example="270 N/mm²",
            hint="270 is plain deep-drawing sheet (EN 10130, from memory); rust has none",
            refusals=("tensile strength of the sheet",),
            quantity="pressure",
            unit="N/mm2",
        ),
        Blank(
            name="angle",
            label="Angle of the pull to the sheet",
            example="30°",
            quantity="angle",
            unit="deg",
            hint="0 along it, 90 straight off it",
            refusals=("angle of the pull to the plate",),
        ),
        Blank(
            name="load",
            label="Load the clause asks for",
            example="15 kN",
            quantity="force",
            unit="N",
            hint="0 for none",
            refusals=("force",),
        ),
    ),
    work=_anchor,
)


def _ballast(given: Mapping[str, Any]) -> Worked:
    distances = given["distances"]
    found = ballast_load(given["mass"], given["times"], given["height"], distances)
    shear = bolts.shear_capacity(given["thread"], given["grade"])
    tension = bolts.tension_capacity(given["thread"], given["grade"])
    used = bolts.combined_use(found.shear_per_bolt, found.tension_of_worst_bolt, shear.value, tension.value)
    squares = plain(math.fsum(distance**2 for distance in distances), "mm²", 1e-6)
    share = plain(100.0 * used, "%", digits=3)
    results = (
        Result(
            name="Whole pull",
            value=newtons(found.force),
            formula="m k g",
            put_in=f"{plain(given['mass'], 'kg')} × {plain(given['times'])} × 9.80665 m/s²",
            source="Newton",
        ),
        Result(
            name="Across each bolt",
            value=newtons(found.shear_per_bolt),
            formula="F / n",
            put_in=f"{newtons(found.force)} / {len(distances)}",
            source="statics, equal bolts",
        ),
        Result(
            name="Pull on the worst bolt",
            value=newtons(found.tension_of_worst_bolt),
            formula="F h c / Σc²",
            put_in=f"{newtons(found.force)} × {millimetres(given['height'])} × "
            f"{millimetres(max(distances))} / {squares}",
            source="statics, tension growing with the distance (from memory: Shigley)",
        ),
        Result(
            name="Used of the worst bolt",
            value=share,
            formula="larger of Fv/Fv,R + Ft/(1.4 Ft,R) and Ft/Ft,R",
            put_in=f"Fv,R {newtons(shear.value)}, Ft,R {newtons(tension.value)}",
            source=shear.source,
        ),
    )
    return Worked(
        lead=f"{newtons(found.force)} in all; the worst bolt is used to {share} of its capacity.",
        results=results,
        drawing=ballast_drawing(
            "ballast",
            given["height"],
            distances,
            f"{newtons(found.tension_of_worst_bolt)} on the worst bolt",
        ),
        caution=f"The bolt only: what the floor carries is another matter, see the anchor. {bolts.CAUTION}",
    )


BALLAST = Calculator(
    address="ballast",
    title="Ballast and bottles at a stated g",
    question="What do the bolts of a fixed weight take when it is pulled along the floor?",
    blanks=(
        Blank(name="mass", label="Mass", example="20 kg", quantity="mass", unit="kg", refusals=("mass",)),
        Blank(
            name="times",
            label="How many g",
            example="25",
            quantity="number",
            unit="",
            hint="as the clause says: 25 for an extinguisher in one national book",
            refusals=("load",),
        ),
        Blank(name="height", label="Its centre above the floor", example="40 mm", refusals=("height",)),
        Blank(
            name="distances",
            label="Each bolt from the edge it would tip over",
            example="30 30 170 170",
            kind="lengths",
            refusals=("bolts", "distance from the tipping edge"),
        ),
        *_bolt_blanks("M8", "8.8"),
    ),
    work=_ballast,
)
