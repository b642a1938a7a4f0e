"""The parts of a chassis document: springs, anti-roll bars and dampers."""

from collections.abc import Mapping, Sequence

from tintop.car.chassis import MOST_CLICKS, Bar, Damper, DamperSide, Offer, Spring
from tintop.car.setup import NO_BAR
from tintop.errors import BadInput
from tintop.known import Known, Origin
from tintop.physics.ride import roll_stiffness_of_bar, torsion_bar_rate
from tintop.store.documents.chassis_document import BarTable, DamperSideTable, DamperTable, SpringTable
from tintop.store.documents.fields import declared
from tintop.store.documents.numbers import Numbers, as_known, in_usual_unit
from tintop.store.documents.written import Number, Table, Written

_DEAREST = 1e6  # of a part, in the garage's money
_STEEL = 80e9  # shear modulus of spring steel [Pa]; from memory: 79 to 81 GPa (Shigley)
_STEEL_MEASURES = ("diameter", "length", "arms", "link_motion_ratio")


def kinds_within(model: type[Table], prefix: str) -> Mapping[str, str]:
    """Give the kind of quantity of every field of a table that stands below a prefix."""
    return {prefix + field.path: field.kind for field in declared(model)}


def say(numbers: Numbers, path: str, found: object, expected: str, cure: str = "") -> None:
    """Note a problem at a field."""
    numbers.problems.append(numbers.document.problem(path, found, expected, cure))


def say_refused(numbers: Numbers, path: str, error: BadInput, written: Number = None, kind: str = "") -> None:
    """Note what a value refused while it was built, with the owner's text and units where it is one value."""
    for each in error.problems:
        found = repr(written.text) if written else f"{each.found} ({each.where})"
        say(numbers, path, found, in_usual_unit(each.expected, kind) if kind else each.expected, each.cure)


def offer(table: SpringTable | BarTable | DamperTable, path: str, numbers: Numbers) -> Offer:
    """What a part costs, and whether it is on the shelf."""
    cents = None
    if table.price is not None:
        if not 0.0 <= table.price.value <= _DEAREST:
            say(numbers, f"{path}.price", table.price.text, f"a price from 0 to {_DEAREST:.0f}")
        else:
            cents = round(100 * table.price.value)
    return Offer(price_cents=cents, is_owned=table.owned is not False)


def read_springs(tables: Sequence[SpringTable], path: str, numbers: Numbers) -> tuple[Spring, ...]:
    """Read springs by name, each with a rate; problems are noted."""
    found = []
    if not tables:
        say(numbers, path, "nothing", f'the springs fitted, under [[{path}]], such as rate = "70 N/mm"')
    for place, table in enumerate(tables, 1):
        at = f"{path}.{place}"
        name = _name(table.name, table.rate.text if table.rate else "", at, numbers)
        if table.rate is None:
            say(numbers, f"{at}.rate", "nothing", 'the rate of one spring, such as "70 N/mm" or "400 lb/in"')
            continue
        free = numbers.get(f"{at}.free_length") if table.free_length else None
        try:
            found.append(
                Spring(
                    name=name,
                    rate=numbers.get(f"{at}.rate"),
                    free_length=free,
                    offer=offer(table, at, numbers),
                )
            )
        except BadInput as error:
            is_rate = "rate" in error.problems[0].where
            field, kind = ("rate", "spring rate") if is_rate else ("free_length", "length")
            say_refused(numbers, f"{at}.{field}", error, getattr(table, field), kind)
    _once([spring.name for spring in found], path, numbers)
    return tuple(found)


def read_bars(
    tables: Sequence[BarTable], path: str, track: float, numbers: Numbers, choices: dict[str, str]
) -> tuple[Bar, ...]:
    """Read anti-roll bars; without one the axle has the bar "none", which does nothing."""
    if not tables:
        choices[path] = "no anti-roll bar"
        return (Bar(name=NO_BAR, roll_stiffness=(0.0,)),)
    found = []
    for place, table in enumerate(tables, 1):
        at = f"{path}.{place}"
        name = _name(table.name, "", at, numbers)
        stiffness = _roll_stiffness(table, at, track, numbers)
        if not stiffness:
            continue
        try:
            found.append(Bar(name=name, roll_stiffness=stiffness, offer=offer(table, at, numbers)))
        except BadInput as error:
            say_refused(numbers, f"{at}.{'arms' if table.arms else 'roll_stiffness'}", error)
    _once([bar.name for bar in found], path, numbers)
    return tuple(found)


def _roll_stiffness(table: BarTable, at: str, track: float, numbers: Numbers) -> tuple[float, ...]:
    measures = [name for name in _STEEL_MEASURES if getattr(table, name) is not None]
    if table.roll_stiffness and not measures:
        _take_factor(f"{at}.roll_stiffness", table.roll_stiffness[0], "roll stiffness", numbers)
        return tuple(one.value for one in table.roll_stiffness)
    if table.roll_stiffness or len(measures) < len(_STEEL_MEASURES):
        lacking = [name for name in _STEEL_MEASURES if name not in measures]
        found = (
            f"{', '.join(measures)} beside roll_stiffness"
            if table.roll_stiffness
            else (f"a bar without {', '.join(lacking)}")
        )
        say(
            numbers,
            at,
            found,
            "roll_stiffness per hole, or " + ", ".join(_STEEL_MEASURES) + " of a steel bar",
        )
        return ()
    steel = numbers.get(f"{at}.shear_modulus") if table.shear_modulus else _STEEL
    diameter, length, link = (
        numbers.get(f"{at}.{name}") for name in ("diameter", "length", "link_motion_ratio")
    )
    arms = [one.value for one in table.arms or ()]
    for name, value, low, high in (
        ("diameter", diameter, 0.008, 0.06),
        ("length", length, 0.2, 2.0),
        ("link_motion_ratio", link, 0.1, 1.2),
        *(("arms", arm, 0.03, 0.8) for arm in arms),
    ):
        if not low <= value <= high:
            unit = "" if name == "link_motion_ratio" else " mm"
            factor = 1e3 if unit else 1.0
            say(
                numbers,
                f"{at}.{name}",
                f"{factor * value:g}{unit}",
                f"{factor * low:g} to {factor * high:g}{unit}",
            )
            return ()
    rate = torsion_bar_rate(diameter, length, steel)
    doubt = sum(
        (power * numbers.known[f"{at}.{name}"].uncertainty / numbers.get(f"{at}.{name}")) ** 2
        for name, power in (("diameter", 4.0), ("length", 1.0), ("link_motion_ratio", 2.0))
    )
    known = Known(
        value=1.0,
        uncertainty=doubt**0.5,
        origin=Origin.ESTIMATED,
        note="from the bar's steel and its arms",
        source="torsion of a round bar with stiff arms",
    )
    numbers.take(f"{at}.roll_stiffness", known)
    return tuple(roll_stiffness_of_bar(rate, arm, link, track) for arm in arms)


def read_dampers(
    tables: Sequence[DamperTable], path: str, numbers: Numbers, choices: dict[str, str]
) -> tuple[Damper, ...]:
    """Read dampers, each with curves or ratios per click in both directions, or by name only."""
    found = []
    for place, table in enumerate(tables, 1):
        at = f"{path}.{place}"
        name = _name(table.name, "", at, numbers)
        bump = _damper_side(table.bump, f"{at}.bump", numbers, choices)
        rebound = _damper_side(table.rebound, f"{at}.rebound", numbers, choices)
        if bump is not None and rebound is not None:
            found.append(
                Damper(
                    name=name,
                    bump=bump,
                    rebound=rebound,
                    is_linked=bool(table.one_knob),
                    offer=offer(table, at, numbers),
                )
            )
    if not tables:
        say(
            numbers,
            path,
            "nothing",
            f"the dampers fitted, under [[{path}]]: a name at least, and their curves where known",
        )
    _once([damper.name for damper in found], path, numbers)
    return tuple(found)


def _damper_side(
    table: DamperSideTable, at: str, numbers: Numbers, choices: dict[str, str]
) -> DamperSide | None:
    if not table.curves:
        most = 0 if table.most_clicks is None else _whole(table.most_clicks, f"{at}.most_clicks", numbers)
        choices[f"{at}.curves"] = "unknown: nothing says what force it gives, and none is made up"
        return DamperSide(most_clicks=most or 0, clicks=(0,))
    clicks = [
        _whole(one.click, f"{at}.curves.{place}.click", numbers) for place, one in enumerate(table.curves, 1)
    ]
    most = 0 if table.most_clicks is None else _whole(table.most_clicks, f"{at}.most_clicks", numbers)
    if most is None or any(click is None for click in clicks):
        return None
    first = next((one.forces[0] for one in table.curves if one.forces), None)
    if first is not None:
        _take_factor(f"{at}.forces", first, "force", numbers)
    elif (ratio := table.curves[0].ratio) is not None:
        _take_factor(f"{at}.ratios", ratio, "number", numbers)
    try:
        return DamperSide(
            most_clicks=most,
            clicks=tuple(click for click in clicks if click is not None),
            speeds=tuple(one.value for one in table.speeds or ()),
            forces=tuple(tuple(force.value for force in one.forces) for one in table.curves if one.forces),
            ratios=tuple(one.ratio.value for one in table.curves if one.ratio is not None),
        )
    except BadInput as error:
        say_refused(numbers, f"{at}.{'speeds' if 'speeds' in error.problems[0].where else 'curves'}", error)
        return None


def _whole(written: Number, path: str, numbers: Numbers) -> int | None:
    if written is None or written.value != int(written.value) or not 0 <= written.value <= MOST_CLICKS:
        say(
            numbers,
            path,
            repr(written.text) if written else "nothing",
            f"a whole number of clicks from full soft, 0 to {MOST_CLICKS}",
        )
        return None
    return int(written.value)


def _take_factor(path: str, written: Written, kind: str, numbers: Numbers) -> None:
    """Note how a curve is known: as the first of its values is, with its relative uncertainty."""
    known = as_known(written, kind)
    share = known.uncertainty / abs(known.value) if known.value else 0.1
    numbers.take(
        path,
        Known(value=1.0, uncertainty=share, origin=known.origin, note=known.note, source=known.source),
    )


def _name(name: str | None, otherwise: str, at: str, numbers: Numbers) -> str:
    if not name and not otherwise:
        say(numbers, f"{at}.name", "nothing", "a name, by which set-ups choose it")
    return name or otherwise


def _once(names: Sequence[str], path: str, numbers: Numbers) -> None:
    for name in dict.fromkeys(names):
        if names.count(name) > 1:
            say(numbers, path, f"the name {name!r} {names.count(name)} times", "each name once")
