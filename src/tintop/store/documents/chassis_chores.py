"""What can be turned and how far, and what each change takes."""

from collections.abc import Mapping, Sequence
from functools import cache
from importlib.resources import files
from typing import Any

from tintop.car.chassis import Adjuster, Chore, End, Item
from tintop.errors import BadInput
from tintop.store.documents.chassis_document import AdjusterTable, ChoreTable
from tintop.store.documents.chassis_parts import say, say_refused
from tintop.store.documents.numbers import Numbers
from tintop.store.documents.wheel_paths_reader import toe_from
from tintop.units import parse_quantity

KINDS: Mapping[Item, str] = {
    Item.RIDE_HEIGHT: "length",
    Item.BAR: "number",
    Item.CAMBER: "angle",
    Item.TOE: "toe",
    Item.BUMP: "number",
    Item.REBOUND: "number",
    Item.BRAKE_BIAS: "number",
    Item.FINAL_DRIVE: "ratio",
    Item.BALLAST: "mass",
    Item.FUEL: "volume",
    Item.PRESSURE: "pressure",
}
OF_AN_END = frozenset(
    {
        *(Item.SPRINGS, Item.DAMPERS, Item.RIDE_HEIGHT, Item.BAR, Item.CAMBER),
        *(Item.TOE, Item.BUMP, Item.REBOUND, Item.PRESSURE),
    }
)


def read_adjusters(
    tables: Sequence[AdjusterTable], rims: Mapping[End, float], numbers: Numbers
) -> tuple[Adjuster, ...]:
    """Read what can be turned; problems are noted."""
    found: list[Adjuster] = []
    for place, table in enumerate(tables, 1):
        at = f"adjusters.{place}"
        if table.item is None:
            say(numbers, f"{at}.item", "nothing", "one of " + ", ".join(item.value for item in Item))
            continue
        item = Item(table.item)
        end = End(table.end) if table.end else None
        if (item in OF_AN_END) != (end is not None):
            expected = "front or rear" if item in OF_AN_END else f"no end: {item.value} is the whole car's"
            say(numbers, f"{at}.end", table.end or "nothing", expected)
            continue
        if any(one.item is item and one.end is end for one in found):
            say(numbers, at, f"{item.value} twice", "each item of an end once")
            continue
        adjuster = _adjuster(table, item, end, rims, at, numbers)
        if adjuster is not None:
            found.append(adjuster)
    return tuple(found)


def _adjuster(
    table: AdjusterTable, item: Item, end: End | None, rims: Mapping[End, float], at: str, numbers: Numbers
) -> Adjuster | None:
    room: dict[str, float] = {}
    if not table.choices:
        if item not in KINDS:
            say(numbers, f"{at}.choices", "nothing", f"names of {item.value}, for it is no number")
            return None
        for name in ("low", "high", "step"):
            value = _value(
                getattr(table, name), KINDS[item], rims.get(end) if end else None, f"{at}.{name}", numbers
            )
            if value is None:
                return None
            room[name] = value
    try:
        return Adjuster(item=item, end=end, choices=tuple(table.choices), **room)
    except BadInput as error:
        say_refused(numbers, f"{at}.step" if error.problems[0].where.endswith("step") else at, error)
        return None


def _value(text: str | None, kind: str, rim: float | None, path: str, numbers: Numbers) -> float | None:
    if text is None:
        say(numbers, path, "nothing", f"a {kind} with its unit, as text")
        return None
    if kind == "toe":
        return toe_from(text, rim, path, numbers) if rim is not None else None
    try:
        return parse_quantity(text, kind)
    except BadInput as error:
        problem = error.problems[0]
        say(numbers, path, problem.found, problem.expected, problem.cure)
        return None


@cache
def usual_chores() -> Mapping[Item, Chore]:
    """Give what each change usually takes; no torque, for that stands in the car's manual."""
    import tomllib

    text = files("tintop").joinpath("data/defaults/chores.toml").read_text("utf-8")
    return {Item(name): _usual(Item(name), entry) for name, entry in tomllib.loads(text).items()}


def _usual(item: Item, entry: Mapping[str, Any]) -> Chore:
    return Chore(
        item=item,
        minutes=parse_quantity(entry["value"], "time") / 60.0,
        tools=entry["tools"],
        check=entry["check"],
        needs_wheels_off=entry["wheels_off"],
    )


def read_chores(tables: Sequence[ChoreTable], numbers: Numbers) -> Mapping[Item, Chore]:
    """Give what each change takes: the usual, and over it what the owner says."""
    found = dict(usual_chores())
    for place, table in enumerate(tables, 1):
        at = f"chores.{place}"
        if table.item is None:
            say(numbers, f"{at}.item", "nothing", "one of " + ", ".join(item.value for item in Item))
            continue
        usual = found[Item(table.item)]
        if table.time is not None and not 0.0 < table.time.value <= 72 * 3600.0:
            say(numbers, f"{at}.time", table.time.text, "more than 0, at most 72 h")
            continue
        if table.torque is not None and not 1.0 <= table.torque.value <= 500.0:
            say(numbers, f"{at}.torque", table.torque.text, "1 to 500 N·m")
            continue
        found[usual.item] = Chore(
            item=usual.item,
            minutes=table.time.value / 60.0 if table.time else usual.minutes,
            tools=table.tools if table.tools is not None else usual.tools,
            check=table.check if table.check is not None else usual.check,
            torque=table.torque.value if table.torque else usual.torque,
            needs_wheels_off=usual.needs_wheels_off if table.wheels_off is None else table.wheels_off,
        )
    return found
