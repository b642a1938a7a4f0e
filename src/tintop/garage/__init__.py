"""The hub: what the doors ask for, whether it stands in single documents or in a garage's folder."""

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from tintop.garage.asking import Lasting as Lasting
    from tintop.garage.asking import Line as Line
    from tintop.garage.asking import Quickness as Quickness
    from tintop.garage.asking import ask_how_quick as ask_how_quick
    from tintop.garage.asking import ask_will_it_last as ask_will_it_last
    from tintop.garage.asking import ask_will_the_cage_hold as ask_will_the_cage_hold
    from tintop.garage.asking import check_cases as check_cases
    from tintop.garage.asking import driven_path as driven_path
    from tintop.garage.asking import envelope_of as envelope_of
    from tintop.garage.asking import save_lap_charts as save_lap_charts
    from tintop.garage.asking import save_race_charts as save_race_charts
    from tintop.garage.asking import save_trace as save_trace
    from tintop.garage.loading import demo_path as demo_path
    from tintop.garage.loading import load_cage as load_cage
    from tintop.garage.loading import load_car as load_car
    from tintop.garage.loading import load_circuit as load_circuit
    from tintop.garage.loading import load_event as load_event
    from tintop.garage.loading import load_weather as load_weather
    from tintop.garage.loading import schema as schema
    from tintop.garage.loading import write_demo as write_demo

_LOADING = (
    "demo_path",
    "load_cage",
    "load_car",
    "load_circuit",
    "load_event",
    "load_weather",
    "schema",
    "write_demo",
)
_ASKING = (
    "Lasting",
    "Line",
    "Quickness",
    "ask_how_quick",
    "ask_will_it_last",
    "ask_will_the_cage_hold",
    "check_cases",
    "driven_path",
    "envelope_of",
    "save_lap_charts",
    "save_race_charts",
    "save_trace",
)


def __getattr__(name: str) -> Any:
    """Fetch a function when first used: those that only read spare the lap model's imports."""
    if name not in _LOADING + _ASKING:
        raise AttributeError(f"module 'tintop.garage' has no attribute {name!r}")
    return getattr(import_module(f"tintop.garage.{'loading' if name in _LOADING else 'asking'}"), name)
