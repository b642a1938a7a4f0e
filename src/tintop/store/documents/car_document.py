"""The fields of car.toml, with the kind of quantity and the meaning of each."""

from pydantic import Field

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

TYRE_KINDS = ("road", "semi_slick", "slick", "wet")
PAD_KINDS = ("road", "fast_road", "endurance")


class MassesTable(Table):
    """Masses and where they sit."""

    car: Number = quantity("mass", "the car with all its fluids, without fuel and driver", required=True)
    driver: Number = quantity("mass", "driver dressed to race")
    ballast: Number = quantity("mass", "ballast fixed to the car")
    unsprung_front: Number = quantity("mass", "what moves with both front wheels")
    unsprung_rear: Number = quantity("mass", "what moves with both rear wheels")
    front_share: Number = quantity("share", "front wheels' share of the weight, driver aboard, no fuel")
    cg_height: Number = quantity("length", "height of the centre of gravity, driver aboard, no fuel")
    tank_behind_front_axle: Number = quantity("length", "middle of the tank behind the front axle")
    tank_height: Number = quantity("length", "middle of the tank above the road")


class DimensionsTable(Table):
    """Wheelbase, track widths and width."""

    wheelbase: Number = quantity("length", "front axle to rear axle", required=True)
    track: Number = quantity("length", "track width of both axles, in place of track_front and track_rear")
    track_front: Number = quantity("length", "front track width at the contact line", required=True)
    track_rear: Number = quantity("length", "rear track width at the contact line")
    width: Number = quantity("length", "overall width without mirrors")


class AeroTable(Table):
    """Drag and lift: force = ½ density speed² area."""

    drag_area: Number = quantity("area", "drag coefficient times frontal area")
    lift_area_front: Number = quantity("area", "lift area at the front axle, upwards positive")
    lift_area_rear: Number = quantity("area", "lift area at the rear axle, upwards positive")


class DynoTable(Table):
    """A sheet from a rolling road or engine brake."""

    speeds: Numbers = quantities("engine speed", "engine speeds, rising")
    torques: Numbers = quantities("torque", "torque at each speed, as if at the engine")
    powers: Numbers = quantities("power", "power at each speed, in place of torques")
    at: Word = choice(("crank", "wheels"), "where it was taken; wheels = divided by gearbox.efficiency")
    uncertainty: Number = quantity("share", "standard uncertainty of the whole curve")
    air_temp: Number = quantity("temperature", "air at the dyno; only for an uncorrected sheet")
    air_pressure: Number = quantity("pressure", "absolute air pressure at the dyno, uncorrected sheet")
    humidity: Number = quantity("share", "relative humidity at the dyno, uncorrected sheet")


class EngineTable(Table):
    """Full-load curve, speeds and consumption."""

    peak_power: Number = quantity("power", "peak power at the crankshaft", required=True)
    peak_power_speed: Number = quantity("engine speed", "engine speed of peak power")
    peak_torque: Number = quantity("torque", "peak torque at the crankshaft")
    peak_torque_speed: Number = quantity("engine speed", "engine speed of peak torque")
    dyno: DynoTable | None = Field(default=None, description="full-load curve, in place of the peaks")
    displacement: Number = quantity("volume", "swept volume")
    idle_speed: Number = quantity("engine speed", "idle")
    limiter_speed: Number = quantity("engine speed", "rev limiter, or the driver's own limit")
    inertia: Number = quantity("inertia", "turning inertia of crank, flywheel and clutch")
    specific_consumption: Number = quantity("specific consumption", "fuel per work at full load")
    friction_pressure: Number = quantity("pressure", "mean effective pressure lost to friction and pumping")
    is_charged: Flag = Field(default=None, description="true with a turbo or supercharger")


class FuelTable(Table):
    """The fuel."""

    density: Number = quantity("density", "density at 15 °C")
    heating_value: Number = quantity("specific energy", "lower heating value")


class DifferentialTable(Table):
    """The differential of the driven axle."""

    kind: Word = choice(("open", "limited_slip", "locked"), "kind of differential")
    preload: Number = quantity("torque", "torque it holds without drive, at the wheels")
    lock_share_drive: Number = quantity("share", "torque difference over torque sum under drive")
    torque_bias_ratio: Number = quantity("ratio", "of a helical unit, in place of lock_share_drive")


class GearboxTable(Table):
    """Ratios, final drive and differential."""

    ratios: Numbers = quantities("ratio", "ratios from first gear to top", required=True)
    top_speed_per_gear: Numbers = quantities("speed", "speed at the limiter in each gear, in place of ratios")
    final_drive: Number = quantity("ratio", "final drive ratio", required=True)
    shift_time: Number = quantity("time", "time without drive in an upshift")
    efficiency: Number = quantity("share", "power at the wheels over power at the crankshaft")
    front_drive_share: Number = quantity("share", "front axle's share of the drive, four-wheel drive only")
    differential: DifferentialTable = DifferentialTable()


class SuspensionTable(Table):
    """Roll stiffness, roll centres and camber."""

    roll_stiffness_front: Number = quantity("roll stiffness", "front springs, bar and tyres in series")
    roll_stiffness_rear: Number = quantity("roll stiffness", "rear springs, bar and tyres in series")
    roll_centre_height_front: Number = quantity("length", "front roll centre above the road")
    roll_centre_height_rear: Number = quantity("length", "rear roll centre above the road")
    camber_front: Number = quantity("angle", "front camber standing, negative = top inwards")
    camber_rear: Number = quantity("angle", "rear camber standing, negative = top inwards")
    camber_recovery_front: Number = quantity("share", "share of roll by which the wheels stay upright")
    camber_recovery_rear: Number = quantity("share", "share of roll by which the wheels stay upright")


class TyreTable(Table):
    """One axle's tyres."""

    kind: Word = choice(TYRE_KINDS, "class of tyre")
    friction_lateral: Number = quantity("number", "peak sideways grip over load, at the reference load")
    friction_longitudinal: Number = quantity("number", "peak braking grip over load, at the reference load")
    friction_wet_share: Number = quantity("share", "grip on a wet road over grip on a dry one")
    reference_load: Number = quantity("force", "wheel load at which the grip is stated")
    load_sensitivity: Number = quantity("number", "change of grip when the load doubles, negative")
    camber_best: Number = quantity("angle", "lean of the loaded wheel with the most grip, negative = inwards")
    camber_loss: Number = quantity("camber loss", "share of grip lost per squared angle from the best")
    temp_best: Number = quantity("temperature", "tread temperature with the most grip")
    temp_span: Number = quantity("temperature difference", "grip = 1 − (difference from best ÷ this)²")
    friction_floor: Number = quantity("share", "least grip at any temperature over the best")
    slide_slip: Number = quantity("number", "tangent of the slip at which the whole contact slides")
    rolling_resistance: Number = quantity("number", "rolling force over load")
    radius: Number = quantity("length", "loaded radius")
    inertia: Number = quantity("inertia", "one wheel with tyre and disc, about its axle")
    tread_depth: Number = quantity("length", "tread left")
    tread_depth_minimum: Number = quantity("length", "tread at which it is changed")
    wear_rate: Number = quantity("wear depth", "tread lost per slip work at the best temperature")
    wear_doubling: Number = quantity("temperature difference", "rise over the best that doubles the wear")
    tread_heat_capacity: Number = quantity("heat capacity", "heat capacity of the tread")
    carcass_heat_capacity: Number = quantity("heat capacity", "heat capacity of the casing")
    tread_to_road: Number = quantity("conductance", "heat from tread to road while rolling")
    tread_to_air: Number = quantity("conductance", "heat from tread to air at 30 m/s")
    tread_to_carcass: Number = quantity("conductance", "heat from tread to casing")
    carcass_to_air: Number = quantity("conductance", "heat from casing to air at 30 m/s")
    slip_heat_share: Number = quantity("share", "share of slip work that heats the tyre")
    pressure_cold: Number = quantity("pressure", "gauge pressure before the race")
    pressure_hot: Number = quantity("pressure", "gauge pressure wanted when hot; unknown if not stated")


class TyresTable(TyreTable):
    """Tyres of both axles, with front and rear apart where they differ."""

    kind: Word = choice(TYRE_KINDS, "class of tyre", required=True)
    front: TyreTable = TyreTable()
    rear: TyreTable = TyreTable()


class PadTable(Table):
    """Pads of one axle."""

    kind: Word = choice(PAD_KINDS, "class of pad")
    temps: Numbers = quantities("temperature", "temperatures of the friction curve, rising")
    frictions: Numbers = quantities("number", "friction coefficient at each of the temps")
    area: Number = quantity("area", "rubbing area of one pad")
    thickness: Number = quantity("length", "friction material left, without the backing plate")
    thickness_minimum: Number = quantity("length", "friction material at which it is changed")
    wear_rate: Number = quantity("wear volume", "volume lost per friction work at wear_temp")
    wear_temp: Number = quantity("temperature", "temperature at which wear_rate is stated")
    wear_doubling: Number = quantity("temperature difference", "rise over wear_temp that doubles the wear")


class AxleBrakeTable(Table):
    """Disc, caliper and pads of one wheel."""

    disc_diameter: Number = quantity("length", "disc's outer diameter")
    disc_mass: Number = quantity("mass", "one disc")
    disc_thickness: Number = quantity("length", "disc as it is")
    disc_thickness_minimum: Number = quantity("length", "thickness stamped as the minimum")
    disc_wear_rate: Number = quantity("wear depth", "thickness lost per friction work")
    disc_temp_limit: Number = quantity("temperature", "highest bulk temperature allowed")
    effective_radius: Number = quantity("length", "middle of the rubbed ring")
    piston_area: Number = quantity("area", "all pistons on one side of the disc")
    master_cylinder_area: Number = quantity("area", "master cylinder of this circuit")
    air_cooling: Number = quantity("conductance", "heat from disc to air at 30 m/s, duct included")
    heat_to_disc_share: Number = quantity("share", "share of the work that enters the disc")
    caliper_heat_capacity: Number = quantity("heat capacity", "caliper with its fluid")
    pad_to_caliper: Number = quantity("conductance", "heat from disc and pads to the caliper")
    caliper_to_air: Number = quantity("conductance", "heat from caliper to air at 30 m/s")
    pad: PadTable = PadTable()


class BrakesTable(Table):
    """Pedal, fluid and both axles."""

    pedal_ratio: Number = quantity("ratio", "push at the cylinder over push at the pedal")
    boost: Number = quantity("ratio", "servo multiplication, 1 = none")
    pedal_force: Number = quantity("force", "hardest push the driver repeats all race")
    bar_front_share: Number = quantity("share", "balance bar's share to the front cylinder; 0.5 if tandem")
    is_tandem_cylinder: Flag = Field(default=None, description="true for one tandem cylinder, false for two")
    rear_valve_share: Number = quantity("share", "pressure let through to the rear, 1 = no valve")
    fluid_boiling_dry: Number = quantity("temperature", "dry boiling point of the fluid")
    fluid_boiling_wet: Number = quantity("temperature", "wet boiling point of the fluid")
    fluid_wetness: Number = quantity("share", "0 = fresh, 1 = at the standard's wet point")
    front: AxleBrakeTable = AxleBrakeTable()
    rear: AxleBrakeTable = AxleBrakeTable()


class CoolingTable(Table):
    """Coolant and oil circuits."""

    coolant_heat_capacity: Number = quantity("heat capacity", "engine, coolant and radiator")
    coolant_flow: Number = quantity("mass flow", "coolant flow at peak power")
    coolant_specific_heat: Number = quantity("specific heat", "specific heat of the coolant")
    heat_to_coolant_share: Number = quantity("share", "share of the fuel's energy that heats the coolant")
    radiator_face_area: Number = quantity("area", "face of the radiator core")
    radiator_conductance: Number = quantity("conductance", "radiator at core_reference_speed")
    air_speed_share: Number = quantity("share", "air speed through the core over road speed")
    core_reference_speed: Number = quantity("speed", "air speed at which conductances are stated")
    fan_air_speed: Number = quantity("speed", "air speed through the core by the fan, standing")
    thermostat_temp: Number = quantity("temperature", "thermostat opens")
    coolant_limit: Number = quantity("temperature", "boiling at the cap's pressure, or own limit")
    oil_heat_capacity: Number = quantity("heat capacity", "oil with the parts it wets")
    oil_flow: Number = quantity("mass flow", "oil through the cooler")
    oil_specific_heat: Number = quantity("specific heat", "specific heat of the oil")
    heat_to_oil_share: Number = quantity("share", "share of the fuel's energy that heats the oil")
    oil_core_face_area: Number = quantity("area", "face of the oil cooler, 0 = none")
    oil_core_conductance: Number = quantity("conductance", "oil cooler at core_reference_speed, 0 = none")
    sump_conductance: Number = quantity("conductance", "heat from sump to air at 30 m/s")
    oil_to_coolant: Number = quantity("conductance", "heat from oil to coolant through the block")
    oil_limit: Number = quantity("temperature", "highest oil temperature allowed")
    traffic_air_share: Number = quantity("share", "air speed left close behind another car")
    traffic_air_warmer: Number = quantity("temperature difference", "warmer air close behind another car")


class TankTable(Table):
    """The fuel tank."""

    volume: Number = quantity("volume", "fuel it holds")
    unusable_volume: Number = quantity("volume", "fuel the pump cannot reach in corners")


class CarDocument(Table):
    """car.toml."""

    name: Word = name_of("what the car is called")
    driven_axle: Word = choice(("front", "rear", "four"), "which wheels are driven", required=True)
    masses: MassesTable = MassesTable()
    dimensions: DimensionsTable = DimensionsTable()
    aero: AeroTable = AeroTable()
    engine: EngineTable = EngineTable()
    fuel: FuelTable = FuelTable()
    gearbox: GearboxTable = GearboxTable()
    suspension: SuspensionTable = SuspensionTable()
    tyres: TyresTable = TyresTable()
    brakes: BrakesTable = BrakesTable()
    cooling: CoolingTable = CoolingTable()
    tank: TankTable = TankTable()
