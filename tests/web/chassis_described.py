"""What carries the demo's car, put into the garage of a test."""

from tintop.garage.keeper import Garage
from tintop.store.demo import demo_path


def describe_chassis(garage: Garage, *setups: str) -> None:
    """Put chassis.toml and some of the demo's set-ups into a garage's folder."""
    (garage.folder / "setups").mkdir(exist_ok=True)
    demo = demo_path("chassis.toml").parent
    for name in ("chassis.toml", *(f"setups/{setup}.toml" for setup in setups)):
        (garage.folder / name).write_bytes((demo / name).read_bytes())
    garage.look_outside()
