"""The logbook's last whole reading of the treads, and what it says of a camber."""

from datetime import date

from tintop.car.camber_by_treads import CamberByTreads, camber_by_treads
from tintop.car.car_with_setup import mean
from tintop.car.chassis import End
from tintop.car.setup import Purpose, Setup
from tintop.car.tread_doubts import doubts, safety_first
from tintop.car.treads import Tread, TreadReading
from tintop.errors import BadInput, refuse
from tintop.garage.bench import Bench
from tintop.logbook.book import Logbook
from tintop.logbook.sessions import CornerReadings, Session, sessions
from tintop.logbook.setup_today import setup_today


def last_reading(book: Logbook, day: date) -> tuple[TreadReading, Session]:
    """The last session of the logbook whose twelve temperatures were read; BadInput where there is none."""
    for session in reversed(sessions(book, day)):
        treads = [_tread_of(one) for one in session.corners]
        whole = [tread for tread in treads if tread is not None]
        if len(whole) == 4:
            hot = tuple(one.pressure_hot for one in session.corners)
            cold = tuple(one.pressure_cold for one in session.corners)
            return (
                TreadReading(
                    treads=(whole[0], whole[1], whole[2], whole[3]),
                    hot=(hot[0], hot[1], hot[2], hot[3]),
                    cold=(cold[0], cold[1], cold[2], cold[3]),
                    laps=session.run.laps,
                ),
                session,
            )
    raise refuse(
        "logbook", "no session with all twelve temperatures", "a run sheet with them", "Or type them."
    )


def taken_with(bench: Bench, setup: Setup, book: Logbook, session: Session) -> str:
    """The other tyres or set-up that were on the car in a session; '' where they were those of `setup`.

    Where the logbook does not say which was on, dry against wet is all that is known.
    """
    then = setup_today(bench.setups, book, session.day, bench.chassis)
    if then.setup is None:
        is_wet = setup.purpose is Purpose.WET
        return "" if session.run.is_wet is is_wet else f"the car on a {'dry' if is_wet else 'wet'} road"
    named = f"set-up {then.stem}, {session.run.name}, {session.day.isoformat()}"
    if then.setup.tyres != setup.tyres:
        return f"other tyres ({then.setup.tyres}; {named})"
    return "" if bench.setups.get(then.stem, then.setup).name == setup.name else f"another set-up ({named})"


def camber_said(
    bench: Bench, setup: Setup, end: End, book: Logbook | None, day: date
) -> CamberByTreads | None:
    """What the logbook's last whole reading says of an end's camber; None for none, or one not to act on.

    Nothing for a road set-up, nor from the dry for the wet or the other way round.
    """
    if book is None or setup.purpose is Purpose.ROAD:
        return None
    try:
        reading, session = last_reading(book, day)
    except BadInput:
        return None
    if session.run.is_wet is not (setup.purpose is Purpose.WET):
        return None
    tyres = bench.chassis.tyres(setup.tyres)
    cambers = (mean(setup, End.FRONT, "camber"), mean(setup, End.REAR, "camber"))
    weather = bench.weather(setup.purpose)
    if safety_first(reading) or doubts(reading, (tyres.front, tyres.rear), weather, cambers):
        return None
    words = f"{session.run.name}, {session.day.isoformat()}"
    return camber_by_treads(reading, end, bench.described.car.driven_axle, words)


def _tread_of(one: CornerReadings) -> Tread | None:
    if one.tread_inner is None or one.tread_middle is None or one.tread_outer is None:
        return None
    return Tread(inner=one.tread_inner, middle=one.tread_middle, outer=one.tread_outer)
