"""Which set-up is on the car on a day: the one put on last, with what was changed since laid over it."""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from datetime import date

from tintop.car.chassis import CORNERS, Chassis, End
from tintop.car.setup import CornerSetup, Setup
from tintop.car.setup_check import setup_problems
from tintop.errors import BadInput
from tintop.handwriting.counted import HARD, read_clicks
from tintop.handwriting.meaning import Ask
from tintop.logbook.book import Logbook
from tintop.logbook.entries import Entry, SetupChanged
from tintop.physics.toe import toe_angle

PUT_ON = "set-up"  # the item of an entry that says which set-up was put on, by the stem of its document
_SAME_RATE = 0.01  # of a spring's rate
_CORNER_ITEMS = {
    "camber": "camber",
    "ride height": "ride_height",
    "damper, bump": "bump",
    "bump clicks": "bump",
    "damper, rebound": "rebound",
    "rebound clicks": "rebound",
    "cold pressure": "pressure_cold",
    "tyre pressure cold": "pressure_cold",
}
_KINDS = {"camber": "angle", "ride_height": "length", "pressure_cold": "pressure"}
_HOLE = re.compile(r"\s*([0-9])\s*(?:st|nd|rd|th)?\s*(?:hole)?\s*", re.IGNORECASE)


@dataclass(frozen=True, slots=True, kw_only=True)
class LaidOver:
    """A change since the set-up was put on that is in the set-up given."""

    item: str
    corner: str
    written: str
    day: date
    reason: str
    entry: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Unread:
    """A change since that could not be laid over, and why."""

    item: str
    corner: str
    written: str
    day: date
    entry: int
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SetupToday:
    """The set-up on the car; `stem` is empty and `setup` None where no entry says which was put on."""

    stem: str
    setup: Setup | None
    since: date | None
    laid_over: tuple[LaidOver, ...]
    unread: tuple[Unread, ...]
    put_on: int = 0  # the entry that says so; 0 without one


def setup_today(setups: Mapping[str, Setup], book: Logbook, day: date, chassis: Chassis) -> SetupToday:
    """Give the set-up on the car at the end of a day, by the logbook's entries."""
    changes = sorted(
        ((entry, change) for entry, change in book.of(SetupChanged) if entry.day <= day),
        key=lambda pair: (pair[0].day, pair[0].clock, pair[0].number),
    )
    stem, since, setup, put_on = "", None, None, 0
    laid: list[LaidOver] = []
    unread: list[Unread] = []
    for entry, change in changes:
        if change.item == PUT_ON:
            stem, since, put_on = change.written.strip(), entry.day, entry.number
            setup, laid, unread = setups.get(stem), [], []
            if setup is None:
                unread.append(_unread(entry, change, f"there is no set-up called {stem!r}"))
            continue
        if setup is None:
            continue
        try:
            setup = _fitting(_laid_over(setup, change, chassis), chassis)
        except _NotRead as reason:
            unread.append(_unread(entry, change, str(reason)))
        except BadInput as error:
            unread.append(_unread(entry, change, str(error)))
        else:
            laid.append(
                LaidOver(
                    item=change.item,
                    corner=change.corner,
                    written=change.written,
                    day=entry.day,
                    reason=change.reason,
                    entry=entry.number,
                )
            )
    return SetupToday(
        stem=stem if setup is not None else "",
        setup=setup,
        since=since,
        laid_over=tuple(laid),
        unread=tuple(unread),
        put_on=put_on,
    )


class _NotRead(Exception):
    """Why a change is not laid over."""


def _unread(entry: Entry, change: SetupChanged, why: str) -> Unread:
    return Unread(
        item=change.item,
        corner=change.corner,
        written=change.written,
        day=entry.day,
        entry=entry.number,
        why=why,
    )


def _fitting(setup: Setup, chassis: Chassis) -> Setup:
    problems = setup_problems(setup, chassis)
    if problems:
        raise _NotRead(
            "; ".join(f"{each.where}: {each.found}, expected {each.expected}" for each in problems)
        )
    return setup


def _laid_over(setup: Setup, change: SetupChanged, chassis: Chassis) -> Setup:
    if change.item == "toe":
        return _toe(setup, change, chassis)
    if change.item in _CORNER_ITEMS:
        field = _CORNER_ITEMS[change.item]
        value = _number(change)
        if field in _KINDS and change.quantity not in (_KINDS[field], ""):
            raise _NotRead(f"a {_KINDS[field]} was expected, it is a {change.quantity}")
        if field in ("bump", "rebound"):
            return _clicks(setup, change, field, chassis)
        return _at_corners(setup, change.corner, field, value)
    simple: dict[str, Callable[[Setup, SetupChanged, Chassis], Setup]] = {
        "spring": _springs,
        "springs": _springs,
        "front bar": _bar,
        "rear bar": _bar,
        "brake bias": _bias,
        "brake balance": _bias,
        "tyres": _named,
        "pads": _named,
        "final drive": _final_drive,
    }
    if change.item not in simple:
        raise _NotRead("an item that is no part of a set-up's sheet")
    return simple[change.item](setup, change, chassis)


def _number(change: SetupChanged) -> float:
    if change.value is None:
        raise _NotRead("no number was read from it")
    return change.value


def _at_corners(setup: Setup, corner: str, field: str, value: float | int) -> Setup:
    def changed(name: str, old: CornerSetup) -> CornerSetup:
        return replace(old, **{field: value}) if corner in ("", name) else old  # type: ignore[arg-type]

    fl, fr, rl, rr = (changed(name, old) for name, old in zip(CORNERS, setup.corners, strict=True))
    return replace(setup, corners=(fl, fr, rl, rr))


def _clicks(setup: Setup, change: SetupChanged, field: str, chassis: Chassis) -> Setup:
    """Clicks from full soft, whichever end the owner counted from."""
    value = _number(change)
    if value != int(value):
        raise _NotRead("no whole number of clicks")
    said = read_clicks(change.written) if change.written else None
    if isinstance(said, Ask):
        raise _NotRead("it does not say whether they count from full soft or from full hard")
    for corner in (change.corner,) if change.corner else CORNERS:
        end = End.FRONT if corner[0] == "F" else End.REAR
        damper = chassis.at(end).damper(setup.at(end).damper)
        most = getattr(damper, field).most_clicks
        clicks = most - int(value) if said is not None and said.unit == HARD else int(value)
        for way in ("bump", "rebound") if damper.is_linked else (field,):
            setup = _at_corners(setup, corner, way, clicks)
    return setup


def _toe(setup: Setup, change: SetupChanged, chassis: Chassis) -> Setup:
    value = _number(change)
    for corner in CORNERS if not change.corner else (change.corner,):
        rim = chassis.at(End.FRONT if corner[0] == "F" else End.REAR).rim_diameter
        angle = toe_angle(value, rim) if change.quantity == "length" else value
        setup = _at_corners(setup, corner, "toe", angle)
    return setup


def _springs(setup: Setup, change: SetupChanged, chassis: Chassis) -> Setup:
    if not change.corner:
        raise _NotRead("it does not say which corner")
    end = End.FRONT if change.corner[0] == "F" else End.REAR
    rate = _number(change)
    near = [one for one in chassis.at(end).springs if abs(one.rate - rate) <= _SAME_RATE * one.rate]
    if not near:
        raise _NotRead("the chassis names no springs of this rate")
    return _with_end(setup, end, spring=near[0].name)


def _bar(setup: Setup, change: SetupChanged, chassis: Chassis) -> Setup:
    end = End.FRONT if change.item.startswith("front") else End.REAR
    named = next((one for one in chassis.at(end).bars if one.name == change.written.strip()), None)
    if named is not None:
        return _with_end(setup, end, bar=named.name)
    found = _HOLE.fullmatch(change.written)
    hole = int(found[1]) if found else int(change.value) if change.value is not None else None
    if hole is None:
        raise _NotRead("neither a bar of the chassis nor a hole")
    return _with_end(setup, end, bar_hole=hole)


def _with_end(setup: Setup, end: End, **changes: str | int) -> Setup:
    changed = replace(setup.at(end), **changes)  # type: ignore[arg-type]
    return replace(setup, front=changed) if end is End.FRONT else replace(setup, rear=changed)


def _bias(setup: Setup, change: SetupChanged, _chassis: Chassis) -> Setup:
    value = _number(change)
    if "turn" not in change.written and change.quantity != "turns":
        raise _NotRead("it is no number of turns of the bias device")
    return replace(setup, brake_bias_turns=value)


def _named(setup: Setup, change: SetupChanged, chassis: Chassis) -> Setup:
    name = change.written.strip()
    if change.item == "tyres":
        return replace(setup, tyres=chassis.tyres(name).name)
    return replace(setup, pads=chassis.pads(name).name)


def _final_drive(setup: Setup, change: SetupChanged, _chassis: Chassis) -> Setup:
    return replace(setup, final_drive=_number(change))
