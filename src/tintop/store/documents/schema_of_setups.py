"""What the fields of chassis.toml and of a set-up take when the owner says nothing, for the schema."""

from collections.abc import Mapping
from functools import cache

from tintop.store.documents import chassis_reader
from tintop.store.documents.car_document import PadTable, TyreTable
from tintop.store.documents.chassis_document import ChassisDocument
from tintop.store.documents.defaults import Default
from tintop.store.documents.fields import declared
from tintop.store.documents.setup_document import SetupDocument

_WORDS_OF_A_CHASSIS = {
    "least_mass": "none: not judged",
    "final_drives": "that of car.toml",
    "perch_pitch": "none: it does not turn",
    "springs[].name": "its rate",
    "springs[].rate": "required",
    "springs[].owned": "true",
    "springs[].sure": "false",
    "springs[].free_length": "unknown",
    "bars[].name": "required",
    "bars[].roll_stiffness": "required, unless diameter, length, arms and link_motion_ratio are given",
    "bars[].shear_modulus": "80000 MPa",
    "bars[].owned": "true",
    "dampers[].name": "required",
    "dampers[].one_knob": "false",
    "dampers[].owned": "true",
    "most_clicks": "0",
    "speeds": "required with forces",
    "curves": "unknown: the ride then says so",
    "curves[].click": "required",
    "curves[].forces": "required, unless ratio is given",
    "curves[].ratio": "required, unless forces is given",
    "slots_inward": "0 mm",
    "slots_outward": "0 mm",
    "doubt": "3 mm",
    "bias.device": "none",
    "bias.share_per_turn": "required with a device",
    "bias.least_turns": "0",
    "bias.most_turns": "0",
    "as_in_car": "false",
    "tyre_sets[].name": "required",
    "tyre_sets[].kind": "required, unless as_in_car is true",
    "tyre_sets[].pressure_hot": "unknown",
    "pad_sets[].name": "required",
    "pad_sets[].kind": "required, unless as_in_car is true",
    "adjusters[].item": "required",
    "adjusters[].end": "required for what an end has",
    "adjusters[].choices": "required for parts",
    "chores[].item": "required",
    "chores[].torque": "unknown: it stands in the car's manual",
    "ballast_places[].name": "required",
    "ballast_places[].place": "required",
    "ballast_places[].most": "required",
}
_WORDS_OF_A_SETUP = {
    "name": "the file's name",
    "circuit": "any",
    "brake_bias_turns": "0",
    "fuel": "0 L",
    "ballast": "0 kg",
    "tyres": "required",
    "pads": "required",
}


@cache
def chassis_defaults() -> Mapping[str, list[tuple[str, Default]]]:
    """Give the class defaults of a chassis by path, as the schema lists them."""
    return {path: [("", default)] for path, default in chassis_reader.defaults().items()}


@cache
def words_of_a_chassis() -> Mapping[str, str]:
    """Give what is taken for each field of a chassis without a default of a number."""
    return {field.path: _of_a_chassis(field.path) for field in declared(ChassisDocument)}


def _of_a_chassis(path: str) -> str:
    for end, words in _WORDS_OF_A_CHASSIS.items():
        if path == end or path.endswith(f".{end}"):
            return words
    table, _, name = path.rpartition(".")
    if table in ("tyre_sets[].front", "tyre_sets[].rear"):
        return f"as tyre_sets[].{name}"
    if table == "tyre_sets[]" and name in TyreTable.model_fields:
        return "by class of tyre"
    if table in ("pad_sets[].front", "pad_sets[].rear") and name in PadTable.model_fields:
        return {"kind": "pad_sets[].kind", "area": "that of car.toml's pads"}.get(name, "by class of pad")
    if table.startswith("chores"):
        return "as usual: data/defaults/chores.toml"
    if table.startswith("adjusters"):
        return "required for numbers"
    if table.endswith((".strut", ".wishbones", ".measured")):
        return "required in this table"
    return "none"


@cache
def words_of_a_setup() -> Mapping[str, str]:
    """Give what is taken for each field of a set-up."""
    return {field.path: _of_a_setup(field.path) for field in declared(SetupDocument)}


def _of_a_setup(path: str) -> str:
    if path in _WORDS_OF_A_SETUP:
        return _WORDS_OF_A_SETUP[path]
    table, _, name = path.rpartition(".")
    if table in ("FL", "FR", "RL", "RR"):
        return f"as {'front' if table[0] == 'F' else 'rear'}.{name}"
    if table in ("front", "rear"):
        return "required" if name in ("springs", "bar", "hole", "dampers") else "required, or for each wheel"
    return "none"
