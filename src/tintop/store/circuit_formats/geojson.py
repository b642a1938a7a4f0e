"""Centre lines as GeoJSON: lines, several lines, or a ring, with what their properties say.

Source: H. Butler et al., "The GeoJSON Format", RFC 7946 (2016).
"""

import json
import math
from typing import Any

import numpy as np

from tintop.circuit.raw import RawCircuit, RawLine
from tintop.errors import refuse

NAME_KEYS = ("name", "Name", "title")
LENGTH_KEYS = {"length": 1.0, "lengthM": 1.0, "length_m": 1.0}
ROLE_KEYS = ("role", "service", "raceway")
DEEPEST = 8


def read(text: str, where: str) -> RawCircuit:
    """Read every LineString, MultiLineString and outer ring of a Polygon; points and the rest are skipped.

    Positions are longitude, latitude [deg] and perhaps height [m]. Raises BadInput with the feature.
    """
    try:
        document = json.loads(text)
    except (ValueError, RecursionError) as error:
        at = f" (line {error.lineno})" if isinstance(error, json.JSONDecodeError) else ""
        raise refuse(f"{where}{at}", "text that is not JSON, or is cut short", "a GeoJSON document") from None
    lines: list[RawLine] = []
    properties: dict[str, Any] = {}
    notes: list[str] = []
    _collect(document, where, {}, lines, properties, notes, 0)
    if not lines:
        raise refuse(where, "no line", "a GeoJSON LineString, MultiLineString or Polygon")
    name = next((str(properties[key]) for key in NAME_KEYS if properties.get(key)), "")
    return RawCircuit(
        lines=tuple(lines),
        is_geographic=True,
        name=name[:100],
        published_length=_published(properties),
        source=str(properties.get("attribution", ""))[:200],
        notes=tuple(dict.fromkeys(notes)),
    )


def _published(properties: dict[str, Any]) -> float | None:
    for key, factor in LENGTH_KEYS.items():
        value = properties.get(key)
        if isinstance(value, int | float) and not isinstance(value, bool) and 0.0 < value < 1e6:
            return float(value) * factor
    return None


def _collect(
    node: Any,
    where: str,
    about: dict[str, Any],
    lines: list[RawLine],
    properties: dict[str, Any],
    notes: list[str],
    depth: int,
) -> None:
    if depth > DEEPEST:
        raise refuse(where, f"objects nested deeper than {DEEPEST}", "a GeoJSON document")
    if not isinstance(node, dict):
        raise refuse(where, f"{type(node).__name__} where an object belongs", "a GeoJSON object")
    kind = node.get("type")
    if kind in ("FeatureCollection", "GeometryCollection"):
        members = node.get("features" if kind == "FeatureCollection" else "geometries")
        if not isinstance(members, list):
            raise refuse(where, f"a {kind} without a list of members", "features or geometries")
        for number, member in enumerate(members, start=1):
            inner = f"{where}, feature {number}" if kind == "FeatureCollection" else where
            _collect(member, inner, about, lines, properties, notes, depth + 1)
    elif kind == "Feature":
        about = node.get("properties") or {}
        if not isinstance(about, dict):
            raise refuse(where, "properties that are not an object", "an object or null")
        if node.get("geometry") is not None:
            _collect(node["geometry"], where, about, lines, properties, notes, depth + 1)
    elif kind == "LineString":
        lines.append(_line(node.get("coordinates"), where, about))
        for key, value in about.items():
            properties.setdefault(key, value)
    elif kind in ("MultiLineString", "Polygon"):
        parts = node.get("coordinates")
        if not isinstance(parts, list) or not parts:
            raise refuse(where, f"a {kind} without coordinates", "lists of positions")
        if kind == "Polygon" and len(parts) > 1:
            notes.append("only the outer ring of the polygon is used")
        lines += [_line(part, where, about) for part in (parts[:1] if kind == "Polygon" else parts)]
        for key, value in about.items():
            properties.setdefault(key, value)
    elif kind in ("Point", "MultiPoint", "MultiPolygon"):
        notes.append(f"{kind} skipped")
    else:
        raise refuse(where, f"the type {str(kind)[:40]!r}", "a type of RFC 7946")


def _line(coordinates: Any, where: str, about: dict[str, Any]) -> RawLine:
    if not isinstance(coordinates, list) or len(coordinates) < 2:
        raise refuse(where, "a line of fewer than two positions", "a list of positions [longitude, latitude]")
    rows: list[tuple[float, float, float]] = []
    for number, position in enumerate(coordinates, start=1):
        if not (
            isinstance(position, list)
            and len(position) >= 2
            and all(
                isinstance(value, int | float)
                and not isinstance(value, bool)
                and abs(value) < 1e9
                and math.isfinite(value)
                for value in position[:3]
            )
        ):
            raise refuse(
                f"{where}, position {number}", json.dumps(position)[:60], "[longitude, latitude] as numbers"
            )
        longitude, latitude = float(position[0]), float(position[1])
        if abs(latitude) > 90.0 or abs(longitude) > 360.0:
            raise refuse(
                f"{where}, position {number}",
                f"{longitude:g}, {latitude:g}",
                "longitude then latitude in degrees",
            )
        rows.append((longitude, latitude, float(position[2]) if len(position) > 2 else math.nan))
    table = np.array(rows)
    heights = table[:, 2]
    role = next((str(about[key]) for key in ROLE_KEYS if about.get(key)), "")
    label = str(about.get("ref") or about.get("name") or about.get("Name") or "")[:60]
    return RawLine(
        first=table[:, 0].copy(),
        second=table[:, 1].copy(),
        height=heights.copy() if np.isfinite(heights).any() else None,
        role=role,
        label=label,
    )
