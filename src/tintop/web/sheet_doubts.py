"""What four corners say about one another: what cannot all be right is asked about before it stands."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from tintop.errors import BadInput
from tintop.handwriting import Understood
from tintop.web.sheet_fields import READINGS, ReadingField
from tintop.web.typed_form import CORNERS, TypedForm
from tintop.web.understanding import understand

AGREED = "looked_over"
MOST_APART = 1.3  # of two pressures on one car; common practice, no source
LEAST_OF_COLD = 0.99  # a hot pressure below it is a slip, or a tyre that leaks; common practice, no source
_WAITS = "Not saved yet: it waits for the question at the top of the sheet."
_STEMS = {
    "pressure_cold": "Cold pressures",
    "pressure_hot": "Hot pressures",
    "tread": "Tread temperatures",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Doubt:
    """A sentence about fields that cannot all be right, and their names."""

    sentence: str
    names: tuple[str, ...]


def hold_doubtful(form: TypedForm, standing: Mapping[str, str]) -> None:
    """Mark new values that do not go together, until the box beside the question is ticked."""
    found = [
        doubt for doubt in doubts_of(form) if any(form.text(name) != standing[name] for name in doubt.names)
    ]
    question = " ".join(doubt.sentence for doubt in found)
    if not found or form.text(AGREED) == question:
        return
    form.refuse(AGREED, question)
    for name in {name for doubt in found for name in doubt.names}:
        if form.text(name) != standing[name]:
            form.refuse(name, _WAITS)


def doubts_of(form: TypedForm) -> tuple[Doubt, ...]:
    """What does not go together in the pressures and tread temperatures of a sheet."""
    read = {
        one.name: found for one in READINGS.values() if (found := _read(form, one)) and one.tool != "caliper"
    }
    doubts: list[Doubt] = []
    for stem, title in _STEMS.items():
        names = [name for name in read if name.startswith(f"{stem}_")]
        faults = tuple(_faults([read[name] for name in names], is_pressure=stem.startswith("pressure")))
        if faults:
            told = _told(read, names)
            doubts.append(Doubt(sentence=f"{title} {' and '.join(faults)}: {told}.", names=tuple(names)))
    for corner in CORNERS:
        cold, hot = (read.get(f"pressure_{state}_{corner}") for state in ("cold", "hot"))
        if cold and hot and hot.value < LEAST_OF_COLD * cold.value:
            doubts.append(
                Doubt(
                    sentence=f"At {corner} the hot pressure, {hot.says}, is below the cold one, {cold.says}.",
                    names=(f"pressure_cold_{corner}", f"pressure_hot_{corner}"),
                )
            )
    return tuple(doubts)


def _faults(values: list[Understood], *, is_pressure: bool) -> Iterable[str]:
    if len(values) < 2:
        return
    if is_pressure and max(one.value for one in values) > MOST_APART * min(one.value for one in values):
        yield "differ by more than 30 %"
    if len({one.unit for one in values if one.is_guessed}) > 1:
        yield "are read by guess in different units"


def _told(read: Mapping[str, Understood], names: Iterable[str]) -> str:
    return ", ".join(f"{READINGS[name].label.partition(', ')[0]} {read[name].says}" for name in names)


def _read(form: TypedForm, one: ReadingField) -> Understood | None:
    text = form.text(one.name)
    if not text or form.is_doubtful(one.name):
        return None
    try:
        found = form.meanings.get(one.name) or understand(one.kind, text, form.hand, one.name)
    except BadInput:
        return None
    return found if isinstance(found, Understood) else None
