"""What a builder decides about a rocket: one record, from which `as_files` writes a project.

Lengths in mm, masses in g, forces in N, as a builder writes them. Every rocket, motor and field
is invented.
"""

from dataclasses import dataclass, field, replace
from itertools import pairwise
from math import pi, sqrt
from typing import Any, Final

CARD, GLASSED, GLASS = "kraft_tube", "kraft_tube_glassed", "glass_epoxy"
WALL_KG_M3: Final = {CARD: 725.0, GLASSED: 860.0, GLASS: 1835.0}
EDGE: Final = {CARD: "kraft", GLASSED: "kraft_glassed", GLASS: "glass"}
PLY: Final = {4.0: "birch_plywood_4mm", 6.0: "birch_plywood"}  # thinner: as 4 mm
SHAPE: Final = ((0, 0), (0.02, 0.95), (0.07, 1.2), (0.25, 1.15), (0.5, 1.05), (0.75, 0.85),
                (0.92, 0.4), (1, 0))  # fmt: skip


@dataclass(frozen=True)
class Motor:
    """An invented motor: the curve is one shape for all, stretched to burn time and impulse."""

    name: str
    impulse_ns: float
    burn_s: float
    diameter_mm: float
    length_mm: float
    propellant_g: float
    loaded_g: float
    delay_s: float | None = 14.0  # None: plugged, an altimeter fires
    charge_g: float = 1.0

    @property
    def curve(self) -> tuple[tuple[float, float], ...]:
        """Time [s] and thrust [N]."""
        under = sum((b[0] - a[0]) * (a[1] + b[1]) / 2 for a, b in pairwise(SHAPE))
        level = self.impulse_ns / (self.burn_s * under)
        return tuple((round(t * self.burn_s, 4), round(f * level, 3)) for t, f in SHAPE)


@dataclass(frozen=True)
class Fins:
    """A set of equal fins of plywood or glass sheet; the root ends `ahead_mm` before the tail."""

    count: int
    root_mm: float
    tip_mm: float
    span_mm: float
    sweep_mm: float
    thickness_mm: float
    ahead_mm: float = 10.0
    glass: bool = False
    alignment_deg: float = 0.3
    cant_deg: float = 0.0


@dataclass(frozen=True)
class Canopy:
    """A sewn flat hexagon with six lines, by its width across flats."""

    across_m: float
    line_n: float = 450.0
    lines: int = 6

    @property
    def area_m2(self) -> float:
        """Area of the cloth."""
        return sqrt(3.0) / 2.0 * self.across_m**2

    @property
    def mass_g(self) -> float:
        """With lines and swivel: 105 g/m2, as the sewn ones of the demo weigh."""
        return round(105.0 * self.area_m2)

    def roll_mm(self, bore_mm: float) -> float:
        """Length of the roll in its tube, packed by hand at 140 kg/m3."""
        return round(self.mass_g * 1e-3 / 140.0 / (pi / 4.0 * (bore_mm * 1e-3 - 0.004) ** 2) * 1e3)


@dataclass(frozen=True)
class Cord:
    """Tubular nylon with an aramid leader at the lower end."""

    length_m: float
    strength_n: float
    width_mm: float
    g_m: float
    leader_m: float = 1.0
    leader_n: float = 6000.0
    joint: float = 0.5
    elongation: float = 0.25

    @property
    def mass_g(self) -> float:
        """Weight."""
        return round(self.length_m * self.g_m)


@dataclass(frozen=True)
class Built:
    """One rocket with the flight it is built for.

    payload_mm : of the tube that stays with the nose (with altimeter: the main's tube); 0 = the
    nose itself comes off. separates by its coupler, 1.9 calibres long, or by the nose's shoulder.
    """

    key: str
    title: str
    wall: str
    outer_mm: float
    inner_mm: float
    nose_mm: float
    nose_g: float
    nose_wall_mm: float
    nose_made: str
    payload_mm: float
    tube_mm: float
    mount_mm: float
    mount_outer_mm: float
    mount_inner_mm: float
    fins: Fins
    canopy: Canopy
    cord: Cord
    motor: Motor
    rail_m: float
    epoxy_g: float
    hardware_g: float
    delay_out_s: float | None = None
    main: Canopy | None = None
    main_height_m: float = 150.0
    wired_wrong: bool = False  # the main's charge fires first
    main_cord: Cord | None = None
    main_powder_g: float | None = None
    main_pins: int = 3
    main_pull_n: float | None = 15.0  # nose in its tube, pins out
    main_blanket_m2: float | None = None
    main_packed: float = 1.0  # factor on the packed lengths in the main's bay
    powder_g: float | None = None  # fired by the altimeter
    ballast_g: float = 0.0
    payload_g: float = 0.0  # altimeter, battery, sled
    blanket_m2: float = 0.09
    pull_n: float | None = 35.0
    pins: int = 0
    anchor_n: float = 2000.0
    bulkhead_n: float = 2500.0
    fixed_n: float = 1000.0
    retention_n: float | None = 600.0
    retention: str | None = "cap"
    clearance_mm: float = 0.25
    edge_mpa: float | None = None  # torn in an offcut; None: middle of what its material has
    bay_vents: int = 1
    bay_vent_mm: float = 3.0
    electronics: bool = False
    air_l: float = 0.0
    vent_mm: float = 0.0
    guide_n: float = 300.0
    paint_g_m2: float = 75.0
    glue_degc: float = 20.0
    cure_d: float = 4.0
    work_min: float = 25.0
    checks: str = "tight"
    wind_m_s: float = 3.0
    tilt_deg: float = 0.0
    rail_friction: float | None = None
    field_scale: float = 1.0
    cloud_base_m: float = 2000.0
    cloud_cover: float = 0.1
    temperature_degc: float = 15.0
    extra_g: float = 0.0
    extra_at: float = 0.5  # share of the length
    packed: float = 1.0  # factor on all packed lengths
    run_time: str = "6 h measured"
    ballast_sealed: bool = True  # fitted before the nose's plate went in
    confirmed: tuple[str, ...] = (
        "night", "airport", "visibility", "notice", "airspace", "permission", "responsible", "fire",
    )  # fmt: skip
    swaps: tuple[tuple[str, str, str], ...] = field(default=())  # file, text, what it becomes

    @property
    def dual(self) -> bool:
        """Whether an altimeter opens a second canopy."""
        return self.main is not None

    @property
    def coupler_mm(self) -> float:
        """Length of the coupler: 1.9 calibres."""
        return round(1.9 * self.inner_mm)

    @property
    def joint_mm(self) -> float:
        """Where it separates, from the nose tip."""
        return self.nose_mm + self.payload_mm

    @property
    def length_mm(self) -> float:
        """Overall."""
        return self.joint_mm + self.tube_mm

    def but(self, **changes: Any) -> "Built":
        """The same rocket with something done differently."""
        return replace(self, **changes)
