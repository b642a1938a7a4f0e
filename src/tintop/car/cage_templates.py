"""A cage from four measures of the cabin: main hoop, front legs, bars and stays in the usual places.

The shares of width, height and length are common practice, no source: they draw a likely cage, not yours.
The origin is on the floor, in the middle, under the main hoop.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from tintop.car.cage import CageMember, CageNode, Fixing, Foot, Role, Tube, Vector, pieces
from tintop.checks import require, within

_SIDES = (("left", 1.0), ("right", -1.0))
_OTHER = {"left": "right", "right": "left"}


class DoorBars(StrEnum):
    """How the door openings are barred."""

    CROSS = "cross"
    PARALLEL = "parallel"
    NONE = "none"


@dataclass(frozen=True, slots=True, kw_only=True)
class Template:
    """Measures of the cabin [m], tubes, and which bars there are.

    Width and height are the main hoop's outside at the floor and above it; the length runs from the hoop to
    the front feet, the stays' from the hoop back to their feet.
    """

    cabin_width: float
    cabin_height: float
    cabin_length: float
    stay_length: float
    hoop_tube: Tube
    other_tube: Tube
    diagonals: int = 2
    roof_diagonals: int = 1
    door_bars: DoorBars = DoorBars.CROSS
    has_windscreen_bar: bool = True
    has_harness_bar: bool = True
    bolted_door_bars: bool = False
    feet: Fixing = Fixing.WELDED

    def __post_init__(self) -> None:
        within(self.cabin_width, 0.7, 2.0, "template.cabin_width", "m")
        within(self.cabin_height, 0.7, 1.8, "template.cabin_height", "m")
        within(self.cabin_length, 0.7, 2.5, "template.cabin_length", "m")
        within(self.stay_length, 0.3, 2.0, "template.stay_length", "m")
        for name in ("diagonals", "roof_diagonals"):
            require(getattr(self, name) in (0, 1, 2), f"template.{name}", getattr(self, name), "0, 1 or 2")


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """Nodes, straight pieces and feet of a template."""

    nodes: tuple[CageNode, ...]
    members: tuple[CageMember, ...]
    feet: tuple[Foot, ...]


def draw(template: Template) -> Drawn:
    """Draw a template."""
    members = tuple(_tubes(template))
    used = {node for each in members for node in (each.start, each.end)}
    places = {name: place for name, place in _places(template) if name in used}
    feet = [f"{foot} foot {side}" for side, _ in _SIDES for foot in ("hoop", "front", "stay")]
    return Drawn(
        nodes=tuple(CageNode(name=name, position=place) for name, place in places.items()),
        members=members,
        feet=tuple(Foot(node=node, fixing=template.feet) for node in feet),
    )


def _places(template: Template) -> Iterator[tuple[str, Vector]]:
    width, height, length = template.cabin_width, template.cabin_height, template.cabin_length
    crossing = 0.94 * height * 0.50 / (0.50 + 0.45)
    for side, y in _SIDES:
        yield f"hoop foot {side}", (0.0, y * 0.50 * width, 0.0)
        yield f"hoop sill {side}", (0.0, y * 0.50 * width, 0.12 * height)
        yield f"hoop waist {side}", (0.0, y * 0.50 * width, crossing)
        yield f"hoop shoulder {side}", (0.0, y * 0.45 * width, 0.94 * height)
        yield f"hoop top {side}", (0.0, y * 0.37 * width, height)
        yield f"screen top {side}", (0.50 * length, y * 0.42 * width, 0.93 * height)
        yield f"screen bend {side}", (0.58 * length, y * 0.435 * width, 0.88 * height)
        yield f"dash {side}", (0.92 * length, y * 0.50 * width, crossing)
        yield f"front sill {side}", (0.97 * length, y * 0.50 * width, 0.14 * height)
        yield f"front foot {side}", (length, y * 0.50 * width, 0.03 * height)
        yield f"stay foot {side}", (-template.stay_length, y * 0.40 * width, 0.30 * height)
        yield f"door cross {side}", _door_cross(template, y, crossing)
    yield "hoop cross", (0.0, 0.0, crossing)
    yield "roof cross", (0.45 / (0.45 + 0.42) * 0.50 * length, 0.0, (0.94 - 0.01 * 0.45 / 0.87) * height)


def _door_cross(template: Template, y: float, waist: float) -> Vector:
    """Where the bar from the hoop's waist to the front sill meets that from the hoop's sill to the dash."""
    length, height = template.cabin_length, template.cabin_height
    falling = (0.14 * height - waist) / (0.97 * length)
    rising = (waist - 0.12 * height) / (0.92 * length)
    x = (waist - 0.12 * height) / (rising - falling)
    return x, y * 0.50 * template.cabin_width, waist + falling * x


def _tubes(template: Template) -> Iterator[CageMember]:
    hoop, other = template.hoop_tube, template.other_tube
    around = [f"hoop {place} left" for place in ("foot", "sill", "waist", "shoulder", "top")]
    yield from pieces(
        "main hoop", Role.MAIN_HOOP, (*around, *(n.replace("left", "right") for n in reversed(around))), hoop
    )
    for side, _ in _SIDES:
        down = ("hoop shoulder", "screen top", "screen bend", "dash", "front sill", "front foot")
        yield from pieces(f"front leg {side}", Role.FRONT_LEG, [f"{n} {side}" for n in down], hoop)
        yield from pieces(f"stay {side}", Role.STAY, (f"hoop shoulder {side}", f"stay foot {side}"), other)
        yield from _doors(template, side)
    if template.has_windscreen_bar:
        ends = ("screen top left", "screen top right")
        yield from pieces("windscreen bar", Role.WINDSCREEN_BAR, ends, other)
    if template.has_harness_bar:
        middle = ("hoop cross",) if template.diagonals else ()
        ends = ("hoop waist left", *middle, "hoop waist right")
        yield from pieces("harness bar", Role.HARNESS_BAR, ends, other)
    for _, side in zip(range(template.diagonals), _OTHER, strict=False):
        crosses = ("hoop cross",) if template.diagonals == 2 or template.has_harness_bar else ()
        through = (f"hoop foot {side}", *crosses, f"hoop shoulder {_OTHER[side]}")
        yield from pieces(f"diagonal from the {side}", Role.DIAGONAL, through, other)
    for _, side in zip(range(template.roof_diagonals), _OTHER, strict=False):
        crosses = ("roof cross",) if template.roof_diagonals == 2 else ()
        through = (f"hoop shoulder {side}", *crosses, f"screen top {_OTHER[side]}")
        yield from pieces(f"roof diagonal from the {side}", Role.ROOF_DIAGONAL, through, other)


def _doors(template: Template, side: str) -> Iterator[CageMember]:
    bars = {
        DoorBars.CROSS: (
            ("hoop waist", "door cross", "front sill"),
            ("hoop sill", "door cross", "dash"),
        ),
        DoorBars.PARALLEL: (("hoop waist", "dash"), ("hoop sill", "front sill")),
        DoorBars.NONE: (),
    }[template.door_bars]
    for number, bar in enumerate(bars, 1):
        through = [f"{node} {side}" for node in bar]
        bolted = {through[0], through[-1]} if template.bolted_door_bars else set()
        yield from pieces(f"door bar {number} {side}", Role.DOOR_BAR, through, template.other_tube, bolted)
