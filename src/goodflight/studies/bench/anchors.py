"""Holes in a ring for what the cord is anchored to: a U-bolt's legs, or an eye bolt."""

from dataclasses import dataclass
from math import cos, pi, sin

from goodflight.physics.vehicle import parts as p
from goodflight.quantity.said import Said, literal, said
from goodflight.studies.bench.places import FinCan, of_kind
from goodflight.studies.bench.shapes import Circle, DoesNotFitError, Shape


@dataclass(frozen=True)
class EyePlace:
    """Where an eye bolt goes in a ring: radius of its hole, what is left on both sides."""

    radius_m: float
    wall_gap_m: float  # from the eye or washer to the tube's wall
    tube_gap_m: float  # from washer to the motor tube


def eye_place(inner_m: float, outer_m: float, washer_m: float, eye_m: float) -> EyePlace:
    """Place an eye bolt in a ring so that eye and washer are clear of the walls.

    Midway between motor tube and wall, or nearer the axis when the eye would touch the wall (the
    eye stands above the ring, so only the washer must clear the motor tube).

    Parameters
        inner_m : float - radius of the hole for the motor tube. [m]
        outer_m : float - radius of the ring. [m]
        washer_m : float - outer diameter of washer and nut. [m]
        eye_m : float - outer width of the eye. [m]
    Returns
        place : EyePlace - hole radius and gaps. [m]
    Raises
        DoesNotFitError - ring too narrow for the washer, or the eye cannot clear the wall
    Validity
        Flat ring, straight bolt; 0.5 mm is kept free on either side.
    Source
        Geometry.
    Example
        >>> round(eye_place(0.0206, 0.0380, 0.010, 0.020).radius_m, 4)
        0.0275
    """
    gap = 0.0005
    least = inner_m + washer_m / 2.0 + gap
    most = min(outer_m - washer_m / 2.0, outer_m - eye_m / 2.0) - gap
    if most < least:
        raise DoesNotFitError(
            f"no room for the eye bolt: the ring is {1e3 * (outer_m - inner_m):.1f} mm wide, "
            f"washer {1e3 * washer_m:.1f} mm and eye {1e3 * eye_m:.1f} mm need "
            f"{1e3 * (least - most):.1f} mm more; take a smaller bolt or a U-bolt across the ring."
        )
    radius = min(max((inner_m + outer_m) / 2.0, least), most)
    return EyePlace(
        radius, outer_m - radius - max(washer_m, eye_m) / 2.0, radius - inner_m - washer_m / 2.0
    )


def anchor_holes(
    ring: p.Ring, rocket: p.Rocket, can: FinCan
) -> tuple[list[Shape], tuple[Said, ...]]:
    """Holes for the U-bolt or eye bolt that sits at this ring, if there is one."""
    angle_rad = pi / 2 + can.button_angle_rad
    for added in of_kind(rocket, p.AddedMass):
        near = added.station_m - 0.02 <= ring.station_m <= added.end_m + 0.02
        if not near or added.role not in ("u_bolt", "eyebolt"):
            continue
        middle = (ring.inner_diameter_m + ring.outer_diameter_m) / 4.0
        if added.role == "u_bolt":
            half = min(2.0 * added.radius_m, 0.030) / 2.0
            spread = half / middle
            holes = [
                (middle * cos(angle_rad + s * spread), middle * sin(angle_rad + s * spread))
                for s in (-1.0, 1.0)
            ]
            words = said(
                f"{literal(added.name)}: legs drawn {{apart}} apart; measure yours before "
                "drilling.",
                apart=(2.0 * middle * sin(spread), "size"),
            )
            return [Circle(h, 0.00265) for h in holes], (words,)
        place = eye_place(ring.inner_diameter_m / 2, ring.outer_diameter_m / 2, 0.010, 0.018)
        at = (place.radius_m * cos(angle_rad), place.radius_m * sin(angle_rad))
        words = said(
            f"{literal(added.name)}: {{gap}} clear of the tube's wall.",
            gap=(place.wall_gap_m, "size"),
        )
        return [Circle(at, 0.00265)], (words,)
    return [], ()
