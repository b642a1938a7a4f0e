"""The papers of a garage as PDF: the event card and the build book, in its owner's and its public edition."""

import tempfile
from collections.abc import Mapping
from functools import partial
from pathlib import Path

from tintop.car.described import DescribedCar
from tintop.charts.book_charts import mass_course_svg, wear_charts
from tintop.charts.car_drawing import car_drawing_svg
from tintop.charts.car_picture import car_picture_of
from tintop.charts.car_words import in_owner_units
from tintop.charts.circuit_map import road_map_svg
from tintop.errors import TintopError
from tintop.event import DescribedEvent
from tintop.garage.answers import standings
from tintop.garage.bench import bench_of
from tintop.garage.car_setup import setup_items_of
from tintop.garage.keeper import Garage
from tintop.garage.predictions import Prediction
from tintop.garage.pressures import PressuresAsked, pressures_in
from tintop.logbook.costs import costs_on
from tintop.logbook.entries import Measure, MeetingPlanned
from tintop.logbook.lives import lives
from tintop.logbook.readiness import readiness_on
from tintop.logbook.sessions import sessions
from tintop.logbook.support import supporters
from tintop.logbook.wear import wears_of
from tintop.papers.build_book import build_book_of
from tintop.papers.card_fuel import RaceForecast
from tintop.papers.content import BuildBook, EventCard
from tintop.papers.event_card import AnswerThen, card_of
from tintop.papers.money_chapters import without_money
from tintop.papers.stand import Stand, stand_on
from tintop.papers.typeset import set_build_book, set_event_card
from tintop.questions.cold_pressures import ColdPressures

_SHOWN_WEAR = (Measure.PAD_THICKNESS, Measure.TREAD_DEPTH)
_MAP_WIDTH = 260.0  # narrow, so that its words stay large on the card
_HIDDEN = "Money is not shown to readers."


def event_card(garage: Garage, meeting: MeetingPlanned, *, shows_money: bool = True) -> bytes:
    """The card of an event as PDF, one page of A4; nothing long is computed, and no sum shown to a reader."""
    return set_event_card(event_card_content(garage, meeting, shows_money=shows_money))


def build_book(garage: Garage, public: bool) -> bytes:
    """The build book of today as PDF; the public edition holds no price, cost or sum of support."""
    return set_build_book(build_book_content(garage, public))


def is_predicted(garage: Garage, meeting: MeetingPlanned) -> bool:
    """Whether lap and race of an event are predicted as things stand."""
    return _prediction(garage, meeting) is not None


def logbook_spreadsheet(garage: Garage) -> bytes:
    """The whole logbook as XLSX; BadInput where a sheet would be too long."""
    from tintop.store.exchange.spreadsheet import logbook_to_spreadsheet

    with tempfile.TemporaryDirectory(prefix="tintop-") as folder:
        path = Path(folder) / "logbook.xlsx"
        settings = garage.settings
        logbook_to_spreadsheet(
            garage.book.entries,
            path,
            title=settings.title,
            currency=settings.currency,
            today=garage.today(),
        )
        return path.read_bytes()


def event_card_content(garage: Garage, meeting: MeetingPlanned, *, shows_money: bool = True) -> EventCard:
    """What stands on the card of an event."""
    stand = _stand(garage, is_public=False)
    found = _prediction(garage, meeting)
    described = found.lasting.described if found else _car(garage)
    answers = tuple(
        AnswerThen(
            name=each.name,
            question=each.title,
            answer=each.answer if shows_money or each.name != "affordable" else None,
            sentence=each.sentence if shows_money or each.name != "affordable" else _HIDDEN,
        )
        for each in standings(garage, meeting)
    )
    place, drawn = _circuit(garage, meeting)
    card = card_of(
        stand,
        meeting,
        answers,
        sessions(garage.book, stand.day),
        car=described.car.name if described else garage.settings.title,
        place=place,
        described=described,
        event=_event(garage, meeting),
        forecast=RaceForecast(
            described=found.lasting.described,
            event=found.lasting.event,
            trace=found.lasting.trace,
            judged=found.lasting.judged,
            odds=found.lasting.odds,
        )
        if found
        else None,
        map_svg=drawn,
        cold=_cold(garage, meeting),
    )
    if shows_money:
        return card
    moneyless: EventCard = without_money(card, garage.settings.currency)
    return moneyless


def build_book_content(garage: Garage, public: bool) -> BuildBook:
    """What stands in the build book."""
    stand = _stand(garage, is_public=public)
    units, described = garage.settings.units, _car(garage)
    drawing = ""
    if described is not None:
        picture = car_picture_of(described, garage.book, stand.build, stand.ledger, stand.setup)
        drawing = car_drawing_svg(picture, units)
    ready = readiness_on(garage.book, stand.day)
    return build_book_of(
        stand,
        car=described.car.name if described else "",
        title=garage.settings.title,
        owner=garage.settings.owner,
        drawing=drawing,
        mass_chart=mass_course_svg(stand.ledger, units, stand.day),
        wear_charts=[
            each.svg for each in wear_charts(garage.book, stand.build, stand.running, units, _SHOWN_WEAR)
        ],
        driven=sessions(garage.book, stand.day),
        lives=lives(garage.book, stand.day),
        worn=wears_of(garage.book, stand.build, stand.running, 0.0),
        helpers=supporters(garage.book, stand.day),
        costs=None if public else costs_on(garage.book, stand.day, ready.orders, ready.jobs.open),
    )


def _stand(garage: Garage, *, is_public: bool) -> Stand:
    settings = garage.settings
    return stand_on(
        garage.book,
        garage.today(),
        partial(_written, units=settings.units),
        settings.currency,
        is_public=is_public,
        setup=setup_items_of(garage),
    )


def _written(value: float, quantity: str, decimals: int | None = None, *, units: Mapping[str, str]) -> str:
    return in_owner_units(value, quantity, units, decimals)


def _prediction(garage: Garage, meeting: MeetingPlanned) -> Prediction | None:
    try:
        return garage.prediction(meeting)
    except TintopError:
        return None


def _car(garage: Garage) -> DescribedCar | None:
    try:
        return garage.car()
    except TintopError:
        return None


def _event(garage: Garage, meeting: MeetingPlanned) -> DescribedEvent | None:
    try:
        return garage.event(meeting.document) if meeting.document else None
    except TintopError:
        return None


def _cold(garage: Garage, meeting: MeetingPlanned) -> ColdPressures | None:
    """Cold pressures for the event's first session; None where car, set-up or target do not tell."""
    try:
        asked = PressuresAsked(event=meeting.meeting, with_model=False)
        found = pressures_in(garage, bench_of(garage), asked)
        return None if found.day.is_for_road else found
    except TintopError:
        return None


def _circuit(garage: Garage, meeting: MeetingPlanned) -> tuple[str, str]:
    """The circuit's name and its map; what the event says of it where it cannot be read."""
    if not meeting.circuit:
        return "no circuit named", ""
    try:
        circuit = garage.circuit(meeting.circuit)
    except TintopError:
        return meeting.circuit, ""
    return circuit.name, road_map_svg(circuit, width=_MAP_WIDTH)
