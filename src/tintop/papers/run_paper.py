"""The run sheet on one page, to be filled in by hand at the pit wall and typed into the session's page."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from tintop.car.chassis import CORNERS, Item
from tintop.car.setup import Setup
from tintop.car.setup_words import value_words
from tintop.papers.content import plain, shortened

WHERE = ("entry", "mid-corner", "exit")
HANDLING = ("understeer", "fine", "oversteer")
GOING_OUT = ("Driver", "Start clock", "Fuel aboard", "Tyre set")
COMING_IN = ("Laps", "Running time", "Best lap", "Fuel added", "Fuel left")
PEAKS = ("Coolant", "Oil", "Air", "Road")
TOOLS = ("Written by", "Pressure gauge", "Temperature probe", "Pad gauge or caliper")
LAP_ROWS = 32


@dataclass(frozen=True, slots=True, kw_only=True)
class RunPaper:
    """The sheet: what is known is printed small beside its box; the words are those of the page."""

    event: str
    session: str
    setup: str
    tyres: str
    day: date
    cold: tuple[str, str, str, str]  # to set, FL FR RL RR; empty where no set-up is named
    hot: tuple[str, str, str, str]  # to aim at
    going_out: tuple[str, ...] = GOING_OUT
    coming_in: tuple[str, ...] = COMING_IN
    peaks: tuple[str, ...] = PEAKS
    tools: tuple[str, ...] = TOOLS
    where: tuple[str, ...] = WHERE
    handling: tuple[str, ...] = HANDLING
    corners: tuple[str, ...] = CORNERS
    lap_rows: int = LAP_ROWS


def run_paper(
    *,
    day: date,
    units: Mapping[str, str],
    event: str = "",
    session: str = "",
    setup: Setup | None = None,
    hot: tuple[float | None, ...] = (),
) -> RunPaper:
    """Gather the sheet; `hot` are the hot pressures to aim at [Pa], None where a tyre's is not known."""

    def pressure(value: float | None) -> str:
        return "" if value is None else value_words(Item.PRESSURE, value, 0.0, units)

    cold = [pressure(corner.pressure_cold) for corner in setup.corners] if setup else [""] * 4
    aims = [pressure(value) for value in hot] if hot else [""] * 4
    return RunPaper(
        event=shortened(plain(event), 60),
        session=shortened(plain(session), 40),
        setup=shortened(plain(setup.name), 40) if setup else "",
        tyres=shortened(plain(setup.tyres), 40) if setup else "",
        day=day,
        cold=(cold[0], cold[1], cold[2], cold[3]),
        hot=(aims[0], aims[1], aims[2], aims[3]),
    )
