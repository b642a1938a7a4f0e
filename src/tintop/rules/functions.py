"""The functions a rule book may use: arguments, result, meaning, formula."""

import math
from collections.abc import Callable
from dataclasses import dataclass

from tintop.checks import require
from tintop.physics import bolts as bolt_strength
from tintop.physics import plates, straps, threads
from tintop.rules.facts import Bolts, FactKind, FactValue, Marked, Outline, Point

NUMBER, POINT, OUTLINE, TUBE = FactKind.NUMBER, FactKind.POINT, FactKind.OUTLINE, FactKind.TUBE
ANY = ""  # as the quantity of an argument: any one, the same for all arguments that say so


@dataclass(frozen=True, slots=True)
class Argument:
    """One argument: the word for it, its kinds, and its quantity if it is a number; `ANY` for any one."""

    name: str
    kinds: tuple[FactKind, ...]
    quantity: str = ANY


@dataclass(frozen=True, slots=True)
class Function:
    """A function: arguments (the last one as often as wanted if `repeats`), result, meaning, formula, work.

    `gives` is the quantity of its number; `ANY` for that of its arguments. `work` takes values in SI.
    """

    name: str
    arguments: tuple[Argument, ...]
    gives: str
    meaning: str
    formula: str
    work: Callable[..., float]
    repeats: bool = False

    @property
    def written(self) -> str:
        """How it is written, such as "distance(from, to)"."""
        names = ", ".join(argument.name for argument in self.arguments)
        return f"{self.name}({names}{', …' if self.repeats else ''})"


def _points(*names: str) -> tuple[Argument, ...]:
    return tuple(Argument(name, (POINT,)) for name in names)


def _at(point: FactValue) -> straps.Point:
    return straps.Point(*point)  # type: ignore[misc]


def _corners(outline: Outline) -> list[plates.Corner]:
    return [plates.Corner(*corner) for corner in outline]


def _coordinate(axis: int) -> Callable[[Point], float]:
    return lambda point: point[axis]


def _numbers(*values: float | tuple[float, ...]) -> list[float]:
    return [number for value in values for number in (value if isinstance(value, tuple) else (value,))]


def _share(one: float, other: float) -> float:
    require(other != 0.0, "share", "a share of nothing", "something other than 0 to take a share of")
    return one / other


_ISO_898_1 = ("4.6", "4.8", "5.6", "5.8", "6.8", "8.8", "9.8", "10.9", "12.9")  # from memory


def _bolt_class(bolts: Bolts) -> float:
    if not bolts.strength_class:
        return 0.0
    require(
        bolts.strength_class in _ISO_898_1,
        "strength class",
        repr(bolts.strength_class),
        f"a class of ISO 898-1 ({', '.join(_ISO_898_1)})",
        "Another system's class cannot be set against it by number; ask the scrutineer.",
    )
    return float(bolts.strength_class)


def _thread(bolts: Bolts) -> str:
    if bolts.thread:
        return bolts.thread
    for thread in threads.THREADS.values():
        if math.isclose(thread.diameter, bolts.diameter, rel_tol=1e-6):
            require(
                not thread.is_unified,
                "thread",
                f"{bolts.diameter / 0.0254:g} in, without pitch or series",
                f"the thread by name, such as {thread.name}",
                "Coarse and fine threads of one diameter carry differently; record it with its thread.",
            )
            return thread.name
    return f"M{1e3 * bolts.diameter:g}"  # refused by name below


def _marked_class(bolts: Bolts) -> str:
    require(
        bool(bolts.strength_class),
        "strength class",
        "bolts without a mark",
        "a class on the bolt's head",
        "A bolt without a mark has no known strength: fit marked ones.",
    )
    return bolts.strength_class


def _bearing(bolts: Bolts, hole: float, thickness: float, strength: float, end: float, edge: float) -> float:
    return bolt_strength.bearing_capacity(
        thread=_thread(bolts),
        grade=_marked_class(bolts),
        hole=hole,
        thickness=thickness,
        plate_tensile=strength,
        end_distance=end,
        edge_distance=edge,
        count=bolts.count,
    ).value


def _bolt_section(bolts: Bolts) -> float:
    return math.pi / 4.0 * 1e-14 * threads.nominal_section(bolts.count, bolts.diameter)


def _year(marked: Marked) -> float:
    return float(marked.day.year)


_TWO = _points("from", "to")
_BOLTS = (Argument("bolts", (FactKind.BOLTS,)),)
_TUBE = (Argument("tube", (TUBE,)),)
_OUTLINE = (Argument("outline", (OUTLINE,)),)
_SOME = (Argument("values", (NUMBER, FactKind.NUMBERS)),)
_SHEET = (Argument("thickness", (NUMBER,), "length"), Argument("tensile strength", (NUMBER,), "pressure"))

FUNCTIONS: dict[str, Function] = {
    function.name: function
    for function in (
        Function(
            "angle_below",
            _TWO,
            "angle",
            "how far a strap falls rearwards below horizontal, in side view; negative: the anchor is higher",
            "atan2(z1 − z2, x1 − x2)",
            lambda a, b: straps.angle_below_horizontal(_at(a), _at(b)),
        ),
        Function(
            "plan_angle",
            _TWO,
            "angle",
            "angle to the car's centre line, seen from above, 0 to 90 deg",
            "atan2(|y1 − y2|, |x1 − x2|)",
            lambda a, b: straps.plan_angle(_at(a), _at(b)),
        ),
        Function(
            "angle_from_vertical",
            _TWO,
            "angle",
            "how far a tube leans from vertical, in side view, 0 to 90 deg",
            "atan2(|x1 − x2|, |z1 − z2|)",
            lambda a, b: straps.angle_from_vertical(_at(a), _at(b)),
        ),
        Function(
            "stay_angle",
            _points("top", "foot"),
            "angle",
            "how far a stay leans rearwards from vertical, in side view; negative: the foot is ahead",
            "atan2(x1 − x2, z1 − z2)",
            lambda a, b: straps.stay_angle(_at(a), _at(b)),
        ),
        Function(
            "lap_angle",
            _points("hip point", "anchor"),
            "angle",
            "how steeply a lap strap falls from the hip to its anchor, in side view",
            "atan2(z1 − z2, x1 − x2)",
            lambda a, b: straps.angle_below_horizontal(_at(a), _at(b)),
        ),
        Function(
            "crotch_angle",
            (*_points("crotch", "anchor"), Argument("chest's lean from vertical", (NUMBER,), "angle")),
            "angle",
            "how far a crotch strap runs behind the chest line carried on downwards",
            "atan2(x1 − x2, z1 − z2) + lean",
            lambda a, b, lean: straps.angle_behind_chest(_at(a), _at(b), lean),
        ),
        Function(
            "distance",
            _TWO,
            "length",
            "distance between two points",
            "√((x1 − x2)² + (y1 − y2)² + (z1 − z2)²)",
            math.dist,
        ),
        Function("x", _points("point"), "length", "how far forward a point is", "x", _coordinate(0)),
        Function("y", _points("point"), "length", "how far to the left a point is", "y", _coordinate(1)),
        Function("z", _points("point"), "length", "how high a point is", "z", _coordinate(2)),
        Function(
            "abs", (Argument("value", (NUMBER,)),), ANY, "the size of a number without its sign", "|a|", abs
        ),
        Function(
            "min",
            _SOME,
            ANY,
            "the least of several numbers",
            "min",
            lambda *v: min(_numbers(*v)),
            repeats=True,
        ),
        Function(
            "max",
            _SOME,
            ANY,
            "the greatest of several numbers",
            "max",
            lambda *v: max(_numbers(*v)),
            repeats=True,
        ),
        Function(
            "mean",
            _SOME,
            ANY,
            "the mean of several numbers",
            "Σ a / n",
            lambda *v: math.fsum(_numbers(*v)) / len(_numbers(*v)),
            repeats=True,
        ),
        Function(
            "count",
            (Argument("list", (FactKind.NUMBERS, FactKind.NAMES)),),
            "number",
            "how many are in a list",
            "n",
            lambda v: float(len(v)),
        ),
        Function("diameter", _TUBE, "length", "outside diameter of a tube", "D", lambda v: v.diameter),
        Function("wall", _TUBE, "length", "wall of a tube", "t", lambda v: v.wall),
        Function(
            "area",
            _OUTLINE,
            "area",
            "area inside a drawn outline",
            "½ |Σ (x1 y2 − x2 y1)|",
            lambda v: plates.outline_area(_corners(v)),
        ),
        Function(
            "perimeter",
            _OUTLINE,
            "length",
            "length round a drawn outline",
            "Σ side",
            lambda v: plates.perimeter(_corners(v)),
        ),
        Function(
            "least_width",
            _OUTLINE,
            "length",
            "least width of a plate between two straight edges",
            "min width",
            lambda v: plates.least_width(_corners(v)),
        ),
        Function("bolt_section", _BOLTS, "area", "nominal section of all bolts", "n π d² / 4", _bolt_section),
        Function("bolt_count", _BOLTS, "number", "how many bolts", "n", lambda v: float(v.count)),
        Function("bolt_diameter", _BOLTS, "length", "thread diameter of a bolt", "d", lambda v: v.diameter),
        Function(
            "bolt_class",
            _BOLTS,
            "number",
            "class of a bolt by ISO 898-1 as a number, 0 if unmarked",
            "class",
            _bolt_class,
        ),
        Function(
            "bolt_tension",
            _BOLTS,
            "force",
            "what all bolts together carry in straight tension",
            "n 0.9 Rm As / 1.25 (EN 1993-1-8 table 3.4)",
            lambda v: bolt_strength.tension_capacity(_thread(v), _marked_class(v), v.count).value,
        ),
        Function(
            "bolt_shear",
            _BOLTS,
            "force",
            "what all bolts together carry across, thread in the plane",
            "n 0.6 (10.9: 0.5) Rm As / 1.25 (EN 1993-1-8 table 3.4)",
            lambda v: bolt_strength.shear_capacity(_thread(v), _marked_class(v), v.count).value,
        ),
        Function(
            "bearing",
            (
                *_BOLTS,
                Argument("hole", (NUMBER,), "length"),
                *_SHEET,
                Argument("end distance", (NUMBER,), "length"),
                Argument("edge distance", (NUMBER,), "length"),
            ),
            "force",
            "what a plate carries at the sides of its bolt holes",
            "n k1 ab Rm d t / 1.25 (EN 1993-1-8 table 3.4)",
            _bearing,
        ),
        Function(
            "pull_out",
            (Argument("perimeter", (NUMBER,), "length"), *_SHEET),
            "force",
            "what it takes to punch a plate, washer or head through the sheet",
            "0.6 u t Rm / 1.25 (EN 1993-1-8 table 3.4)",
            lambda u, t, strength: bolt_strength.pull_through_capacity(u, t, strength).value,
        ),
        Function(
            "share",
            (Argument("part", (NUMBER,)), Argument("of", (NUMBER,))),
            "share",
            "one number as a share of another",
            "a / b",
            _share,
        ),
        Function(
            "year",
            (Argument("date", (FactKind.MARKED,)),),
            "number",
            "the year of a date on a label",
            "year",
            _year,
        ),
    )
}

CHOOSES = "if"  # if(condition, a, b): a where the condition holds, else b; both of one quantity
FUNCTION_NAMES = (*FUNCTIONS, CHOOSES)
