"""What can be read outside a session, and how each is typed."""

from collections.abc import Mapping
from dataclasses import dataclass

from tintop.handwriting import Understood
from tintop.handwriting.fields import FIELDS
from tintop.logbook.entries import Corner, Matter, Measure, Reading
from tintop.web.formats import quantity
from tintop.web.typed_form import CORNERS, TypedForm


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """One kind of reading: its address, what it measures, how it is read, and where it is taken.

    `places` are the several at one spot; `words` asks for a word on how or where, such as "driver aboard".
    """

    address: str
    title: str
    measure: Measure
    field: str
    is_by_corner: bool = True
    places: tuple[str, ...] = ("",)
    words: str = ""


KINDS: Mapping[str, Kind] = {
    kind.address: kind
    for kind in (
        Kind(
            address="pads",
            title="Pad thickness",
            measure=Measure.PAD_THICKNESS,
            field="pad thickness",
            places=("inner pad", "outer pad"),
        ),
        Kind(address="tread", title="Tread depth", measure=Measure.TREAD_DEPTH, field="tread depth"),
        Kind(
            address="discs",
            title="Disc thickness",
            measure=Measure.DISC_THICKNESS,
            field="disc thickness",
        ),
        Kind(
            address="corner-loads",
            title="Corner loads",
            measure=Measure.CORNER_LOAD,
            field="corner mass",
            words="How it stood, such as driver aboard",
        ),
        Kind(
            address="mass",
            title="Mass of the car",
            measure=Measure.MASS,
            field="car mass",
            is_by_corner=False,
        ),
        Kind(
            address="cold-pressures",
            title="Pressures, cold",
            measure=Measure.PRESSURE_COLD,
            field="tyre pressure cold",
        ),
        Kind(
            address="hot-pressures",
            title="Pressures, hot",
            measure=Measure.PRESSURE_HOT,
            field="tyre pressure hot",
        ),
        Kind(
            address="fuel", title="Fuel aboard", measure=Measure.FUEL_ABOARD, field="fuel", is_by_corner=False
        ),
        Kind(
            address="coolant",
            title="Coolant temperature",
            measure=Measure.COOLANT_TEMP,
            field="coolant temperature",
            is_by_corner=False,
        ),
        Kind(
            address="oil",
            title="Oil temperature",
            measure=Measure.OIL_TEMP,
            field="oil temperature",
            is_by_corner=False,
        ),
        Kind(
            address="oil-pressure",
            title="Oil pressure",
            measure=Measure.OIL_PRESSURE,
            field="oil pressure",
            is_by_corner=False,
            words="When, such as hot, 3,000 rpm",
        ),
        Kind(
            address="brake-fluid",
            title="Brake fluid boiling point",
            measure=Measure.FLUID_BOILING,
            field="brake fluid boiling point",
            is_by_corner=False,
            words="Where it was taken, such as reservoir",
        ),
        Kind(
            address="torque",
            title="Torque",
            measure=Measure.TORQUE,
            field="torque",
            is_by_corner=False,
            words="Of what, such as wheel nuts FL",
        ),
    )
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """One field of a kind: its name, where it is taken, and what stands over it."""

    name: str
    label: str
    corner: Corner
    place: str


def spots_of(kind: Kind) -> tuple[Spot, ...]:
    """The fields of a kind, in the car's arrangement."""
    if not kind.is_by_corner:
        return (Spot(name="value", label=kind.title, corner="", place=""),)
    return tuple(
        Spot(
            name=f"value_{place.partition(' ')[0] or 'at'}_{corner}",
            label=place or corner,
            corner=corner,
            place=place,
        )
        for corner in CORNERS
        for place in kind.places
    )


def field_of(measure: Measure) -> str:
    """How a measure is read from what is typed; empty for one nobody types here."""
    if measure in (Measure.TREAD_TEMP_INNER, Measure.TREAD_TEMP_MIDDLE, Measure.TREAD_TEMP_OUTER):
        return "tyre temperature"
    return next((kind.field for kind in KINDS.values() if kind.measure is measure), "")


def read_spots(form: TypedForm, kind: Kind) -> list[tuple[Spot, Reading]]:
    """The readings typed into the fields of a kind; what is asked or wrong stands in the form."""
    words = form.words("words")
    found: list[tuple[Spot, Reading]] = []
    for spot in spots_of(kind):
        meaning = form.meaning(spot.name, kind.field)
        if isinstance(meaning, Understood):
            reading = Reading(
                measure=kind.measure,
                value=meaning.value,
                written=form.text(spot.name),
                corner=spot.corner,
                place=spot.place or words,
                is_guessed_unit=meaning.is_guessed,
            )
            found.append((spot, reading))
    if not found and form.is_good:
        form.refuse("", "Found nothing typed; expected one value at least.")
    return found


DIGITS = {"psi": 1, "bar": 2, "kPa": 0, "mm": 1, "L": 1, "kg": 1}


def as_read(matter: Matter, units: Mapping[str, str]) -> str:
    """What a reading was understood as, in the owner's units, and if guessed; nothing for other matters."""
    if not isinstance(matter, Reading):
        return ""
    field = field_of(matter.measure)
    kind = FIELDS[field].quantity if field in FIELDS else "length" if field else ""
    if not kind:
        return ""
    unit = units.get(kind, "mm")
    guessed = ", unit guessed" if matter.is_guessed_unit else ""
    return f"= {quantity(matter.value, unit, DIGITS.get(unit, 0), kind)}{guessed}"
