"""The rocket as its file designs it: its parts, and how it comes apart."""

from dataclasses import dataclass, field

from goodflight.physics.vehicle.parts import Rocket
from goodflight.project.head.hatch import Hatch
from goodflight.project.head.separation import MAIN_UNKNOWN, Separation


@dataclass(frozen=True)
class DesignedRocket(Rocket):
    """A rocket as physics knows it, and what the file says beside its parts."""

    separation: Separation = field(default_factory=Separation)
    main_separation: Separation = field(default_factory=lambda: MAIN_UNKNOWN)  # for a second canopy
    hatch: Hatch = field(default_factory=Hatch)  # in the tube's side
