"""Recorded or drawn tracks and routes as GPX 1.1 (1.0 reads alike).

Source: GPX 1.1 schema, https://www.topografix.com/GPX/1/1/ (2004).
"""

import math
from xml.etree.ElementTree import Element, ParseError

import numpy as np
from defusedxml.common import DefusedXmlException
from defusedxml.ElementTree import fromstring

from tintop.circuit.raw import RawCircuit, RawLine
from tintop.errors import refuse


def read(content: bytes, where: str) -> RawCircuit:
    """Read the track with most points (its segments joined in order), or else the longest route.

    Raises BadInput for XML with entities, XML cut short, no track, or a point without position.
    """
    try:
        root: Element = fromstring(content, forbid_dtd=True)
    except DefusedXmlException:
        raise refuse(where, "XML with a document type or entities", "plain GPX without them") from None
    except (ParseError, ValueError, LookupError, RecursionError) as error:
        line = error.position[0] if isinstance(error, ParseError) else 1
        raise refuse(f"{where}, line {line}", "XML that is broken or cut short", "a GPX document") from None
    if _plain(root.tag) != "gpx":
        raise refuse(where, f"XML with the root {_plain(root.tag)[:40]!r}", "a GPX document")
    tracks = [(_lines(track, where), track) for track in root if _plain(track.tag) == "trk"]
    routes = [([_points(route, "rtept", where)], route) for route in root if _plain(route.tag) == "rte"]
    for kind, candidates in (("track", tracks), ("route", routes)):
        filled = [([line for line in lines if line is not None], element) for lines, element in candidates]
        filled = [(lines, element) for lines, element in filled if sum(line.first.size for line in lines) > 1]
        if filled:
            lines, element = max(filled, key=lambda one: sum(line.first.size for line in one[0]))
            notes = (f"the longest of {len(filled)} {kind}s is used",) if len(filled) > 1 else ()
            name = next((child.text or "" for child in element if _plain(child.tag) == "name"), "")
            return RawCircuit(
                lines=tuple(lines), is_geographic=True, is_log=True, name=name.strip()[:100], notes=notes
            )
    raise refuse(where, "no track and no route with points", "a GPX track of at least one lap")


def _plain(tag: object) -> str:
    return str(tag).rpartition("}")[2]


def _lines(track: Element, where: str) -> list[RawLine | None]:
    return [_points(segment, "trkpt", where) for segment in track if _plain(segment.tag) == "trkseg"]


def _points(parent: Element, tag: str, where: str) -> RawLine | None:
    rows: list[tuple[float, float, float]] = []
    for number, point in enumerate((one for one in parent if _plain(one.tag) == tag), start=1):
        try:
            longitude, latitude = float(point.attrib["lon"]), float(point.attrib["lat"])
        except (KeyError, ValueError):
            longitude = latitude = math.nan
        if not (abs(latitude) <= 90.0 and abs(longitude) <= 180.0):
            raise refuse(
                f"{where}, point {number}",
                f"lat {point.get('lat')!s:.30} lon {point.get('lon')!s:.30}",
                "latitude and longitude in degrees",
            )
        height = math.nan
        for child in point:
            if _plain(child.tag) == "ele":
                try:
                    height = float(child.text or "nan")
                except ValueError:
                    height = math.nan
                if not (math.isfinite(height) and abs(height) < 9000.0):
                    height = math.nan
        rows.append((longitude, latitude, height))
    if not rows:
        return None
    table = np.array(rows)
    heights = table[:, 2]
    return RawLine(
        first=table[:, 0].copy(),
        second=table[:, 1].copy(),
        height=heights.copy() if np.isfinite(heights).any() else None,
    )
