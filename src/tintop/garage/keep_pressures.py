"""Cold pressures worked out for a day, taken onto the sheet of a set-up."""

import uuid
from collections.abc import Sequence
from dataclasses import replace

from tintop.garage.bench import Bench, bench_of
from tintop.garage.keeper import SETUPS, Garage
from tintop.logbook.entries import Corner, Draft, SetupChanged
from tintop.store.documents.writing_setups import write_setup

_CORNERS: tuple[Corner, ...] = ("FL", "FR", "RL", "RR")
_ITEM = "cold pressure"
_SAME = 500.0  # [Pa] below what a gauge reads
_REASON = "taken from the pressures of the day"


def keep_cold(
    garage: Garage, bench: Bench, name: str, cold: Sequence[float], *, based_on: str, who: str
) -> None:
    """Write four cold pressures [Pa gauge, FL FR RL RR] into a set-up's document.

    Where it is the set-up on the car and a pressure was changed since it was put on, the change is written
    into the logbook too, so that the sheet and the car say the same. DocumentConflict where the document was
    saved after `based_on`.
    """
    fl, fr, rl, rr = (
        replace(corner, pressure_cold=float(value))
        for corner, value in zip(bench.as_written[name].corners, cold, strict=True)
    )
    written = replace(bench.as_written[name], corners=(fl, fr, rl, rr))
    text = write_setup(written, bench.chassis, garage.settings.units)
    garage.save_document(f"{SETUPS}/{name}.toml", text, based_on=based_on, who=who, why=_REASON)
    fresh = bench_of(garage)
    if fresh.fitted != name:
        return
    drafts = [
        Draft(
            key=uuid.uuid4().hex,
            day=garage.today(),
            who=who,
            matter=SetupChanged(
                item=_ITEM, corner=corner, value=float(value), quantity="pressure", reason=_REASON
            ),
        )
        for corner, value in zip(_CORNERS, cold, strict=True)
        if abs(fresh.setups[name].corner(corner).pressure_cold - value) > _SAME
    ]
    if drafts:
        garage.record(drafts)
