"""The circuits of the garage: each with its map, corners and profile."""

from dataclasses import dataclass

import numpy as np
from fastapi import APIRouter
from fastapi.responses import JSONResponse, Response
from starlette.exceptions import HTTPException

from tintop.charts.circuit_map import page_map_places, road_map_svg
from tintop.charts.circuit_strips import circuit_readings, circuit_strips
from tintop.charts.strips import on_page
from tintop.circuit.circuit import Circuit
from tintop.circuit.path import path_along
from tintop.errors import TintopError
from tintop.logbook.meetings import meetings
from tintop.web.page import Visit, Visitor, show
from tintop.web.predicted import kept

router = APIRouter()
_FOLDER = "circuits/"


@dataclass(frozen=True, slots=True, kw_only=True)
class Listed:
    """One circuit of the list; `sentence` says why it cannot be read, if it cannot."""

    document: str
    circuit: Circuit | None
    sentence: str
    events: tuple[str, ...]


@router.get("/circuits")
def circuits(visit: Visitor) -> Response:
    """Every circuit there is."""
    known = meetings(visit.garage.book, visit.garage.today())
    listed = []
    for name in visit.garage.document_names("circuits"):
        events = tuple(each.planned.name for each in known if each.planned.circuit == name)
        try:
            found = Listed(document=name, circuit=visit.garage.circuit(name), sentence="", events=events)
        except TintopError as error:
            found = Listed(document=name, circuit=None, sentence=str(error), events=events)
        listed.append(found)
    return show(visit, "circuits.html", listed=listed)


@router.get("/circuits/{name}")
def circuit(visit: Visitor, name: str) -> Response:
    """One circuit."""
    found = _circuit(visit, name)
    pit = found.pit_lane
    return show(
        visit,
        "circuit.html",
        circuit=found,
        name=name,
        width=_range_words(found.width_left + found.width_right),
        climb=float(np.ptp(found.z)),
        lengths=[(corner.end - corner.start) % found.length for corner in found.corners],
        pit=pit,
        map=kept(visit, f"map {_key(visit, name)}", lambda: road_map_svg(found)),
        strips=kept(
            visit,
            f"circuit strips {_key(visit, name)}",
            lambda: tuple(on_page(strip) for strip in circuit_strips(found)),
        ),
    )


@router.get("/circuits/{name}/readings.json")
def readings(visit: Visitor, name: str) -> Response:
    """What the cursor reads out along the centre line, and where on the map it is."""
    found = _circuit(visit, name)
    content = circuit_readings(found)
    places = page_map_places(found, path_along(found))[content["chosen"]]
    return JSONResponse({**content, "map_places": np.round(places, 1).tolist()})


def _circuit(visit: Visit, name: str) -> Circuit:
    if f"{_FOLDER}{name}" not in visit.garage.document_names("circuits"):
        raise HTTPException(404)
    return visit.garage.circuit(f"{_FOLDER}{name}")


def _key(visit: Visit, name: str) -> str:
    return str(visit.garage.document(f"{_FOLDER}{name}").digest)


def _range_words(values: np.ndarray) -> str:
    low, high = float(values.min()), float(values.max())
    return f"{low:.1f} m" if high - low < 0.05 else f"{low:.1f} to {high:.1f} m"
