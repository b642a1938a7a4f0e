"""The fields of a cage document, with the kind of quantity and the meaning of each."""

from typing import Any

from pydantic import Field

from tintop.car.cage import Case, Fixing, Role, Side
from tintop.car.cage_templates import DoorBars
from tintop.store.documents.written import (
    Flag,
    Number,
    Numbers,
    Table,
    Word,
    choice,
    name_of,
    quantities,
    quantity,
)

WAYS = {
    "forward": (1.0, 0.0, 0.0),
    "rearward": (-1.0, 0.0, 0.0),
    "left": (0.0, 1.0, 0.0),
    "right": (0.0, -1.0, 0.0),
    "up": (0.0, 0.0, 1.0),
    "down": (0.0, 0.0, -1.0),
}


class SteelTable(Table):
    """The tubes' material, from its certificate."""

    yield_strength: Number = quantity("pressure", "yield strength, Re or Rp0.2", required=True)
    tensile_strength: Number = quantity("pressure", "tensile strength, Rm")
    youngs_modulus: Number = quantity("pressure", "modulus of elasticity")
    density: Number = quantity("density", "density")


class TemplateTable(Table):
    """A cage drawn from measures of the cabin."""

    cabin_width: Number = quantity("length", "width of the main hoop at the floor")
    cabin_height: Number = quantity("length", "top of the main hoop above its feet")
    cabin_length: Number = quantity("length", "from the main hoop's feet forward to the front feet")
    stay_length: Number = quantity("length", "from the main hoop back to the stays' feet")
    hoop_tube: Word = Field(default=None, description='tube of hoop and front legs, such as "45 x 2.5 mm"')
    other_tube: Word = Field(default=None, description='tube of all others, such as "38 x 2.5 mm"')
    diagonals: Number = quantity("number", "diagonals of the main hoop: 0, 1 or 2")
    roof_diagonals: Number = quantity("number", "diagonals of the roof: 0, 1 or 2")
    door_bars: Word = choice([bars.value for bars in DoorBars], "how the door openings are barred")
    windscreen_bar: Flag = Field(default=None, description="true if a bar joins the windscreen's top corners")
    harness_bar: Flag = Field(default=None, description="true if a bar crosses the hoop behind the seat")
    bolted_door_bars: Flag = Field(default=None, description="true if the door bars' ends are removable")
    feet: Word = choice([fixing.value for fixing in Fixing], "how the feet are fixed")


class TubeTable(Table):
    """One tube, straight or bent, through the nodes named in their order."""

    name: Word = name_of("what the tube is called")
    role: Word = choice([role.value for role in Role], "what it is in the cage")
    tube: Word = Field(default=None, description='outside diameter and wall, such as "45 x 2.5 mm"')
    through: list[str] = Field(default=[], description="the nodes it runs through, in their order")
    bolted: list[str] = Field(default=[], description="those of its two ends that are removable joints")


class FeetTable(Table):
    """The nodes that stand on the shell."""

    welded: list[str] = Field(default=[], description="nodes whose feet are welded: held and clamped")
    bolted: list[str] = Field(default=[], description="nodes whose feet are bolted: held, free to turn")


class LoadTable(Table):
    """A proof load of the owner's own, such as the lateral one of the edition in his hands."""

    name: Word = name_of("what the load is called")
    case: Word = choice([case.value for case in Case], "which of the proof loads it is")
    nodes: list[str] = Field(default=[], description="the nodes that share it, alike")
    force: Number = quantity("force", "whole force")
    direction: Word = choice(WAYS, "which way it presses")
    components: Numbers = quantities("force", "in place of force and direction: forward, left, up")
    permitted_deflection: Number = quantity("length", "how far the loaded nodes may go that way")
    source: Word = Field(default=None, description="book, article and edition the load stands in")


class ProofTable(Table):
    """How the published loads are taken."""

    kilogram_counts_as: Number = quantity("force", "what a kilogram counts as in figures in daN; 10 N")
    front_corner: Word = name_of("node of the front upper corner on the driver's side")
    older_editions: Flag = Field(default=None, description="true if the loads of the 1990s decide as well")


class CageDocument(Table):
    """cage.toml."""

    name: Word = name_of("what the cage is called")
    car_mass: Number = quantity("mass", "unloaded mass of the car with the cage in it", required=True)
    driver_side: Word = choice([side.value for side in Side], "where the driver sits", required=True)
    steel: SteelTable = SteelTable()
    template: TemplateTable | None = None
    nodes: dict[str, Any] = Field(
        default={}, description="where each node is: forward, left and up of any one point"
    )
    tubes: list[TubeTable] = Field(default=[], description="tubes, each under [[tubes]]")
    feet: FeetTable = FeetTable()
    loads: list[LoadTable] = Field(default=[], description="your own loads, each under [[loads]]")
    proof: ProofTable = ProofTable()
