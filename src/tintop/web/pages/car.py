"""The car: drawn from above, its build, its mass, its set-up."""

from datetime import date

from fastapi import APIRouter
from fastapi.responses import Response

from tintop.charts.car_picture import CarPicture
from tintop.charts.car_words import NAMES, corner_words, in_owner_units, setting_words, share_words
from tintop.errors import TintopError
from tintop.logbook.entries import Draft
from tintop.logbook.setup_today import PUT_ON
from tintop.web.car_view import (
    build_lines,
    drawn_today,
    gone_parts,
    last_setup_change,
    ledger_today,
    seconds_per_kilogram,
    setup_rows,
    setup_today,
)
from tintop.web.first_things import is_car_described
from tintop.web.page import Typed, Visit, Visitor, Writer, go_to, show
from tintop.web.setup_form import ITEM_KINDS, read_setup
from tintop.web.typed_form import CORNERS, TypedForm, build_today
from tintop.web.writing import form_of, write

router = APIRouter()


@router.get("/car")
def car(visit: Visitor) -> Response:
    """The car as it stands today."""
    return _car(visit, form_of(visit.garage, {}))


@router.get("/car/mass")
def mass(visit: Visitor) -> Response:
    """Every kilogram taken out and put in since the car was bought, and what the scales said."""
    units = visit.garage.settings.units
    return show(
        visit,
        "car_mass.html",
        ledger=ledger_today(visit.garage),
        kilograms=lambda value: in_owner_units(value, "mass", units),
    )


@router.post("/car/set-up")
def change_setup(visit: Writer, sent: Typed) -> Response:
    """Write a change of the set-up."""
    form = form_of(visit.garage, sent)
    change = read_setup(form)
    day = form.day("set_day", "day past", visit.garage.today())
    if change is None or day is None or not form.is_good:
        return _car(visit, form, status=422)
    draft = Draft(key=form.text("key"), day=day, who=visit.who, matter=change)
    try:
        entry = write(visit.garage, [draft], draft.key)
    except TintopError as error:
        form.refuse_all(error)
        return _car(visit, form, status=422)
    return go_to("/car", saved=entry.number)


def _car(visit: Visit, form: TypedForm, status: int = 200) -> Response:
    garage = visit.garage
    units = garage.settings.units
    build, drawn = build_today(garage), drawn_today(garage)
    rows = setup_rows(setup_today(garage))
    return show(
        visit,
        "car.html",
        status=status,
        form=form,
        drawn=drawn,
        is_described=is_car_described(garage),
        ledger=ledger_today(garage),
        areas=build_lines(garage),
        build=build,
        gone=gone_parts(build),
        setup=rows,
        last_change=last_setup_change(garage),
        items=sorted({*ITEM_KINDS, *(row.item for row in rows)}),
        item_kinds=ITEM_KINDS,
        corners=CORNERS,
        per_kilogram=seconds_per_kilogram(garage),
        sees_money=visit.may_write,
        names=NAMES,
        last_seen=lambda name: _last_seen(drawn.picture, name),
        by_sheet=lambda name: _is_by_sheet(drawn.picture, name),
        has_sheet=any(row.item == PUT_ON for row in rows),
        corner_words=lambda value: corner_words(value, units),
        setting_words=lambda item: setting_words(item.item, item.value, item.quantity, item.written, units),
        share_words=share_words,
        kilograms=lambda value: in_owner_units(value, "mass", units),
    )


def _last_seen(picture: CarPicture | None, name: str) -> date | None:
    """The last day a value was read or set at any corner."""
    found = [corner.of(name) for corner in picture.corners] if picture else []
    return max((each.on for each in found if each is not None and each.on is not None), default=None)


def _is_by_sheet(picture: CarPicture | None, name: str) -> bool:
    """Whether a value stands by the sheet of the set-up put on at every corner that has it."""
    found = [value for corner in picture.corners if (value := corner.of(name))] if picture else []
    return bool(found) and all(each.is_by_sheet for each in found)
