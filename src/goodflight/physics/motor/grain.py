"""Where a motor's masses sit: the propellant that leaves and the case that stays.

Published motor data seldom say where the propellant lies. Without better knowledge it is one
cylinder in the motor's middle, wall and liner 8 % of the diameter each side, with a core of a
third of its own diameter, as long as its mass at 1700 kg/m3 needs (at most the motor's length).
"""

from dataclasses import dataclass
from math import pi, sqrt
from typing import Final

from goodflight.physics.motor.model import Motor
from goodflight.physics.vehicle.mass import MassItem

PROPELLANT_DENSITY_KG_M3: Final = 1700.0  # usual composite, common practice, no source
WALL_SHARE: Final = 0.08  # case wall and liner, each side, of the motor's diameter; our guess
CORE_SHARE: Final = 1.0 / 3.0  # core over propellant diameter; our guess


@dataclass(frozen=True)
class Grain:
    """Size and place of the propellant, as a hollow cylinder."""

    length_m: float
    outer_radius_m: float
    core_radius_m: float
    cg_m: float  # station of its middle

    @property
    def inertia_radius_m(self) -> float:
        """Radius of the solid cylinder with the same inertia per mass [m]: sqrt(a^2 + b^2)."""
        return sqrt(self.outer_radius_m**2 + self.core_radius_m**2)


def propellant_grain(motor: Motor, aft_station_m: float) -> Grain:
    """Size and place of the propellant, for balance and inertia over the burn.

    Given sizes are used as they are; the rest follows the defaults of the module head.

    Parameters
        motor : Motor - the motor. [-]
        aft_station_m : float - station of the motor's aft end (nozzle face). [m]
    Returns
        grain : Grain - length, radii, station of the middle. [m]
    Raises
        ValueError - core not smaller than the propellant
    Validity
        A guess unless the sizes are given. Place: half the room left at the ends (about 0.05 m
        for a 0.2 m motor) is the most it can be wrong; the CG of a 1.7 kg rocket with 0.13 kg of
        propellant then moves by less than 4 mm.
    Source
        Ours, no source; every default can be replaced in the motor's file.
    Example
        >>> motor = Motor("m", (0.0, 1.0), (99.0, 0.0), 0.128, 0.305, 0.203, 0.038, 11.0)
        >>> round(propellant_grain(motor, 1.22).cg_m, 4)
        1.1185
    """
    diameter = motor.propellant_diameter_m
    if diameter is None:
        diameter = (1.0 - 2.0 * WALL_SHARE) * motor.diameter_m
    core = motor.core_diameter_m if motor.core_diameter_m is not None else CORE_SHARE * diameter
    if not 0.0 <= core < diameter:
        raise ValueError(
            f"motor '{motor.name}': core diameter {core:g} m, propellant diameter {diameter:g} m; "
            "the core must be smaller than the propellant."
        )
    length = motor.propellant_length_m
    if length is None:
        section = pi / 4.0 * (diameter**2 - core**2)
        length = min(motor.propellant_kg / PROPELLANT_DENSITY_KG_M3 / section, motor.length_m)
    from_aft = motor.propellant_aft_m
    if from_aft is None:
        from_aft = motor.length_m / 2.0
    return Grain(length, diameter / 2.0, core / 2.0, aft_station_m - from_aft)


def grain_item(motor: Motor, aft_station_m: float) -> MassItem:
    """The full propellant as a mass, for the rocket ready to fly.

    Hollow cylinder: pitch m ((a^2 + b^2)/4 + L^2/12), roll m (a^2 + b^2)/2.

    Parameters
        motor : Motor - the motor. [-]
        aft_station_m : float - station of the motor's aft end. [m]
    Returns
        item : MassItem - kind "propellant". [kg, m, kg m2]
    Raises
        ValueError - see propellant_grain
    Validity
        See propellant_grain.
    Source
        Textbook; derived.
    Example
        >>> motor = Motor("m", (0.0, 1.0), (99.0, 0.0), 0.128, 0.305, 0.203, 0.038, 11.0)
        >>> grain_item(motor, 1.22).mass_kg
        0.128
    """
    grain = propellant_grain(motor, aft_station_m)
    mass = motor.propellant_kg
    squares = grain.inertia_radius_m**2
    return MassItem(
        name=f"{motor.name}: propellant",
        mass_kg=mass,
        station_m=grain.cg_m,
        pitch_inertia_kg_m2=mass * (squares / 4.0 + grain.length_m**2 / 12.0),
        roll_inertia_kg_m2=mass * squares / 2.0,
        known=motor.known,
        kind="propellant",
    )


def motor_case_item(motor: Motor, aft_station_m: float) -> MassItem:
    """What stays of the motor after the burn: case, closures, nozzle, as a mass.

    Loaded less propellant, at the motor's middle; inertia of an even shell of the motor's size.

    Parameters
        motor : Motor - the motor. [-]
        aft_station_m : float - station of the motor's aft end (nozzle face). [m]
    Returns
        item : MassItem - kind "motor_case", at the motor's middle. [kg, m, kg m2]
    Raises
        nothing
    Validity
        The real case is some per cent heavier at the nozzle: its middle is good to about 5 % of
        the motor's length.
    Source
        Ours; shell inertia m (r^2/2 + L^2/12) textbook.
    Example
        >>> motor = Motor("m", (0.0, 1.0), (99.0, 0.0), 0.128, 0.305, 0.203, 0.038, 11.0)
        >>> round(motor_case_item(motor, 1.22).mass_kg, 3)
        0.177
    """
    mass = motor.loaded_kg - motor.propellant_kg
    radius = motor.diameter_m / 2.0
    return MassItem(
        name=f"{motor.name}: case",
        mass_kg=mass,
        station_m=aft_station_m - motor.length_m / 2.0,
        pitch_inertia_kg_m2=mass * (radius**2 / 2.0 + motor.length_m**2 / 12.0),
        roll_inertia_kg_m2=mass * radius**2,
        known=motor.known,
        kind="motor_case",
    )
