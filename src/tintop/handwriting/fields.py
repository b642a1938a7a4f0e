"""The fields of a run sheet: in which units a bare number is read, and from where to where.

The bounds of tyre pressure, tyre and coolant temperature, spring rate and torque are the slips a paddock
catches by eye; they and all others here are common practice, no source.
"""

import math
from dataclasses import dataclass, field

from tintop.errors import refuse
from tintop.units import unit_named, with_article


@dataclass(frozen=True, slots=True)
class Reading:
    """How a bare number may be read in one unit.

    Within `usual` (numbers of that unit, ends included) it means this unit unless another fits too; within
    `bare` it does for someone who usually writes this unit, and is offered where no unit's `usual` fits.
    """

    unit: str
    usual: tuple[float, float] | None
    bare: tuple[float, float]

    def is_usual(self, number: float) -> bool:
        """Say whether a bare number points to this unit by itself."""
        return self.usual is not None and self.usual[0] <= number <= self.usual[1]

    def may_be(self, number: float) -> bool:
        """Say whether a bare number is believable in this unit."""
        return self.bare[0] <= number <= self.bare[1]


@dataclass(frozen=True, slots=True, kw_only=True)
class Field:
    """One field: quantity, the limits of a believable value (in `limit_unit`), readings, units to show.

    `spoken` are names heard in the paddock for a unit; `fillers` words that add nothing here; `asks_outside`
    makes every bare number asked about that is outside the usual range of the usual unit, and
    `asks_where_two_fit` one that is usual in two units, whatever the usual unit.
    """

    name: str
    quantity: str
    limits: tuple[float, float]
    limit_unit: str
    readings: tuple[Reading, ...]
    spoken: dict[str, str] = field(default_factory=dict)
    fillers: tuple[str, ...] = ()
    asks_outside: bool = False
    asks_where_two_fit: bool = False

    def is_believable(self, value: float) -> bool:
        """Say whether an SI value lies within the limits of the field."""
        unit = unit_named(self.limit_unit, self.quantity)
        low, high = (number * unit.factor + unit.offset for number in self.limits)
        return low - 1e-12 * abs(low) <= value <= high + 1e-12 * abs(high)

    def expected(self) -> str:
        """Give in words what a bare number of this field looks like."""
        ranges = [
            f"{reading.usual[0]:.6g} to {reading.usual[1]:.6g} {spelled(reading.unit)}"
            for reading in self.readings
            if reading.usual is not None
        ]
        return f"{with_article(self.name)} such as " + " or ".join(ranges)


_SPELLED = {"gal_us": "US gal", "gal_uk": "imperial gal", "mpg_us": "mpg US", "mpg_uk": "mpg imperial"}


def spelled(unit: str) -> str:
    """Give the name of a unit as people write it."""
    return _SPELLED.get(unit, unit)


def _under(number: float) -> float:
    return math.nextafter(number, -math.inf)


def _over(number: float) -> float:
    return math.nextafter(number, math.inf)


_SIZES_OF_GALLON = {"us": "gal_us", "imperial": "gal_uk", "imp": "gal_uk", "uk": "gal_uk"}
_GALLON = ("gal", "gals", "gallon", "gallons")
GALLONS = {
    words: unit
    for size, unit in _SIZES_OF_GALLON.items()
    for gallon in _GALLON
    for words in (f"{size} {gallon}", f"{gallon} {size}")
}
_LITRES = dict.fromkeys(("liter", "liters", "ltr", "ltrs", "lt", "lts"), "L")
_POUNDS = {"#": "lb", "pound": "lb", "pounds": "lb", "kgs": "kg"}
_DEGREES = {"centigrade": "°C", "deg": "°C", "° c": "°C", "° f": "°F"}
_SPRINGS = {
    "lb": "lb/in", "lbs": "lb/in", "#": "lb/in", "pound": "lb/in", "pounds": "lb/in", "n": "N/mm",
    "k": "kgf/mm", "kg": "kgf/mm", "kilo": "kgf/mm",
}  # fmt: skip


def _tyre_pressure(state: str) -> Field:
    return Field(
        name=f"tyre pressure {state}",
        quantity="pressure",
        limits=(0.0, 7.0),
        limit_unit="bar",
        readings=(
            Reading("bar", (0.0, _under(5.0)), (0.0, 7.0)),
            Reading("psi", (14.0, 60.0), (9.0, 100.0)),
            Reading("kPa", (_over(100.0), 500.0), (70.0, 700.0)),
        ),
        spoken={"lb": "psi", "lbs": "psi", "pounds": "psi", "bars": "bar"},
        fillers=(state,),
    )


def _temperature(
    name: str,
    celsius: tuple[float, float],
    fahrenheit: tuple[float, float],
    bare_celsius: tuple[float, float],
    bare_fahrenheit: tuple[float, float],
    limits: tuple[float, float],
    *,
    asks_where_two_fit: bool = False,
) -> Field:
    return Field(
        name=name,
        quantity="temperature",
        asks_where_two_fit=asks_where_two_fit,
        limits=limits,
        limit_unit="°C",
        readings=(Reading("°C", celsius, bare_celsius), Reading("°F", fahrenheit, bare_fahrenheit)),
        spoken={key: unit for key, unit in _DEGREES.items() if key != "deg"},
    )


def _mass(
    name: str, kg: tuple[float, float], lb: tuple[float, float] | None, bare_lb: tuple[float, float]
) -> Field:
    return Field(
        name=name,
        quantity="mass",
        limits=(0.4 * kg[0], 2.0 * kg[1]),
        limit_unit="kg",
        readings=(Reading("kg", kg, (0.5 * kg[0], 1.5 * kg[1])), Reading("lb", lb, bare_lb)),
        spoken=_POUNDS,
    )


_ALL = (
    _tyre_pressure("cold"),
    _tyre_pressure("hot"),
    _temperature(
        "tyre temperature", (0.0, 130.0), (_over(130.0), 300.0), (-20.0, 160.0), (32.0, 320.0), (-40.0, 250.0)
    ),
    _temperature(
        "coolant temperature",
        (0.0, 140.0),
        (_over(140.0), 290.0),
        (-20.0, 150.0),
        (50.0, 300.0),
        (-40.0, 200.0),
    ),
    _temperature(
        "oil temperature", (0.0, 160.0), (_over(190.0), 360.0), (-20.0, 190.0), (140.0, 380.0), (-40.0, 250.0)
    ),
    _temperature(
        "brake fluid boiling point",
        (120.0, 340.0),
        (248.0, 644.0),
        (120.0, 340.0),
        (248.0, 644.0),
        (120.0, 340.0),
        asks_where_two_fit=True,
    ),
    _temperature(
        "ambient temperature", (-30.0, 38.0), (_over(50.0), 120.0), (-30.0, 50.0), (0.0, 120.0), (-50.0, 60.0)
    ),
    _temperature(
        "track temperature", (-20.0, 65.0), (_over(80.0), 170.0), (-20.0, 80.0), (20.0, 170.0), (-40.0, 90.0)
    ),
    _temperature(
        "disc temperature", (20.0, 900.0), (150.0, 1650.0), (20.0, 1000.0), (60.0, 1800.0), (-40.0, 1200.0)
    ),
    Field(
        name="oil pressure",
        quantity="pressure",
        limits=(0.0, 15.0),
        limit_unit="bar",
        readings=(
            Reading("bar", (0.0, 8.0), (0.0, 12.0)),
            Reading("psi", (_over(12.0), 120.0), (5.0, 180.0)),
            Reading("kPa", (_over(180.0), 900.0), (100.0, 1200.0)),
        ),
        spoken={"lb": "psi", "lbs": "psi", "pounds": "psi", "bars": "bar"},
    ),
    Field(
        name="spring rate",
        quantity="spring rate",
        limits=(5.0, 400.0),
        limit_unit="N/mm",
        readings=(
            Reading("N/mm", (15.0, 260.0), (8.0, 350.0)),
            Reading("lb/in", (100.0, 1500.0), (60.0, 2000.0)),
            Reading("kgf/mm", None, (2.0, 14.0)),
        ),
        spoken=_SPRINGS,
    ),
    Field(
        name="tread depth",
        quantity="length",
        limits=(0.0, 15.0),
        limit_unit="mm",
        readings=(Reading("mm", (0.0, 12.0), (0.0, 15.0)),),
    ),
    Field(
        name="disc thickness",
        quantity="length",
        limits=(3.0, 60.0),
        limit_unit="mm",
        readings=(Reading("mm", (5.0, 45.0), (3.0, 60.0)), Reading("in", (0.2, 1.8), (0.2, 2.2))),
    ),
    Field(
        name="ride height",
        quantity="length",
        limits=(0.0, 500.0),
        limit_unit="mm",
        readings=(Reading("mm", (30.0, 300.0), (15.0, 500.0)), Reading("in", (1.0, 12.0), (1.0, 19.0))),
    ),
    Field(
        name="torque",
        quantity="torque",
        limits=(0.5, 1500.0),
        limit_unit="N·m",
        readings=(
            Reading("N·m", (60.0, 180.0), (60.0, 180.0)),
            Reading("lb-ft", (60.0, 130.0), (60.0, 130.0)),
        ),
        spoken={
            "lb": "lb-ft",
            "lbs": "lb-ft",
            "lbs ft": "lb-ft",
            "ft lbs": "lb-ft",
            "ft-lbs": "lb-ft",
            "lbs-ft": "lb-ft",
            "foot pounds": "lb-ft",
            "pounds": "lb-ft",
            "n": "N·m",
            "newtons": "N·m",
            "newton metres": "N·m",
        },
        asks_outside=True,
    ),
    Field(
        name="fuel",
        quantity="volume",
        limits=(0.0, 250.0),
        limit_unit="L",
        readings=(
            Reading("L", (0.0, 150.0), (0.0, 250.0)),
            Reading("gal_uk", None, (0.0, 35.0)),
            Reading("gal_us", None, (0.0, 40.0)),
        ),
        spoken=GALLONS | _LITRES,
    ),
    Field(
        name="fuel per lap",
        quantity="volume",
        limits=(0.0, 30.0),
        limit_unit="L",
        readings=(
            Reading("L", (0.3, 15.0), (0.1, 25.0)),
            Reading("gal_uk", None, (0.05, 4.0)),
            Reading("gal_us", None, (0.05, 5.0)),
        ),
        spoken=GALLONS | _LITRES,
        fillers=("/lap", "per lap", "a lap"),
    ),
    _mass("car mass", (500.0, 1800.0), (1200.0, 4000.0), (1000.0, 5500.0)),
    _mass("corner mass", (100.0, 550.0), (250.0, 1200.0), (150.0, 1600.0)),
    _mass("driver mass", (40.0, 130.0), (110.0, 290.0), (80.0, 350.0)),
    Field(
        name="part mass",
        quantity="mass",
        limits=(0.0, 400.0),
        limit_unit="kg",
        readings=(
            Reading("kg", (0.0, 200.0), (0.0, 400.0)),
            Reading("lb", None, (0.0, 880.0)),
            Reading("g", None, (200.0, 50000.0)),
        ),
        spoken=_POUNDS | {"grams": "g", "gr": "g"},
    ),
    Field(
        name="distance",
        quantity="length",
        limits=(0.0, 1e6),
        limit_unit="km",
        readings=(Reading("km", (0.0, 1e6), (0.0, 1e6)), Reading("mi", (0.0, 6e5), (0.0, 6e5))),
        spoken={"kms": "km", "kilometres": "km", "k": "km"},
    ),
    Field(
        name="caster",
        quantity="angle",
        limits=(-5.0, 20.0),
        limit_unit="deg",
        readings=(
            Reading("deg", (0.0, 12.0), (-5.0, 20.0)),
            Reading("arcmin", (60.0, 720.0), (60.0, 1200.0)),
        ),
        spoken={"min": "arcmin", "minutes": "arcmin"},
    ),
)

FIELDS: dict[str, Field] = {one.name: one for one in _ALL}


def field_named(name: str) -> Field:
    """Give the field of a name; raises BadInput for an unknown one."""
    if name not in FIELDS:
        raise refuse("field", repr(name[:60]), "one of " + ", ".join(FIELDS))
    return FIELDS[name]
