"""Camber of one end of a bench's car, asked with what the bench knows."""

from datetime import date

from tintop.car.chassis import End
from tintop.car.setup import Setup
from tintop.car.wheel_path_doubt import CAMBER_DOUBT, POINT_DOUBT
from tintop.errors import refuse
from tintop.garage.bench import Bench
from tintop.garage.logged_treads import camber_said
from tintop.garage.setup_effects import line_of
from tintop.lap.camber_choice import BEST_DOUBT
from tintop.logbook.book import Logbook
from tintop.questions.which_camber import ROAD, WhichCamber, which_camber


def circuit_for(bench: Bench, setup: Setup, circuit: str = "") -> str:
    """The circuit asked for, else the set-up's own, else the bench's first; BadInput where there is none."""
    if circuit or setup.circuit:
        return circuit or setup.circuit
    if not bench.circuits:
        raise refuse(
            "circuit",
            "none in the folder",
            "a circuit file, such as circuits/larkmoor.csv",
            "A trace of one lap will do, as GPX, GeoJSON or CSV: what camber is worth is told by corners.",
        )
    return next(iter(bench.circuits))


def ask_which_camber(
    bench: Bench,
    setup: str = "",
    circuit: str = "",
    end: End = End.FRONT,
    *,
    top_inward: float = 0.0,
    road_distance: float | None = None,
    limit: float | None = None,
    book: Logbook | None = None,
    day: date = date.max,
) -> WhichCamber:
    """Which camber, on the weather the set-up is for; BadInput naming set-ups and circuits there are.

    The last treads read in the `book` up to a `day` go before the lap.
    """
    chosen = bench.setup(setup)
    weather = bench.weather(chosen.purpose)
    name = circuit_for(bench, chosen, circuit)
    course, path = bench.circuit(name), line_of(bench, name)
    points = bench.chassis_known.get(f"{end.value}.wheel_path")
    camber = bench.described.known.get(f"suspension.camber_{end.value}")
    best = bench.described.known.get(f"tyre_{end.value}.camber_best")
    loss = bench.described.known.get(f"tyre_{end.value}.camber_loss")
    return which_camber(
        bench.described.car,
        bench.chassis,
        chosen,
        course,
        path,
        weather,
        end=end,
        top_inward=top_inward,
        road_distance=ROAD if road_distance is None else road_distance,
        limit=limit,
        point_doubt=points.uncertainty if points else POINT_DOUBT,
        camber_doubt=camber.uncertainty if camber else CAMBER_DOUBT,
        best_doubt=best.uncertainty if best else BEST_DOUBT,
        loss_doubt=loss.uncertainty if loss else 0.0,
        treads=camber_said(bench, chosen, end, book, day),
    )
