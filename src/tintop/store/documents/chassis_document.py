"""The fields of chassis.toml, with the kind of quantity and the meaning of each."""

from pydantic import Field

from tintop.car.chassis import BiasDevice, End, Item
from tintop.store.documents.car_document import PAD_KINDS, TYRE_KINDS, PadTable, TyreTable
from tintop.store.documents.written import (
    Flag,
    Number,
    Numbers,
    Table,
    Word,
    choice,
    name_of,
    quantities,
    quantity,
)

ENDS = tuple(end.value for end in End)
POINTS = "forward of the middle of the front axle, left of it, above the ground"


class SpringTable(Table):
    """A pair of coil springs."""

    name: Word = name_of("what the springs are called")
    rate: Number = quantity("spring rate", "rate of one spring")
    free_length: Number = quantity("length", "free length")
    price: Number = quantity("number", "price of the pair, in the garage's money")
    owned: Flag = Field(default=None, description="false if they would have to be bought")
    sure: Flag = Field(default=None, description="true if an unusual rate is meant as written")


class BarTable(Table):
    """An anti-roll bar, by the axle's roll stiffness or by the steel's measures."""

    name: Word = name_of("what the bar is called")
    roll_stiffness: Numbers = quantities(
        "roll stiffness", "the axle's by the bar alone, a value per hole, softest first"
    )
    diameter: Number = quantity("length", "of a solid round bar, in place of roll_stiffness")
    length: Number = quantity("length", "of the part that twists")
    arms: Numbers = quantities("length", "from bar to link, a value per hole, longest (softest) first")
    link_motion_ratio: Number = quantity("ratio", "travel of the link per travel of the wheel")
    shear_modulus: Number = quantity("pressure", "of the bar's steel")
    price: Number = quantity("number", "price, in the garage's money")
    owned: Flag = Field(default=None, description="false if it would have to be bought")


class ClickTable(Table):
    """A damper measured at one click."""

    click: Number = quantity("number", "clicks from full soft")
    forces: Numbers = quantities("force", "force at each of the speeds")
    ratio: Number = quantity("number", "damping ratio of the sprung corner, where no curve is known")


class DamperSideTable(Table):
    """One direction of a damper."""

    most_clicks: Number = quantity("number", "clicks from full soft to full hard, 0 = cannot be turned")
    speeds: Numbers = quantities("speed", "shaft speeds of the curves, rising")
    curves: list[ClickTable] = Field(default=[], description="one table per measured click, softest first")


class DamperTable(Table):
    """A pair of dampers."""

    name: Word = name_of("what the dampers are called")
    one_knob: Flag = Field(default=None, description="true if one knob turns bump and rebound together")
    bump: DamperSideTable = DamperSideTable()
    rebound: DamperSideTable = DamperSideTable()
    price: Number = quantity("number", "price of the pair, in the garage's money")
    owned: Flag = Field(default=None, description="false if they would have to be bought")


class StrutTable(Table):
    """A MacPherson strut of the left wheel, in three-dimensional points measured on the car."""

    top: Numbers = quantities("length", f"strut's top bearing: {POINTS}")
    strut_axis: Numbers = quantities("length", f"a point on the slider's axis near its lower end: {POINTS}")
    arm_front: Numbers = quantities("length", f"lower arm's front pivot: {POINTS}")
    arm_rear: Numbers = quantities("length", f"lower arm's rear pivot: {POINTS}")
    ball_joint: Numbers = quantities("length", f"lower ball joint: {POINTS}")
    track_rod_inner: Numbers = quantities("length", f"track rod's inner joint: {POINTS}")
    track_rod_outer: Numbers = quantities("length", f"track rod's outer joint: {POINTS}")
    wheel_centre: Numbers = quantities("length", f"middle of the wheel: {POINTS}")
    slots_inward: Number = quantity("length", "how far the top can move inwards from here")
    slots_outward: Number = quantity("length", "how far the top can move outwards from here")
    doubt: Number = quantity("length", "standard uncertainty of each measured coordinate")


class WishbonesTable(Table):
    """Two wishbones and a track rod or toe link of the left wheel."""

    upper_front: Numbers = quantities("length", f"upper wishbone's front pivot: {POINTS}")
    upper_rear: Numbers = quantities("length", f"upper wishbone's rear pivot: {POINTS}")
    upper_ball_joint: Numbers = quantities("length", f"upper ball joint: {POINTS}")
    lower_front: Numbers = quantities("length", f"lower wishbone's front pivot: {POINTS}")
    lower_rear: Numbers = quantities("length", f"lower wishbone's rear pivot: {POINTS}")
    lower_ball_joint: Numbers = quantities("length", f"lower ball joint: {POINTS}")
    track_rod_inner: Numbers = quantities("length", f"track rod's inner joint: {POINTS}")
    track_rod_outer: Numbers = quantities("length", f"track rod's outer joint: {POINTS}")
    wheel_centre: Numbers = quantities("length", f"middle of the wheel: {POINTS}")
    doubt: Number = quantity("length", "standard uncertainty of each measured coordinate")


class MeasuredWheelTable(Table):
    """Camber and toe read at several wheel travels: for a beam or any other axle."""

    travel: Numbers = quantities("length", "wheel travel from ride height, rising, bump positive")
    camber: Numbers = quantities("angle", "camber at each travel, negative = top inwards")
    toe: list[str] = Field(default=[], description='toe at each travel, such as "0.5 mm in per wheel"')
    leans_with_body: Number = quantity(
        "share", "share of body roll the wheels follow: 1 independent, 0 rigid"
    )
    roll_centre_height: Number = quantity("length", "roll centre above the road")


class AxleTable(Table):
    """One end of the car: how its wheels hang, and the parts there are for it."""

    motion_ratio: Number = quantity("ratio", "travel of the spring per travel of the wheel", required=True)
    damper_motion_ratio: Number = quantity("ratio", "travel of the damper per travel of the wheel")
    ride_height: Number = quantity(
        "length", "at your reference point, car as its points were measured", required=True
    )
    tyre_rate: Number = quantity("spring rate", "vertical rate of one tyre")
    tyre_damping: Number = quantity("damping", "vertical damping of one tyre")
    bump_travel: Number = quantity("length", "wheel travel from ride height to the bump stop")
    droop_travel: Number = quantity("length", "wheel travel from ride height to full droop")
    bump_stop_rate: Number = quantity("spring rate", "of the bump stop, at the wheel")
    perch_pitch: Number = quantity("length", "spring perch's rise per turn; none if it does not turn")
    rim_diameter: Number = quantity("length", "where toe is measured, across the rim's lip")
    tyre_air_rise_dry: Number = quantity(
        "temperature difference", "tyre's air above the day's, hot, dry race"
    )
    tyre_air_rise_wet: Number = quantity(
        "temperature difference", "tyre's air above the day's, hot, wet race"
    )
    pressure_loss: Number = quantity("number", "share of grip lost per squared share off the hot target")
    spring_preload: Number = quantity("force", "load on the fitted spring at full droop")
    spring_base: Number = quantity(
        "length", "solid axle: across from spring to spring; none for independent wheels"
    )
    strut: StrutTable | None = Field(default=None, description="a MacPherson strut")
    wishbones: WishbonesTable | None = Field(default=None, description="a double wishbone")
    measured: MeasuredWheelTable | None = Field(default=None, description="any other axle")
    springs: list[SpringTable] = Field(default=[], description="springs there are, or on the market")
    bars: list[BarTable] = Field(default=[], description="anti-roll bars there are, or on the market")
    dampers: list[DamperTable] = Field(default=[], description="dampers there are, or on the market")


class BiasTable(Table):
    """What shifts the brakes' balance."""

    device: Word = choice([device.value for device in BiasDevice], "what shifts it")
    share_per_turn: Number = quantity("share", "what one turn adds to the front")
    least_turns: Number = quantity("number", "turns to the rear there are, negative")
    most_turns: Number = quantity("number", "turns to the front there are")


class TyreSetTable(TyreTable):
    """Tyres as they are fitted; what is not said is taken from their class."""

    name: Word = name_of("what the set is called")
    kind: Word = choice(TYRE_KINDS, "class of tyre")
    as_in_car: Flag = Field(default=None, description="true for the tyres of car.toml")
    front: TyreTable = TyreTable()
    rear: TyreTable = TyreTable()


class PadSetTable(Table):
    """Pads as they are fitted; what is not said is taken from their class."""

    name: Word = name_of("what the set is called")
    as_in_car: Flag = Field(default=None, description="true for the pads of car.toml")
    kind: Word = choice(PAD_KINDS, "class of pad at both ends")
    front: PadTable = PadTable()
    rear: PadTable = PadTable()


class AdjusterTable(Table):
    """What the owner can turn, and how far."""

    item: Word = choice([item.value for item in Item], "what is changed")
    end: Word = choice(ENDS, "which end; none for the whole car")
    low: Word = Field(default=None, description="lowest value, with its unit")
    high: Word = Field(default=None, description="highest value, with its unit")
    step: Word = Field(default=None, description="smallest step worth making, with its unit")
    choices: list[str] = Field(default=[], description="names of parts, in place of low, high and step")


class ChoreTable(Table):
    """What changing one item takes, in place of the usual."""

    item: Word = choice([item.value for item in Item], "what is changed")
    time: Number = quantity(
        "time", "of the work itself, wheels off where it needs that; one end where the item has an end"
    )
    tools: Word = Field(default=None, description="tools it takes")
    check: Word = Field(default=None, description="what is looked at or measured after it")
    torque: Number = quantity("torque", "of what is undone, by the car's manual")
    wheels_off: Flag = Field(default=None, description="true if wheels come off")


class BallastTable(Table):
    """A place where ballast may be bolted."""

    name: Word = name_of("what the place is called")
    place: Numbers = quantities("length", POINTS)
    most: Number = quantity("mass", "most it may carry")


class ChassisDocument(Table):
    """chassis.toml."""

    pitch_inertia: Number = quantity("inertia", "of the sprung mass about its centre, nose up and down")
    roll_inertia: Number = quantity("inertia", "of the sprung mass about its centre, side to side")
    least_mass: Number = quantity("mass", "least mass of the class, with driver, at the finish")
    final_drives: Numbers = quantities("ratio", "final drives there are; that of car.toml if not said")
    front: AxleTable = AxleTable()
    rear: AxleTable = AxleTable()
    bias: BiasTable = BiasTable()
    tyre_sets: list[TyreSetTable] = Field(default=[], description="sets of tyres")
    pad_sets: list[PadSetTable] = Field(default=[], description="sets of pads")
    adjusters: list[AdjusterTable] = Field(default=[], description="what can be turned")
    chores: list[ChoreTable] = Field(default=[], description="what a change takes, where it is not the usual")
    ballast_places: list[BallastTable] = Field(default=[], description="where ballast may be bolted")
