"""The fields of a set-up's document, with the kind of quantity and the meaning of each."""

from pydantic import Field

from tintop.car.setup import Purpose
from tintop.store.documents.written import Number, Table, Word, choice, name_of, quantity, words_of


class WheelTable(Table):
    """One wheel, where it differs from its pair."""

    camber: Number = quantity("angle", "camber standing, driver aboard, negative = top inwards")
    toe: Word = Field(default=None, description='each wheel\'s own toe, such as "1 mm out per wheel"')
    ride_height: Number = quantity("length", "at your reference point, driver aboard")
    bump: Number = quantity("number", "bump clicks from full soft")
    rebound: Number = quantity("number", "rebound clicks from full soft")
    pressure_cold: Number = quantity("pressure", "gauge pressure, set cold")


class EndTable(WheelTable):
    """One end: what both wheels have, and the parts on it."""

    springs: Word = name_of("springs, by their name in chassis.toml")
    bar: Word = name_of("anti-roll bar, by its name in chassis.toml")
    hole: Number = quantity("number", "the bar's hole from 1, softest first; 0 = unhooked")
    dampers: Word = name_of("dampers, by their name in chassis.toml")


class SetupDocument(Table):
    """setups/<name>.toml."""

    name: Word = name_of("what the set-up is called")
    purpose: Word = choice([purpose.value for purpose in Purpose], "what it is for", required=True)
    circuit: Word = Field(default=None, description='circuit it is for, such as "larkmoor"; none for any')
    note: Word = words_of("anything to remember")
    tyres: Word = name_of("set of tyres, by its name in chassis.toml")
    pads: Word = name_of("set of pads, by its name in chassis.toml")
    final_drive: Number = quantity("ratio", "final drive fitted", required=True)
    brake_bias_turns: Number = quantity("number", "turns to the front from where car.toml has it")
    fuel: Number = quantity("volume", "fuel at the start")
    ballast: Number = quantity("mass", "ballast, all of it")
    ballast_place: Word = Field(default=None, description="where, by its name in chassis.toml")
    front: EndTable = EndTable()
    rear: EndTable = EndTable()
    FL: WheelTable = WheelTable()
    FR: WheelTable = WheelTable()
    RL: WheelTable = WheelTable()
    RR: WheelTable = WheelTable()
