"""Roll centre and camber of an axle's wheel table over a car that knows them by its class only."""

from collections.abc import Mapping
from dataclasses import replace

from tintop.car.chassis import End
from tintop.car.described import DescribedCar
from tintop.known import Known, Origin

NOTE = "from chassis.toml"


def with_wheel_tables(described: DescribedCar, chassis_known: Mapping[str, Known]) -> DescribedCar:
    """The car with what the chassis's wheel tables say, where car.toml says nothing of it.

    A number that car.toml states is never replaced.
    """
    found: dict[str, Known] = {}
    for end in End:
        table = f"{end.value}.measured"
        height = chassis_known.get(f"{table}.roll_centre_height")
        leans = chassis_known.get(f"{table}.leans_with_body")
        if height is not None:
            found[f"roll_centre_height_{end.value}"] = height
        if leans is not None:
            found[f"camber_recovery_{end.value}"] = replace(leans, value=1.0 - leans.value)
    taken = {
        name: replace(known, origin=Origin.ESTIMATED, note=NOTE)
        for name, known in found.items()
        if described.known[f"suspension.{name}"].origin is Origin.ASSUMED
    }
    if not taken:
        return described
    suspension = replace(described.car.suspension, **{name: known.value for name, known in taken.items()})
    return replace(
        described,
        car=replace(described.car, suspension=suspension),
        known={**described.known, **{f"suspension.{name}": known for name, known in taken.items()}},
    )
