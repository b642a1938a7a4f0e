"""tintop: the missing office of the owner-driver in club endurance racing.

Read documents with `load_car`, `load_circuit`, `load_event`, `load_cage`; ask with `ask_how_quick`,
`ask_will_it_last`, `ask_will_the_cage_hold`, `inspect_car`.
"""

from importlib import import_module
from typing import Any

__version__ = "0.1.0"
__all__ = [
    "ask_how_quick",
    "ask_will_it_last",
    "ask_will_the_cage_hold",
    "inspect_car",
    "load_cage",
    "load_car",
    "load_circuit",
    "load_event",
]


def __getattr__(name: str) -> Any:
    """Fetch the garage's functions when first used, so that importing tintop stays quick."""
    if name not in __all__:
        raise AttributeError(f"module 'tintop' has no attribute {name!r}")
    home = "tintop.garage.inspecting" if name == "inspect_car" else "tintop.garage"
    return getattr(import_module(home), name)
