"""A part as it is typed into the page, and as it stands typed again to be corrected."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date

from tintop.charts.car_words import owner_unit
from tintop.errors import BadInput
from tintop.known import Known, Origin
from tintop.logbook.entries import Area, Basis, Counter, LifeLimit, PartAdded
from tintop.units import parse_quantity, unit_named
from tintop.web.typed_form import CORNERS, TypedForm
from tintop.web.understanding import sentence_of

LIMIT_ROWS = (1, 2, 3, 4)
# How far a mass is doubted when nobody says; common practice, no source.
USUAL_DOUBT = {Origin.MEASURED: 0.02, Origin.DOCUMENTED: 0.05, Origin.ESTIMATED: 0.15}
COUNTER_UNITS: Mapping[Counter, tuple[str, float, str]] = {
    Counter.RUNNING: ("h", 3600.0, "duration"),
    Counter.DISTANCE: ("km", 1000.0, "length"),
    Counter.LAPS: ("laps", 1.0, ""),
    Counter.HEAT_CYCLES: ("cycles", 1.0, ""),
    Counter.AGE: ("days", 1.0, ""),
}
BEFORE = {
    "before_running": Counter.RUNNING,
    "before_distance": Counter.DISTANCE,
    "before_laps": Counter.LAPS,
    "before_heat": Counter.HEAT_CYCLES,
}
PART_LABELS = [
    ("name", "Name"),
    ("family", "Family"),
    ("area", "Area"),
    ("corner", "Corner"),
    ("mass", "Mass"),
    ("mass_doubt", "Mass, ±"),
    ("mass_known", "Mass, how known"),
    ("mass_note", "Mass, note"),
    ("x", "Position x"),
    ("y", "Position y"),
    ("z", "Position z"),
    ("price", "Price"),
    ("list_price", "List price"),
    ("supplier", "Supplier"),
    ("maker_number", "Maker's number"),
    ("made", "Made"),
    ("thickness_new", "Thickness new"),
    ("thickness_least", "Least thickness"),
    ("came_with_car", "Came with the car"),
    *((f"limit_{row}", f"Limit {row}") for row in LIMIT_ROWS),
    *((name, f"Run before, {counter}") for name, counter in BEFORE.items()),
    ("day", "Day"),
    ("note", "Note"),
]
_MOST = 1e12


def counted(amount: float, counter: Counter) -> str:
    """An amount of a counter with its unit, such as "15 h"."""
    unit, factor, _ = COUNTER_UNITS[counter]
    return f"{amount / factor:.9g} {unit}"


def read_amount(form: TypedForm, name: str, counter: Counter) -> float | None:
    """A typed amount of a counter; a bare number is in the counter's own unit."""
    unit, factor, quantity = COUNTER_UNITS[counter]
    text = form.text(name).casefold()
    for word in (unit, unit.rstrip("s"), "heat cycles", "hours", "hrs"):
        if text.endswith(word) and (not quantity or word in ("h", "hours", "hrs", "km")):
            text = text[: -len(word)].strip()
            break
    value = _number(text)
    if value is None and quantity:
        try:
            value = parse_quantity(form.text(name), quantity, name) / factor
        except BadInput as error:
            form.refuse(name, sentence_of(error))
            return None
    if value is None or not 0.0 < value < _MOST:
        form.refuse(name, f"Found {form.text(name)[:40]!r}; expected a number above zero in {unit}.")
        return None
    return value * factor


def read_length(form: TypedForm, name: str, *, is_signed: bool = False) -> float | None:
    """A typed length [m]; a bare number is in the owner's unit."""
    text = form.text(name)
    if not text:
        return None
    unit = owner_unit("length", form.hand.units)
    number = _number(text)
    try:
        value = parse_quantity(text if number is None else f"{number!r} {unit}", "length", name)
    except BadInput as error:
        form.refuse(name, sentence_of(error))
        return None
    if not (-20.0 if is_signed else 0.0) <= value <= 20.0:
        form.refuse(name, f"Found {text[:40]!r}; expected a length on a car, in {unit} unless said.")
        return None
    return value


def _number(text: str) -> float | None:
    try:
        return parse_quantity(text, "number")
    except BadInput:
        return None


def read_part(form: TypedForm, short: str) -> PartAdded | None:
    """The part as typed; None when something is asked or wrong, which then stands in the form."""
    name = form.words("name", needed=True)
    family = form.words("family", needed=True)
    area = form.choice("area", list(Area), Area.ENGINE_BAY.value)
    corner = form.choice("corner", ("", *CORNERS))
    mass = _mass(form)
    price, list_price = form.cents("price"), form.cents("list_price")
    made = form.day("made", "day past") if form.text("made") else None
    new, least = read_length(form, "thickness_new"), read_length(form, "thickness_least")
    if new is not None and least is not None and least >= new:
        form.refuse("thickness_least", "Found a least thickness that is not below the new one.")
    place = [read_length(form, name, is_signed=True) for name in ("x", "y", "z")]
    known = [each for each in place if each is not None]
    if known and len(known) < 3 and form.is_good:
        form.refuse("x", "Found only part of a position; expected all three of x, y and z, or none.")
    limits = tuple(limit for row in LIMIT_ROWS if (limit := _limit(form, row)) is not None)
    before = {
        counter.value: amount
        for name, counter in BEFORE.items()
        if form.text(name) and (amount := read_amount(form, name, counter)) is not None
    }
    supplier, maker_number = form.words("supplier"), form.words("maker_number")
    for field, cents in (("price", price), ("list_price", list_price)):
        if cents is not None and cents < 0:
            form.refuse(field, "Found a sum below zero; expected what it cost.")
    if not form.is_good:
        return None
    return PartAdded(
        part=short,
        name=name,
        family=family,
        area=Area(area),
        corner=corner,  # type: ignore[arg-type]
        mass=mass,
        position=(known[0], known[1], known[2]) if len(known) == 3 else None,
        price_cents=price,
        list_price_cents=list_price,
        supplier=supplier,
        maker_number=maker_number,
        made=made,
        limits=limits,
        thickness_new=new,
        thickness_least=least,
        counted_before=before,
        came_with_car=form.ticked("came_with_car"),
    )


def corrected_part(part: PartAdded, before: PartAdded) -> PartAdded:
    """A part typed over one that stands, with what the form has no field for kept from that."""
    typed = {counter.value for counter in BEFORE.values()}
    kept = {counter: amount for counter, amount in before.counted_before.items() if counter not in typed}
    mass = part.mass
    if mass is not None and before.mass is not None and mass.value == before.mass.value:
        mass = replace(mass, source=before.mass.source)
    return replace(
        part,
        mass=mass,
        limits=(*part.limits, *before.limits[len(LIMIT_ROWS) :]),
        counted_before={**kept, **part.counted_before},
    )


def _mass(form: TypedForm) -> Known | None:
    value = form.value("mass", "part mass")
    doubt = form.value("mass_doubt", "part mass")
    known = form.choice("mass_known", list(USUAL_DOUBT), Origin.MEASURED.value)
    origin = Origin(known) if known in USUAL_DOUBT else Origin.MEASURED  # refused already
    note, source = form.words("mass_note"), ""
    if value is None:
        if form.text("mass_doubt") and not form.text("mass"):
            form.refuse("mass", "Found a ± but no mass.")
        return None
    return Known(
        value=value,
        uncertainty=doubt if doubt is not None else USUAL_DOUBT[origin] * value,
        origin=origin,
        note=note,
        source=source,
    )


def _limit(form: TypedForm, row: int) -> LifeLimit | None:
    amount_name = f"limit_{row}"
    if not form.text(amount_name):
        return None
    counter = form.choice(f"limit_{row}_counter", list(Counter), Counter.RUNNING.value)
    basis = form.choice(f"limit_{row}_basis", list(Basis), Basis.COMMON_PRACTICE.value)
    action = form.choice(f"limit_{row}_action", ("replace", "inspect"), "replace")
    source = form.words(f"limit_{row}_source")
    if not form.is_good:
        return None
    amount = read_amount(form, amount_name, Counter(counter))
    if amount is None:
        return None
    return LifeLimit(
        counter=Counter(counter),
        limit=amount,
        basis=Basis(basis),
        action="inspect" if action == "inspect" else "replace",
        source=source,
    )


def typed_part(part: PartAdded, day: date, units: Mapping[str, str], note: str = "") -> dict[str, str]:
    """A part as it would be typed."""
    length = unit_named(owner_unit("length", units), "length")

    def written(value: float | None) -> str:
        return "" if value is None else f"{value / length.factor:.12g} {length.name}"

    typed = {
        "day": day.isoformat(),
        "note": note,
        "name": part.name,
        "family": part.family,
        "area": part.area.value,
        "corner": part.corner,
        "mass": f"{part.mass.value:.12g} kg" if part.mass else "",
        "mass_doubt": f"{part.mass.uncertainty:.12g} kg" if part.mass else "",
        "mass_known": part.mass.origin.value if part.mass else "",
        "mass_note": part.mass.note if part.mass else "",
        "price": _sum(part.price_cents),
        "list_price": _sum(part.list_price_cents),
        "supplier": part.supplier,
        "maker_number": part.maker_number,
        "made": part.made.isoformat() if part.made else "",
        "thickness_new": written(part.thickness_new),
        "thickness_least": written(part.thickness_least),
        "came_with_car": "yes" if part.came_with_car else "",
    }
    typed |= dict(zip("xyz", map(written, part.position or (None, None, None)), strict=True))
    for row, limit in zip(LIMIT_ROWS, part.limits, strict=False):
        typed |= {
            f"limit_{row}": counted(limit.limit, limit.counter),
            f"limit_{row}_counter": limit.counter.value,
            f"limit_{row}_basis": limit.basis.value,
            f"limit_{row}_action": limit.action,
            f"limit_{row}_source": limit.source,
        }
    for name, counter in BEFORE.items():
        amount = part.counted_before.get(counter.value)
        typed[name] = counted(amount, counter) if amount else ""
    return typed


def _sum(cents: int | None) -> str:
    return "" if cents is None else f"{cents // 100}.{cents % 100:02d}"
