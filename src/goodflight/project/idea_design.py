"""One whole design from what is at hand: which pieces, which sizes, and where everything lies.

The axial stack follows from what must fit: gear at the density of a hand-packed bay and one calibre
spare, couplers of 1.9 calibres, a mount as long as the motor. Common practice without a source.
"""

import math
from dataclasses import dataclass
from typing import Annotated, Final

from goodflight.physics.recovery.canopy_kinds import canopy_kind
from goodflight.physics.recovery.packing import (
    DEFAULT_DENSITY_KG_M3,
    SPARE_CALIBRES,
    WRAP_KG_M3,
    blanket_needed_m2,
    packed_length_m,
)
from goodflight.project.idea import Idea
from goodflight.project.idea_file import IdeaCanopy, IdeaCord, IdeaMount, IdeaTube

CANOPY_KG_M2: Final = 0.105  # with lines and swivel, of light nylon; common practice
CORD_KG_M2: Final = 1.8  # tubular nylon, per metre length and width; common practice
CORD_WIDTH_M: Final = 0.014  # where nobody says
BLANKET_KG_M2: Final = 0.53  # heat-proof cloth; as the demo's weighs
LINKS_KG: Final = 0.024
LAP: Final = 1.3  # blanket cut larger than what just wraps the pack
COUPLER_CALIBRES: Final = 1.9
MOST_SHOULDER_M: Final = 0.1
FIN_AHEAD_M: Final = 0.01  # root ends ahead of the tail
TIP_SHARE, SWEEP_SHARE = 0.4, 0.5  # of the root
MOTOR_ROOM_M: Final = 0.02  # in front of the motor
# evenings of two to three hours; our guess, no source
EVENINGS: Final = (
    ("tubes, nose and mount cut and glued", 2),
    ("fins cut, set and filleted", 3),
    ("cord, parachute and protector rigged", 1),
    ("separation and packing tried on the ground", 1),
    ("weighed and balanced", 1),
)
CARRY_EVENINGS: Final = 2
FOURTH_FIN_EVENINGS: Final = 1
PAINT_EVENINGS: Final = 3


@dataclass(frozen=True)
class Design:
    """What is chosen: pieces by their place in the idea's lists, sizes in metres and kilograms."""

    motor: Annotated[str, "name of its file in motors/"]
    delay_out_s: Annotated[float, "taken out of the delay [s]"]
    tube: Annotated[int, "which [[tube]], from 0"]
    mount: Annotated[int, "which [[mount]], from 0"]
    sheet: Annotated[int, "which [[sheet]], from 0"]
    canopy: Annotated[int, "which [[canopy]], from 0"]
    cord: Annotated[int, "which [[cord]], from 0"]
    fin_count: Annotated[int, "number of fins"]
    root_m: Annotated[float, "length of a fin along the body [m]"]
    span_m: Annotated[float, "how far a fin stands out [m]"]
    nose_m: Annotated[float, "length of the nose [m]"]
    spare_m: Annotated[float, "body length beyond what must fit [m]"]
    ballast_kg: Annotated[float, "ballast in the nose [kg]"]
    tilt_rad: Annotated[float, "lean of the rail into the wind [rad]"]


@dataclass(frozen=True)
class Laid:
    """Where everything of a design lies, from the nose tip, and what it weighs. [SI]"""

    tube: IdeaTube
    mount: IdeaMount
    canopy: IdeaCanopy
    cord: IdeaCord
    payload_m: float  # of the tube behind the nose; 0 = the nose itself comes off
    shoulder_m: float
    coupler_m: float
    separates_m: float
    bay_from_m: float
    bay_m: float
    mount_from_m: float
    mount_m: float
    length_m: float
    roll_m: float
    stowed_m: float
    canopy_kg: float
    cord_kg: float
    blanket_m2: float
    evenings: int
    painted: bool

    @property
    def outer_m(self) -> float:
        """Outside diameter."""
        return self.tube.outer_diameter.value

    @property
    def bore_m(self) -> float:
        """Inside diameter."""
        return self.tube.inner_diameter.value

    @property
    def tubes_m(self) -> float:
        """Length of body tube that is cut."""
        return self.payload_m + self.length_m - self.separates_m


@dataclass(frozen=True)
class DoesNotFit:
    """Why a design cannot be built from what is at hand. `by` : how far off, 0 to about 1."""

    why: str
    by: float


def cloth_m2(canopy: IdeaCanopy) -> float:
    """Area of a canopy's cloth [m2]."""
    return canopy.across.value**2 * canopy_kind(canopy.shape).area_over_square(canopy.across.way)


def canopy_kg(canopy: IdeaCanopy) -> float:
    """Mass of a canopy, as typed or by its cloth [kg]."""
    return CANOPY_KG_M2 * cloth_m2(canopy) if canopy.mass is None else canopy.mass.value


def cord_kg(cord: IdeaCord) -> float:
    """Mass of a cord, as typed or by its size [kg]."""
    wide = CORD_WIDTH_M if cord.width is None else cord.width.value
    return CORD_KG_M2 * wide * cord.length.value if cord.mass is None else cord.mass.value


def evenings_of(idea: Idea, fins: int) -> int:
    """Evenings of work without paint; our guess."""
    found = sum(count for _, count in EVENINGS)
    found += CARRY_EVENINGS if idea.said.carry is not None else 0
    return found + (FOURTH_FIN_EVENINGS if fins > 3 else 0)


def lay_out(idea: Idea, design: Design, motor_length_m: float, motor_m: float) -> Laid | DoesNotFit:
    """Where everything of a design lies, or why it does not fit.

    Parameters
    ----------
    idea : Idea - what is at hand. [-]
    design : Design - what is chosen of it. [SI]
    motor_length_m, motor_m : float - of the chosen motor: length, diameter. [m]

    Returns
    -------
    laid : Laid or DoesNotFit. [SI]
    """
    said = idea.said
    tube, mount = said.tube[design.tube], said.mount[design.mount]
    canopy, cord = said.canopy[design.canopy], said.cord[design.cord]
    bore = tube.inner_diameter.value
    narrow = _too_narrow(mount, motor_m, bore)
    if narrow is not None:
        return narrow
    evenings = evenings_of(idea, design.fin_count)
    if said.evenings is not None and evenings > said.evenings:
        return DoesNotFit(
            f"it takes about {evenings} evenings, {said.evenings} are there",
            evenings / said.evenings - 1.0,
        )
    painted = said.evenings is None or evenings + PAINT_EVENINGS <= said.evenings
    shoulder, coupler = min(bore, MOST_SHOULDER_M), _mm(COUPLER_CALIBRES * bore)
    payload = 0.0
    if said.carry is not None:
        payload = _mm(shoulder + said.carry.length.value + 0.015 + coupler / 2)
    separates = design.nose_m + payload
    engaged = coupler / 2 if payload else shoulder
    masses = canopy_kg(canopy), cord_kg(cord)
    roll, stowed = (
        _mm(max(0.03, float(packed_length_m(mass / DEFAULT_DENSITY_KG_M3, width))))
        for mass, width in zip(masses, (bore - 0.004, bore), strict=True)
    )
    blanket = round(LAP * float(blanket_needed_m2(bore, roll)), 3)
    wraps = float(packed_length_m((BLANKET_KG_M2 * blanket + LINKS_KG) / WRAP_KG_M3, bore))
    bay = _mm(roll + stowed + wraps + SPARE_CALIBRES * bore + 0.04 + design.spare_m)
    mount_long = _mm(max(motor_length_m + MOTOR_ROOM_M, design.root_m + FIN_AHEAD_M + 0.02))
    bay_from = separates + engaged
    mount_from = _mm(bay_from + bay + 0.03)  # with room for the U-bolt
    laid = Laid(
        tube=tube,
        mount=mount,
        canopy=canopy,
        cord=cord,
        payload_m=payload,
        shoulder_m=shoulder,
        coupler_m=coupler,
        separates_m=separates,
        bay_from_m=bay_from,
        bay_m=bay,
        mount_from_m=mount_from,
        mount_m=mount_long,
        length_m=mount_from + mount_long,
        roll_m=roll,
        stowed_m=stowed,
        canopy_kg=masses[0],
        cord_kg=masses[1],
        blanket_m2=blanket,
        evenings=evenings + (PAINT_EVENINGS if painted else 0),
        painted=painted,
    )
    return _too_large(laid, design) or laid


def _too_narrow(mount: IdeaMount, motor_m: float, bore_m: float) -> DoesNotFit | None:
    if mount.inner_diameter.value < motor_m:
        return DoesNotFit(f"the motor is wider than a {mount.inner_diameter.text} mount", 1.0)
    if mount.outer_diameter.value > bore_m - 0.002:
        return DoesNotFit(f"a {mount.outer_diameter.text} mount does not go into this tube", 1.0)
    return None


def _too_large(laid: Laid, design: Design) -> DoesNotFit | None:
    tube = laid.tube
    if tube.length is not None and laid.tubes_m > tube.length.value:
        return DoesNotFit(
            f"it needs {laid.tubes_m:.2f} m of the {tube.length.text} tube there is",
            laid.tubes_m / tube.length.value - 1.0,
        )
    if design.span_m > 3.0 * tube.outer_diameter.value:
        return DoesNotFit("the fins stand out too far", 1.0)
    return None


def _mm(length_m: float) -> float:
    """Rounded up to whole millimetres."""
    return math.ceil(length_m * 1e3 - 1e-6) / 1e3
