"""What an owner wrote for one field: a value with its unit, and how it is known."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Annotated, Any

from pydantic import BaseModel, ConfigDict, Field, ValidationInfo, field_validator
from pydantic_core import PydanticCustomError

from tintop.errors import BadInput, did_you_mean, refuse
from tintop.known import Origin
from tintop.units import parse_quantity

LONGEST_NAME = 120
LONGEST_WORDS = 2000
_KEYS = ("value", "origin", "uncertainty", "note", "source")


@dataclass(frozen=True, slots=True, kw_only=True)
class Written:
    """One value in SI as written, with what was said about it; None = nothing was said."""

    value: float
    text: str
    origin: Origin | None = None
    uncertainty: float | None = None
    note: str = ""
    source: str = ""


def read_written(raw: object, kind: str) -> Written | None:
    """Read "1085 kg" or { value = "1085 kg", origin = ..., uncertainty = ..., note = ..., source = ... }.

    The text "unknown" gives None. Raises BadInput.
    """
    if isinstance(raw, dict):
        return _read_table(raw, kind)
    if isinstance(raw, str) and raw.strip().casefold() == "unknown":
        return None
    return Written(value=_number(raw, kind, ""), text=str(raw))


def _number(raw: object, kind: str, where: str) -> float:
    if isinstance(raw, (str, int, float)):
        return parse_quantity(raw, kind, where)
    raise refuse(where, shown(raw), "a value with its unit, as text")


def _read_table(table: dict[str, Any], kind: str) -> Written | None:
    for key in table:
        if key not in _KEYS:
            raise refuse("", f"the key {key!r}", "one of " + ", ".join(_KEYS), did_you_mean(key, _KEYS))
    if "value" not in table:
        raise refuse(
            "", "a table without a value", 'a table such as { value = "1085 kg", origin = "measured" }'
        )
    plain = read_written(table["value"], kind) if not isinstance(table["value"], dict) else None
    if plain is None:
        if isinstance(table["value"], dict):
            raise refuse("value", "a table inside a table", "a value with its unit, as text")
        return None
    origin = None
    if "origin" in table:
        origins = [origin.value for origin in Origin]
        if table["origin"] not in origins:
            found = table["origin"]
            raise refuse("origin", shown(found), "one of " + ", ".join(origins), did_you_mean(found, origins))
        origin = Origin(table["origin"])
    uncertainty = None
    if "uncertainty" in table:
        uncertainty = read_uncertainty(table["uncertainty"], kind, plain.value)
    for key in ("note", "source"):
        _read_words(table.get(key, ""), key)
    return Written(
        value=plain.value,
        text=plain.text,
        origin=origin,
        uncertainty=uncertainty,
        note=table.get("note", ""),
        source=table.get("source", ""),
    )


def read_uncertainty(raw: object, kind: str, value: float) -> float:
    """Read a standard uncertainty, in the unit of the value or as a percentage of it (shares: in points)."""
    text = str(raw).strip()
    if text.endswith("%") and kind != "share":
        uncertainty = parse_quantity(text, "share", "uncertainty") * abs(value)
    else:
        uncertainty = _number(raw, "temperature difference" if kind == "temperature" else kind, "uncertainty")
    if uncertainty < 0.0:
        raise refuse("uncertainty", shown(raw), "zero or more")
    return uncertainty


def shown(raw: object) -> str:
    """Show a value of a document in a few words."""
    text = repr(raw) if isinstance(raw, str) else str(raw)
    return text if len(text) <= 60 else text[:57] + "..."


def _refused(error: BadInput) -> PydanticCustomError:
    problem = error.problems[0]
    expected = f"{problem.where}: {problem.expected}" if problem.where else problem.expected
    return PydanticCustomError(
        "refused", "refused", {"found": problem.found, "expected": expected, "cure": problem.cure}
    )


def name_of(meaning: str) -> Any:
    """Declare a field that holds a short name."""
    return Field(default=None, description=meaning, json_schema_extra={"name": True, "required": False})


def words_of(meaning: str) -> Any:
    """Declare a field that holds plain words, of one line or several."""
    return Field(default=None, description=meaning, json_schema_extra={"words": True, "required": False})


def quantity(kind: str, meaning: str, *, required: bool = False) -> Any:
    """Declare a field that holds one value of a kind of `units.UNITS`."""
    return Field(default=None, description=meaning, json_schema_extra={"kind": kind, "required": required})


def quantities(kind: str, meaning: str, *, required: bool = False) -> Any:
    """Declare a field that holds a list of values of one kind."""
    return Field(default=None, description=meaning, json_schema_extra={"kinds": kind, "required": required})


def choice(names: Iterable[str], meaning: str, *, required: bool = False) -> Any:
    """Declare a field that holds one of a few words."""
    extra: Any = {"choices": list(names), "required": required}
    return Field(default=None, description=meaning, json_schema_extra=extra)


Number = Written | None
Numbers = tuple[Written, ...] | None
Word = str | None


class Table(BaseModel):
    """A table of a document: unknown keys are refused, values are read with their units."""

    model_config = ConfigDict(strict=True, extra="forbid", frozen=True, arbitrary_types_allowed=True)

    @field_validator("*", mode="before")
    @classmethod
    def _read(cls, raw: Any, info: ValidationInfo) -> Any:
        extra = cls.model_fields[info.field_name or ""].json_schema_extra
        if not isinstance(extra, dict) or raw is None:
            return raw
        try:
            if "kind" in extra:
                return read_written(raw, str(extra["kind"]))
            if "kinds" in extra:
                return _read_list(raw, str(extra["kinds"]))
            if "name" in extra:
                return _read_name(raw)
            if "words" in extra:
                return _read_words(raw)
            if "choices" in extra:
                return _read_choice(raw, extra["choices"])
        except BadInput as error:
            raise _refused(error) from None
        return raw


def _read_list(raw: object, kind: str) -> tuple[Written, ...]:
    if not isinstance(raw, list):
        raise refuse("", shown(raw), "a list in square brackets")
    values = []
    for place, item in enumerate(raw, 1):
        try:
            value = read_written(item, kind)
        except BadInput as error:
            problem = error.problems[0]
            raise refuse("", f"{problem.found} in place {place}", problem.expected, problem.cure) from None
        if value is None:
            raise refuse("", f"'unknown' in place {place}", "values that are known")
        values.append(value)
    return tuple(values)


def _read_choice(raw: object, names: Any) -> str:
    if not isinstance(raw, str) or raw not in names:
        raise refuse("", shown(raw), "one of " + ", ".join(names), did_you_mean(raw, names))
    return raw


def _read_name(raw: object) -> str:
    if not isinstance(raw, str):
        raise refuse("", shown(raw), "text in quotes")
    if not raw.strip() or len(raw) > LONGEST_NAME or not raw.isprintable():
        raise refuse("", shown(raw), f"a name of one line, 1 to {LONGEST_NAME} characters")
    return raw.strip()


def _read_words(raw: object, where: str = "") -> str:
    if not isinstance(raw, str):
        raise refuse(where, shown(raw), "text in quotes")
    if len(raw) > LONGEST_WORDS or not raw.replace("\n", "").replace("\t", "").isprintable():
        raise refuse(where, shown(raw), f"plain words without invisible characters, at most {LONGEST_WORDS}")
    return raw


Flag = Annotated[bool | None, "yes or no"]
