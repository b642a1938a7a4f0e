"""The set-up of the car item by item: by the sheet that was put on, and by what was changed since."""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from datetime import date
from types import MappingProxyType

from tintop.car.chassis import Chassis, End
from tintop.car.setup import Setup
from tintop.car.setup_differences import bar_words
from tintop.car.setup_words import bias_words
from tintop.logbook.book import Logbook
from tintop.logbook.entries import Corner
from tintop.logbook.setup import SetupItem, setup_on
from tintop.logbook.setup_today import PUT_ON, SetupToday
from tintop.physics.toe import toe_over_rim

_CORNERS: tuple[Corner, ...] = ("FL", "FR", "RL", "RR")
_SAME_ITEM: Mapping[str, str] = MappingProxyType(
    {
        "springs": "spring",
        "bump clicks": "damper, bump",
        "rebound clicks": "damper, rebound",
        "tyre pressure cold": "cold pressure",
        "brake balance": "brake bias",
    }
)


def setup_items(
    today: SetupToday | None, book: Logbook, day: date, chassis: Chassis
) -> tuple[SetupItem, ...]:
    """Give the set-up of a day by item and corner; without a set-up on the car, what the entries say alone.

    An item of the sheet stands by the sheet where nothing was changed after it was put on; a change that
    could not be read into the set-up stands as it was written.
    """
    written = setup_on(book, day)
    if today is None or today.setup is None or today.since is None:
        return written
    sheet = tuple(_of_sheet(today.setup, chassis, today.since, today.put_on))
    unread = {each.entry for each in today.unread}
    names = {each.item for each in sheet}
    after = {
        (_SAME_ITEM.get(each.item, each.item), each.corner): each
        for each in sorted(written, key=lambda each: each.entry)
        if each.entry in unread
    }
    changed = {(_SAME_ITEM.get(each.item, each.item), each.corner): each for each in today.laid_over}
    found: dict[tuple[str, str], SetupItem] = {
        (each.item, each.corner): each
        for each in written
        if _SAME_ITEM.get(each.item, each.item) not in names and each.item != PUT_ON
    }
    for row in sheet:
        change = changed.get((row.item, row.corner), changed.get((row.item, "")))
        if change is not None:
            row = replace(row, is_by_sheet=False, since=change.day, reason=change.reason, entry=change.entry)
        found[row.item, row.corner] = row
    for (item, corner), row in after.items():
        if not corner:
            for key in [key for key in found if key[0] == item]:
                del found[key]
        found[item, corner] = replace(row, item=item)
    return tuple(found[key] for key in sorted(found))


def _of_sheet(setup: Setup, chassis: Chassis, since: date, entry: int) -> Iterator[SetupItem]:
    reason = f"by the sheet {setup.name}"

    def row(
        item: str, written: str, corner: Corner = "", value: float | None = None, quantity: str = ""
    ) -> SetupItem:
        return SetupItem(
            item=item,
            corner=corner,
            value=value,
            written=written,
            quantity=quantity,
            since=since,
            reason=reason,
            entry=entry,
            is_by_sheet=True,
        )

    yield row(PUT_ON, setup.name)
    for place, corner in enumerate(_CORNERS):
        end = End.FRONT if place < 2 else End.REAR
        wheel, axle = setup.corners[place], chassis.at(end)
        toe = toe_over_rim(wheel.toe, axle.rim_diameter)
        yield row("camber", "", corner, wheel.camber, "angle")
        yield row("toe", _toe_words(toe), corner, toe, "length")
        yield row("ride height", "", corner, wheel.ride_height, "length")
        yield row("damper, bump", f"{wheel.bump} from full soft", corner, float(wheel.bump), "clicks")
        yield row(
            "damper, rebound", f"{wheel.rebound} from full soft", corner, float(wheel.rebound), "clicks"
        )
        yield row(
            "cold pressure", f"{wheel.pressure_cold / 1e5:.2f} bar", corner, wheel.pressure_cold, "pressure"
        )
        yield row(
            "spring", setup.at(end).spring, corner, axle.spring(setup.at(end).spring).rate, "spring rate"
        )
    for end in End:
        yield row(f"{end.value} bar", bar_words(setup, end))
    yield row("tyres", setup.tyres)
    yield row("pads", setup.pads)
    yield row("final drive", f"{setup.final_drive:.2f}")
    yield row("brake bias", bias_words(setup.brake_bias_turns))


def _toe_words(toe: float) -> str:
    millimetres = round(abs(toe) * 1e3, 1)
    return f"{millimetres:g} mm {'in' if toe > 0.0 else 'out'} per wheel" if millimetres else "none"
