"""The parts of a cage document: places, tubes, the template and the owner's own loads."""

import math
import re
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any, TypeVar

from tintop.car.cage import Cage, CageLoad, Case, Fixing, KnownHow, Tube, Vector
from tintop.car.cage_sharing import shared_alike
from tintop.car.cage_templates import DoorBars, Drawn, Template, draw
from tintop.errors import BadInput, Problem, did_you_mean
from tintop.store.documents.cage_document import WAYS, LoadTable, TemplateTable
from tintop.store.documents.text import Document
from tintop.store.documents.written import Written, read_written, shown
from tintop.units import parse_quantity

_Value = TypeVar("_Value")
_SIZE = re.compile(r"\s*([0-9.,]+)\s*[x×*]\s*([0-9.,]+)\s*(mm|in|inch|\")\s*")
_MEASURES = ("cabin_width", "cabin_height", "cabin_length", "stay_length")


class Notes:
    """Problems found so far in a document."""

    def __init__(self, document: Document) -> None:
        self.document = document
        self.problems: list[Problem] = []

    def say(self, path: str, found: str, expected: str, cure: str = "") -> None:
        """Note a problem at a field."""
        self.problems.append(self.document.problem(path, found, expected, cure))

    def required(self, value: _Value | None, path: str, expected: str) -> _Value | None:
        """Note that a field is missing, if it is; give its value."""
        if value is None:
            self.say(path, "nothing", expected)
        return value

    @contextmanager
    def at(self, path: str) -> Iterator[None]:
        """Note what a value refuses while it is built below a path."""
        try:
            yield
        except BadInput as error:
            for each in error.problems:
                field = each.where.rpartition(".")[2]
                self.say(f"{path}.{field}" if path else field, each.found, each.expected, each.cure)

    def raise_any(self) -> None:
        """Raise BadInput with all that was noted."""
        if self.problems:
            raise BadInput(*dict.fromkeys(self.problems))


def read_place(name: str, raw: Any, notes: Notes) -> Vector | None:
    """Read where a node is: three lengths, forward, left and up."""
    path = f"nodes.{name}"
    if not isinstance(raw, list) or len(raw) != 3:
        notes.say(path, shown(raw), 'three lengths: forward, left, up, such as ["0 mm", "625 mm", "0 mm"]')
        return None
    places = []
    for axis, each in zip(("forward", "left", "up"), raw, strict=True):
        try:
            written = read_written(each, "length")
        except BadInput as error:
            problem = error.problems[0]
            notes.say(path, f"{problem.found} for {axis}", problem.expected, problem.cure)
            return None
        if written is None:
            notes.say(path, f"'unknown' for {axis}", "a length")
            return None
        places.append(written.value)
    return places[0], places[1], places[2]


def read_tube(text: str | None, path: str, notes: Notes) -> Tube | None:
    """Read "45 x 2.5 mm": outside diameter and wall."""
    example = 'outside diameter and wall, such as "45 x 2.5 mm" or "1.75 x 0.095 in"'
    match = _SIZE.fullmatch(text) if text is not None else None
    if match is None:
        notes.say(path, "nothing" if text is None else repr(text[:40]), example)
        return None
    try:
        diameter, wall = (parse_quantity(f"{match[place]} {match[3]}", "length") for place in (1, 2))
    except BadInput as error:
        notes.say(path, error.problems[0].found, example)
        return None
    try:
        return Tube(diameter=diameter, wall=wall)
    except BadInput as error:
        for each in error.problems:
            notes.say(
                path, f"{text!r}: {each.where.rpartition('.')[2]} {each.found}", each.expected, each.cure
            )
    return None


def drawn_template(table: TemplateTable, notes: Notes) -> Drawn | None:
    """Draw the template of a document."""
    measures: dict[str, Any] = {}
    for name in _MEASURES:
        written = notes.required(getattr(table, name), f"template.{name}", "a length")
        if written is not None:
            measures[name] = written.value
    for name in ("hoop_tube", "other_tube"):
        measures[name] = read_tube(getattr(table, name), f"template.{name}", notes)
    for name in ("diagonals", "roof_diagonals"):
        count: Written | None = getattr(table, name)
        if count is not None:
            measures[name] = int(count.value) if count.value.is_integer() else count.value
    flags = {
        "has_windscreen_bar": table.windscreen_bar,
        "has_harness_bar": table.harness_bar,
        "bolted_door_bars": table.bolted_door_bars,
    }
    measures |= {name: flag for name, flag in flags.items() if flag is not None}
    if table.door_bars is not None:
        measures["door_bars"] = DoorBars(table.door_bars)
    if table.feet is not None:
        measures["feet"] = Fixing(table.feet)
    if notes.problems:
        return None
    with notes.at("template"):
        template = Template(**measures)
        return draw(template)
    return None


def own_load(table: LoadTable, path: str, cage: Cage, notes: Notes) -> CageLoad | None:
    """Read a load of the owner's own."""
    before = len(notes.problems)
    name = notes.required(table.name, f"{path}.name", "what the load is called")
    case = notes.required(table.case, f"{path}.case", "one of " + ", ".join(case.value for case in Case))
    source = notes.required(table.source, f"{path}.source", "book, article and edition it stands in")
    known = [node.name for node in cage.nodes]
    feet = {foot.node for foot in cage.feet}
    if not table.nodes:
        notes.say(f"{path}.nodes", "nothing", "the nodes that share the load, in a list")
    for node in table.nodes:
        if node in feet:
            notes.say(
                f"{path}.nodes", f"the foot {node!r}", "nodes on the tubes, not a force straight into feet"
            )
        elif node not in known:
            notes.say(
                f"{path}.nodes", f"the unknown node {node!r}", "nodes of the cage", did_you_mean(node, known)
            )
    vector = _vector(table, path, notes)
    if len(notes.problems) > before or name is None or case is None or source is None or vector is None:
        return None
    force = math.hypot(*vector)
    press = (vector[0] / force, vector[1] / force, vector[2] / force)
    permitted = table.permitted_deflection
    if permitted is not None and permitted.value <= 0.0:
        notes.say(f"{path}.permitted_deflection", repr(permitted.text), "more than nothing")
    return CageLoad(
        name=name,
        case=Case(case),
        forces=shared_alike(list(dict.fromkeys(table.nodes)), press, force),
        axes=(press,),
        permitted_deflection=permitted.value if permitted else None,
        known=KnownHow.YOURS,
        source=source,
    )


def _vector(table: LoadTable, path: str, notes: Notes) -> Vector | None:
    if table.components is not None:
        parts = [each.value for each in table.components]
        if len(parts) != 3 or math.hypot(*parts) <= 0.0:
            notes.say(
                f"{path}.components", f"{len(parts)} forces", "three, not all nothing: forward, left, up"
            )
            return None
        return parts[0], parts[1], parts[2]
    force = notes.required(table.force, f"{path}.force", "a force such as 30 kN")
    way = notes.required(table.direction, f"{path}.direction", "one of " + ", ".join(WAYS))
    if force is None or way is None:
        return None
    if force.value <= 0.0:
        notes.say(f"{path}.force", repr(force.text), "more than nothing; the direction says which way")
        return None
    x, y, z = WAYS[way]
    return x * force.value, y * force.value, z * force.value
