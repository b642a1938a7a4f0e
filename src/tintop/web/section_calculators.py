"""The calculators of tube section and plate area."""

import math
from collections.abc import Mapping
from typing import Any

from tintop.charts.anchor_drawings import plate_drawing, tube_drawing
from tintop.checks import require
from tintop.physics.plates import Corner, least_width, net_area, outline_area, perimeter
from tintop.physics.tubes import round_tube
from tintop.web.calculating import Blank, Calculator, Result, Worked, millimetres, plain, square_centimetres

_STEEL = 7850.0  # [kg/m³] common practice, no source


def _tube(given: Mapping[str, Any]) -> Worked:
    diameter, wall, strength = given["diameter"], given["wall"], given["strength"]
    require(math.isfinite(diameter) and diameter > 0.0, "diameter", millimetres(diameter), "more than 0 mm")
    require(
        0.0 < wall <= 0.5 * diameter,
        "wall",
        millimetres(wall),
        f"more than 0 and up to {millimetres(0.5 * diameter)}",
    )
    require(
        math.isfinite(strength) and strength > 0.0,
        "strength",
        plain(strength, "N/mm²", 1e6),
        "more than 0 N/mm²",
    )
    tube = round_tube(diameter, wall)
    size = f"D {millimetres(diameter)}, d {millimetres(diameter - 2.0 * wall)}"
    mass = plain(_STEEL * tube.area, "kg")
    first_yield = plain(strength * tube.elastic_modulus, "kN·m", 1e3)
    steel = f"at {plain(strength, 'N/mm²', 1e6)}"

    def result(name: str, value: str, formula: str, put_in: str = size) -> Result:
        return Result(name=name, value=value, formula=formula, put_in=put_in, source="geometry")

    results = (
        result("Section", plain(tube.area, "mm²", 1e-6), "π/4 (D² − d²)"),
        result("Second moment", plain(tube.second_moment, "mm⁴", 1e-12), "π/64 (D⁴ − d⁴)"),
        result("Elastic modulus", plain(tube.elastic_modulus, "mm³", 1e-9), "2 I / D"),
        result("Plastic modulus", plain(tube.plastic_modulus, "mm³", 1e-9), "(D³ − d³) / 6"),
        result(
            "Mass of a metre of steel",
            mass,
            "ρ A",
            f"{plain(_STEEL, 'kg/m³')}, {size}",
        ),
        result("Bending to first yield", first_yield, "Re W", steel),
        result(
            "Bending with the whole section yielding",
            plain(strength * tube.plastic_modulus, "kN·m", 1e3),
            "Re Z",
            steel,
        ),
    )
    return Worked(
        lead=f"{mass} a metre; first yield at {first_yield}.",
        results=results,
        drawing=tube_drawing("tube", diameter, wall, f"{plain(diameter, '', 1e-3)} × {millimetres(wall)}"),
        caution=(
            "A tube as strong as one a rule book lists is not a listed tube: sizes are compared, not "
            "strengths. Bends thin the outer wall. A calculation is no certificate; a qualified fabricator's "
            "word goes before it."
        ),
    )


TUBE = Calculator(
    address="tube",
    title="Round tube",
    question="What is a tube's section worth?",
    blanks=(
        Blank(name="diameter", label="Outside diameter", example="45 mm", refusals=("diameter",)),
        Blank(name="wall", label="Wall", example="2.5 mm", refusals=("wall",)),
        Blank(
            name="strength",
            label="Yield strength of the steel",
            example="350 N/mm²",
            quantity="pressure",
            unit="N/mm2",
            hint="from the certificate; books differ on whether 350 names yield or tensile",
            refusals=("strength",),
        ),
    ),
    work=_tube,
)


def _plate(given: Mapping[str, Any]) -> Worked:
    corners = [Corner(*corner) for corner in given["corners"]]
    gross = outline_area(corners)
    net = net_area(gross, given["holes"])
    holes = ", ".join(millimetres(hole) for hole in given["holes"]) or "none"
    results = (
        Result(
            name="Area less the holes",
            value=square_centimetres(net),
            formula="A − Σ π/4 d²",
            put_in=f"{square_centimetres(gross)}; holes {holes}",
            source="geometry",
        ),
        Result(
            name="Area inside the outline",
            value=square_centimetres(gross),
            formula="½ |Σ (x y′ − x′ y)|",
            put_in=f"{len(corners)} corners",
            source="shoelace formula (Gauss)",
        ),
        Result(
            name="Least width",
            value=millimetres(least_width(corners)),
            formula="least distance of two straight edges laid against it",
            put_in=f"{len(corners)} corners",
            source="geometry; a neck between the edges is not seen",
        ),
        Result(
            name="Length round the edge",
            value=millimetres(perimeter(corners)),
            formula="Σ of the sides",
            put_in=f"{len(corners)} corners",
            source="geometry",
        ),
    )
    area = square_centimetres(net)
    return Worked(
        lead=f"{area} of plate.",
        results=results,
        drawing=plate_drawing("plate", corners, area),
        caution=(
            "Holes are taken to lie inside and apart. Area is one figure of a plate: its thickness, its weld "
            "and the metal it sits on decide what it carries. A qualified fabricator's word goes before them."
        ),
    )


PLATE = Calculator(
    address="plate",
    title="Plate area from a drawn outline",
    question="How large is a mounting plate, less its holes?",
    blanks=(
        Blank(
            name="corners",
            label="Corners, one a line: across, up",
            example="0 0\n120 0\n120 100\n0 100",
            kind="places",
            hint="in order, once round",
            refusals=("outline",),
        ),
        Blank(
            name="holes",
            label="Diameters of the holes",
            example="9 9 9",
            kind="lengths",
            hint="empty for none",
            refusals=("holes", "diameter"),
        ),
    ),
    work=_plate,
)
