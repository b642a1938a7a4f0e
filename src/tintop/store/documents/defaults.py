"""Class defaults from the package's data: each with its uncertainty and its source."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

from tintop.store.documents.written import read_uncertainty
from tintop.units import parse_quantity


@dataclass(frozen=True, slots=True, kw_only=True)
class Default:
    """A default in SI; it grows with another number of the car if `scales_with` names one."""

    text: str
    value: float
    uncertainty_text: str
    uncertainty: float
    source: str
    scales_with: str = ""
    at: float = 1.0
    at_text: str = ""
    power: float = 1.0


@cache
def _tables(name: str) -> dict[str, Any]:
    text = files("tintop").joinpath(f"data/{name}").read_text("utf-8")
    return tomllib.loads(text)


def load(name: str, kinds: Mapping[str, str], prefix: str = "") -> dict[str, Default]:
    """Read one file of defaults by path, such as "defaults/car.toml" or "tyres/slick.toml".

    `kinds` gives the kind of quantity by document path; `prefix` stands before each path of the file.
    """
    found: dict[str, Default] = {}
    _collect(_tables(name), prefix, kinds, found)
    return found


def _collect(
    tables: dict[str, Any], prefix: str, kinds: Mapping[str, str], found: dict[str, Default]
) -> None:
    for name, entry in tables.items():
        path = prefix + name
        if "source" not in entry:
            _collect(entry, path + ".", kinds, found)
        elif "value" in entry:
            found[path] = _default(entry, path, kinds)


def _default(entry: dict[str, Any], path: str, kinds: Mapping[str, str]) -> Default:
    # the road's default temperature is written as a rise over the air's
    kind = "temperature difference" if path == "weather.road_temp" else kinds.get(path, "number")
    value = parse_quantity(entry["value"], kind, path)
    scale = entry.get("scales_with", "")
    return Default(
        text=entry["value"],
        value=value,
        uncertainty_text=entry["uncertainty"],
        uncertainty=read_uncertainty(entry["uncertainty"], kind, value),
        source=entry["source"],
        scales_with=scale,
        at=parse_quantity(entry["at"], kinds[scale], path) if scale else 1.0,
        at_text=entry.get("at", ""),
        power=float(entry.get("power", 1.0)),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class PadCurve:
    """A pad's friction by temperature, its relative uncertainty and source."""

    temps: tuple[float, ...]
    frictions: tuple[float, ...]
    uncertainty: float
    source: str


def pad_curve(kind: str) -> PadCurve:
    """Give the friction curve of a class of pad."""
    entry = _tables(f"defaults/pads/{kind}.toml")["frictions"]
    return PadCurve(
        temps=tuple(parse_quantity(temp, "temperature") for temp, _ in entry["table"]),
        frictions=tuple(float(friction) for _, friction in entry["table"]),
        uncertainty=parse_quantity(entry["uncertainty"], "share"),
        source=entry["source"],
    )


def plain_uncertainty_text(kind: str) -> str:
    """Give the standard uncertainty of a value written without one, by its kind of quantity, as text."""
    return str(_tables("defaults/plain.toml")[kind]["uncertainty"])


def plain_uncertainty(kind: str, value: float) -> float:
    """Give the standard uncertainty of a value written without one, in SI."""
    return read_uncertainty(plain_uncertainty_text(kind), kind, value)
