"""The brakes' balance: which axle locks first, dry and wet, turns and grip to slide, the race's heat."""

from collections.abc import Callable

from fastapi import APIRouter
from fastapi.responses import Response

from tintop.car.chassis import BiasDevice
from tintop.car.lock_order import WET
from tintop.charts.brake_chart import adhesion_svg, forces_svg
from tintop.errors import BadInput, TintopError
from tintop.garage.bench import Bench
from tintop.garage.brakes import BrakesAsked, Predicted, brakes_for, heat_of_each
from tintop.questions.brake_balance import BrakeCase, BrakesAnswer
from tintop.race.brake_heat import BrakeHeat
from tintop.reports.brakes_sheet import brake_tables, figure_words
from tintop.web.bench_page import Asked, DrawnTwice, cited, open_bench, show_bench
from tintop.web.page import Visit, Visitor
from tintop.web.predicted import standing_of

router = APIRouter()
_WORDS = {"no": "Unsafe: the rear locks first", "not proven": "Not proven", "yes": "", "close": "Close"}


@router.get("/bench/brakes")
def brakes(visit: Visitor) -> Response:
    """Which axle locks first, in the dry and in the wet, and where does the bias go?"""
    opened = open_bench(visit, "bench_brakes.html", found=None)
    if isinstance(opened, Response):
        return opened
    bench, name, _ = opened
    query = visit.request.query_params
    try:
        predicted = _predicted(visit)
        stands = brakes_for(bench, BrakesAsked(setup=name), predicted)
    except TintopError as error:
        asked = Asked(query, {})
        asked.refuse(error, "")
        return show_bench(visit, "bench_brakes.html", asked, found=None, answer=None, setups={}, name=name)
    asked = Asked(query, _standing(name, stands))
    typed = _typed(asked, bench, name)
    found = None
    if not asked.problems:
        try:
            found = brakes_for(bench, typed, predicted, _heat(visit, bench, name, asked))
        except BadInput as error:
            asked.refuse(error)
    return show_bench(
        visit,
        "bench_brakes.html",
        asked,
        found=found,
        answer=cited(found.answer) if found else None,
        word=_WORDS[found.answer.verdict.value] if found else "",
        name=name,
        setups=bench.setups,
        bias=bench.chassis.bias,
        has_device=bench.chassis.bias.device is not BiasDevice.NONE,
        events=[("", "–"), *((each, each) for each in bench.events)],
        circuits=[("", "set-up's own"), *((each, each) for each in bench.circuits)],
        adhesion=_twice(found, adhesion_svg, "adhesion") if found else None,
        forces=_twice(found, forces_svg, "forces") if found else None,
        tables=list(brake_tables(found)) if found else [],
        brake_words=figure_words,
    )


def _predicted(visit: Visit) -> Predicted | None:
    """The next event's race where it is predicted already."""
    prediction = standing_of(visit).prediction
    if prediction is None:
        return None
    lasting = prediction.lasting
    return Predicted(
        name=lasting.event.event.name,
        car=lasting.described.car,
        trace=lasting.trace,
        is_wet=lasting.event.event.weather.wetness >= WET,
    )


def _standing(name: str, stands: BrakesAnswer) -> dict[str, str]:
    ask = stands.cases[0].balance.ask
    return {
        "setup": name,
        "turns": f"{stands.turns_now:g}",
        "friction": f"{ask.friction:.2f}",
        "front_temp": f"{ask.front_temp:.0f}",
        "rear_temp": f"{ask.rear_temp:.0f}",
        "fuel": "0",
        "knee": "0",
        "event": "",
        "circuit": "",
    }


def _typed(asked: Asked, bench: Bench, name: str) -> BrakesAsked:
    """What was changed on the page; what stands as the car stands is left to the car."""

    def changed(field: str, quantity: str, unit: str) -> float | None:
        return asked.needed(field, quantity, unit) if asked.is_changed(field) else None

    volume = changed("fuel", "volume", "L") or 0.0
    return BrakesAsked(
        setup=name,
        turns=changed("turns", "number", ""),
        friction=changed("friction", "number", ""),
        front_temp=changed("front_temp", "temperature", "°C"),
        rear_temp=changed("rear_temp", "temperature", "°C"),
        fuel_mass=volume * bench.described.car.fuel.density,
        valve_knee=changed("knee", "pressure", "bar") or 0.0,
    )


def _heat(visit: Visit, bench: Bench, name: str, asked: Asked) -> tuple[BrakeHeat, ...]:
    """Each set of pads through the event named; kept while the bench stands."""
    event = asked.choice("event", ("", *bench.events))
    if not event:
        return ()
    circuit = asked.choice("circuit", ("", *bench.circuits)) or bench.setup(name).circuit
    return visit.garage.remember(
        f"brake heat {name} {event} {circuit}",
        (id(bench),),
        lambda: (bench, heat_of_each(bench, BrakesAsked(setup=name), event, circuit)),
    )[1]


def _twice(found: BrakesAnswer, draw: Callable[..., str], name: str) -> DrawnTwice:
    case: BrakeCase = found.cases[0]
    return DrawnTwice(
        wide=draw(case, name=f"{name}-wide"), narrow=draw(case, is_narrow=True, name=f"{name}-narrow")
    )
