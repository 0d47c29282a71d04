"""What sits where in this rocket: the tube that carries the fins, its rings, what is clear of what.

The workbench asks this of the flight's own parts, so that a template can never differ from what
was computed. Left out: anything the project does not say.
"""

from dataclasses import dataclass
from math import pi, tau
from typing import TypeVar

from goodflight.physics.vehicle import (
    body_length_m,
    fin_angles_rad,
    rail_guide_angle_rad,
    root_chord_m,
)
from goodflight.physics.vehicle import parts as p
from goodflight.physics.vehicle.mass import kind_of
from goodflight.physics.vehicle.part import Part
from goodflight.physics.vehicle.profile import outer_parts

P = TypeVar("P", bound=Part)

SAME_M = 2e-4  # diameters that differ by less are one


@dataclass(frozen=True)
class FinCan:
    """The fins, the tube they stand on, and what carries the motor inside it."""

    fins: p.Fins
    tube: p.Tube
    motor_tube: p.MotorTube | None
    rings: tuple[p.Ring, ...]  # inside the tube, front to back
    buttons: p.Buttons | None
    button_angle_rad: float = pi  # of the rail guides, from fin 1 as the fins are counted
    wider_behind: bool = False  # nothing slides on from the tail

    @property
    def root_m(self) -> tuple[float, float]:
        """Stations of the root's front and rear."""
        on_body = [u for u, w in self.fins.outline_m if abs(w) < 1e-4]
        start = self.fins.station_m + min(on_body)
        return start, start + root_chord_m(self.fins)

    @property
    def tab_m(self) -> tuple[float, float] | None:
        """Stations of the tab's front and rear, None without tabs."""
        if self.fins.tab_length_m <= 0.0 or self.fins.tab_depth_m <= 0.0:
            return None
        start = self.fins.station_m + self.fins.tab_offset_m
        return start, start + self.fins.tab_length_m

    @property
    def span_m(self) -> float:
        """How far the fins stand out from the body."""
        return max(w for _, w in self.fins.outline_m)

    @property
    def fin_angles_rad(self) -> tuple[float, ...]:
        """Directions of the fins from fin 1, evenly spread."""
        return tuple(float(a) - self.fins.roll_phase_rad for a in fin_angles_rad(self.fins))


def in_place(part: Part) -> str:
    """Key of the step that brings a part into its tube."""
    return f"{kind_of(part)}-{part.name}"


def of_kind(rocket: p.Rocket, kind: type[P]) -> tuple[P, ...]:
    """All parts of a kind, front to back."""
    found = rocket.of_kind(kind)
    return tuple(sorted(found, key=lambda part: (part.station_m, part.name)))


def tube_at(rocket: p.Rocket, station_m: float) -> p.Tube | None:
    """The outer tube around a station; a seam belongs to the tube behind it."""
    for tube in reversed(of_kind(rocket, p.Tube)):
        if tube.station_m - 1e-6 <= station_m <= tube.end_m + 1e-6:
            return tube
    return None


def fin_can(rocket: p.Rocket) -> FinCan | None:
    """The rearmost fin set with its tube and inner parts; None when no fins stand on a tube."""
    for fins in reversed(of_kind(rocket, p.Fins)):
        tube = tube_at(rocket, fins.station_m)
        if tube is None:
            continue
        inside = [r for r in of_kind(rocket, p.Ring) if tube_at(rocket, r.station_m) is tube]
        motor = next((m for m in of_kind(rocket, p.MotorTube) if m.end_m > fins.station_m), None)
        buttons = next(iter(of_kind(rocket, p.Buttons)), None)
        sets = of_kind(rocket, p.Fins)
        clocked = (rail_guide_angle_rad(sets) - fins.roll_phase_rad) % tau
        behind = (x.end_radii_m for x in outer_parts(rocket) if x.station_m > tube.station_m)
        wider = any(max(radii) > fins.body_radius_m + SAME_M for radii in behind)
        return FinCan(
            fins=fins,
            tube=tube,
            motor_tube=motor,
            rings=tuple(inside),
            buttons=buttons,
            button_angle_rad=clocked,
            wider_behind=wider,
        )
    return None


def tail_m(rocket: p.Rocket) -> float:
    """Station of the body's rear end."""
    return body_length_m(rocket)
