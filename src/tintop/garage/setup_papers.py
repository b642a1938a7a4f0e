"""The papers of a set-up as PDF: its sheet, and a run sheet to fill in by hand."""

from datetime import date

from tintop.car.setup_differences import differences
from tintop.garage.bench import Bench
from tintop.garage.car_setup import front_share_of
from tintop.papers.run_paper import run_paper
from tintop.papers.setup_paper import setup_paper
from tintop.papers.typeset import set_run_sheet, set_setup_sheet


def setup_sheet_pdf(bench: Bench, stem: str, before: str = "", *, day: date, not_legal: str = "") -> bytes:
    """One page: the set-up with boxes for what was set and set down, what differs from `before` marked.

    Both by their file's stem, "" for the one on the car and for nothing to compare with; BadInput naming
    those there are. `not_legal` stands on top of it.
    """
    setup = bench.setup(stem)
    old = bench.setup(before) if before else None
    return set_setup_sheet(
        setup_paper(
            setup,
            bench.chassis,
            car=bench.described.car.name,
            day=day,
            units=bench.settings.units,
            before=old,
            not_legal=not_legal,
            front_share=front_share_of(bench, setup),
            changed=differences(old, setup, bench.chassis) if old else (),
        )
    )


def run_sheet_pdf(
    bench: Bench | None,
    stem: str = "",
    *,
    day: date,
    event: str = "",
    session: str = "",
) -> bytes:
    """One page to be filled in by hand; with a set-up its cold pressures and hot targets stand beside."""
    setup = bench.setup(stem) if bench and (stem or bench.fitted) else None
    hot: tuple[float | None, ...] = ()
    if bench and setup:
        tyres = bench.chassis.tyres(setup.tyres)
        hot = (*(tyres.front.pressure_hot,) * 2, *(tyres.rear.pressure_hot,) * 2)
    return set_run_sheet(
        run_paper(
            day=day,
            units=bench.settings.units if bench else {},
            event=event,
            session=session,
            setup=setup,
            hot=hot,
        )
    )
