"""The set-up sheet on one page: each value, beside boxes for what was set and what stood there at the end."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date

from tintop.car.chassis import CORNERS, Chassis, End, Item
from tintop.car.setup import Setup
from tintop.car.setup_differences import Difference, Value, ballast_words, bar_words, has_one_knob
from tintop.car.setup_words import value_words
from tintop.owner_units import in_owner_units
from tintop.papers.content import plain, shortened

CAUTION = (
    "Car on stands before any work beneath it. Wheel nuts by torque wrench, and again after the first "
    "session or 50 km. Pedal firm before it moves. A working aid, not a proof of legality."
)
_AT_A_WHEEL = (
    (Item.CAMBER, "camber", "camber"),
    (Item.TOE, "toe, own", "toe"),
    (Item.RIDE_HEIGHT, "ride height", "ride_height"),
    (Item.BUMP, "bump, from soft", "bump"),
    (Item.REBOUND, "rebound, from soft", "rebound"),
    (Item.PRESSURE, "cold pressure", "pressure_cold"),
)
_BY_HAND = (
    "date",
    "circuit, surface",
    "air and road",
    "wind",
    "driver, mass",
    "tyre set, age",
    "caster, left and right",
    "bump-stop gap, front and rear",
    "discs, front and rear",
    "oil, gearbox oil",
    "who measured",
    "gauges used",
)
_LONGEST = 44


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One value of the sheet; `was` is what it was in the set-up before, empty where it is the same."""

    name: str
    value: str
    was: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class SetupPaper:
    """The sheet, finished text throughout; `by_hand` are the blanks of its head."""

    title: str
    purpose: str
    car: str
    changed_from: str
    day: date
    by_hand: tuple[str, ...]
    corners: tuple[tuple[str, tuple[Row, ...]], ...]  # FL FR RL RR
    axles: tuple[tuple[str, tuple[Row, ...]], ...]  # front, rear
    whole: tuple[Row, ...]
    note: str
    torque: str
    caution: str
    not_legal: str = ""


def setup_paper(
    setup: Setup,
    chassis: Chassis,
    *,
    car: str,
    day: date,
    units: Mapping[str, str],
    before: Setup | None = None,
    changed: tuple[Difference, ...] = (),
    not_legal: str = "",
    front_share: float | None = None,
) -> SetupPaper:
    """Gather the sheet; `changed` are the differences from the set-up `before`, marked on it.

    `not_legal` stands on top; `front_share` is the front's share of the braking that the turns come to.
    """
    was = {(each.item, each.place): each for each in changed}

    def words(item: Item, value: Value, rim: float) -> str:
        said = value_words(item, value, rim, units)
        return shortened(plain(said.removesuffix(" from full soft")), _LONGEST)

    def row(item: Item, name: str, place: str, value: Value, rim: float = 0.0) -> Row:
        old = was.get((item, place))
        return Row(name=name, value=words(item, value, rim), was=words(item, old.before, rim) if old else "")

    def of_corner(place: int) -> Iterator[Row]:
        end = End.FRONT if place < 2 else End.REAR
        rim = chassis.at(end).rim_diameter
        one_knob = has_one_knob(setup, chassis, end)
        for item, name, field in _AT_A_WHEEL:
            if item is Item.BUMP and one_knob:
                continue
            label = "clicks, from soft" if item is Item.REBOUND and one_knob else name
            yield row(item, label, CORNERS[place], float(getattr(setup.corners[place], field)), rim)

    def of_axle(end: End) -> tuple[Row, ...]:
        chosen = setup.at(end)
        return (
            row(Item.SPRINGS, "springs", end.value, _spring(chassis, setup, end, units)),
            row(Item.BAR, "anti-roll bar", end.value, bar_words(setup, end)),
            row(Item.DAMPERS, "dampers", end.value, chosen.damper),
        )

    wheel_nuts = chassis.chores.get(Item.TYRES)
    return SetupPaper(
        title=shortened(plain(setup.name), 60),
        purpose=setup.purpose.value + (f", {plain(setup.circuit)}" if setup.circuit else ""),
        car=shortened(plain(car), 60),
        changed_from=shortened(plain(before.name), 40) if before else "",
        day=day,
        by_hand=_BY_HAND,
        corners=tuple((corner, tuple(of_corner(place))) for place, corner in enumerate(CORNERS)),
        axles=tuple((end.value, of_axle(end)) for end in End),
        whole=(
            row(Item.TYRES, "tyres", "", setup.tyres),
            row(Item.PADS, "pads", "", setup.pads),
            _with_share(row(Item.BRAKE_BIAS, "brake bias", "", setup.brake_bias_turns), front_share),
            row(Item.FINAL_DRIVE, "final drive", "", setup.final_drive),
            row(Item.BALLAST, "ballast", "", ballast_words(setup)),
            row(Item.FUEL, "fuel at the start", "", setup.fuel_volume),
        ),
        note=shortened(plain(setup.note), 240),
        torque=in_owner_units(wheel_nuts.torque, "torque", units) if wheel_nuts and wheel_nuts.torque else "",
        caution=CAUTION,
        not_legal=shortened(plain(not_legal), 400),
    )


def _with_share(row: Row, front_share: float | None) -> Row:
    return (
        row if front_share is None else replace(row, value=f"{row.value}; {100.0 * front_share:.0f} % front")
    )


def _spring(chassis: Chassis, setup: Setup, end: End, units: Mapping[str, str]) -> str:
    name = setup.at(end).spring
    rate = in_owner_units(chassis.at(end).spring(name).rate, "spring rate", units)
    return name if rate.split(" ")[0] in name else f"{name}, {rate}"
