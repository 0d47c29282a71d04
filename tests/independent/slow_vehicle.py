"""What the slow model knows about one rocket at one moment: masses, thrust, air and air loads.

Written apart from the compiled kernel, from the same physics and with other formulations: every
vector is in the world frame (x east, y north, z up), the attitude is two unit vectors carried
along (`nose` along the axis, `side` = body y), the pitch inertia uses the reduced mass of dry
rocket and propellant. Plain and slow on purpose.
"""

from collections.abc import Callable
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.aero.tables import AeroTables
from goodflight.physics.flight.registry import (
    AERO_COLUMNS,
    AERO_SCALARS,
    MACH_STEP,
    PARAMETERS,
)
from goodflight.physics.motor.model import Motor

Air = Callable[[float], tuple[float, float]]
CDC_FILE = Path(__file__).parents[1] / "published" / "data" / "datcom_crossflow_cdc.csv"
AIR_R = 287.05287  # J/(kg K), US Standard Atmosphere 1976
LAPSE = 0.0065  # K/m
AXIAL_SPAN_M = 3000.0


def cross(a: NDArray[np.float64], b: NDArray[np.float64]) -> NDArray[np.float64]:
    """Vector product (numpy's own is slow on single vectors)."""
    return np.array(
        [
            a[1] * b[2] - a[2] * b[1],
            a[2] * b[0] - a[0] * b[2],
            a[0] * b[1] - a[1] * b[0],
        ]
    )


def length(a: NDArray[np.float64]) -> float:
    return float(np.sqrt(a[0] * a[0] + a[1] * a[1] + a[2] * a[2]))


def read_cdc() -> NDArray[np.float64]:
    """Cross-flow drag of a long cylinder against cross-flow Mach number (DATCOM 4.2.1.2-35b)."""
    lines = CDC_FILE.read_text().splitlines()
    rows = [line.split(",") for line in lines if line and line[0].isdigit()]
    return np.array(rows, dtype=float).T


class SlowVehicle:
    """One rocket with its motor, its air and its aerodynamic tables.

    `parameters` maps every name of PARAMETERS to a number; `air` (height -> density, speed of
    sound) replaces the day's atmosphere in closed-form checks.
    """

    def __init__(
        self,
        parameters: dict[str, float],
        motor: Motor,
        tables: AeroTables,
        air: Air | None = None,
    ) -> None:
        missing = set(PARAMETERS) - set(parameters)
        if missing:
            raise ValueError(f"parameters missing: {sorted(missing)}")
        self.p = dict(parameters)
        self.air = air or self.day_air
        self.scalars = dict(zip(AERO_SCALARS, tables.scalars))
        self.columns = dict(zip(AERO_COLUMNS, tables.mach_table.T))
        self.machs = MACH_STEP * np.arange(tables.mach_table.shape[0])
        self.cdc_mach, self.cdc = read_cdc()
        stretch = self.p["burn_time_factor"]
        self.knots = np.array(motor.times_s) * stretch
        self.curve = np.array(motor.thrusts_n) * self.p["thrust_factor"] / stretch
        steps = 0.5 * (self.curve[1:] + self.curve[:-1]) * np.diff(self.knots)
        self.impulse_at = np.concatenate([[0.0], np.cumsum(steps)])
        self.impulse = self.impulse_at[-1]
        self.burnout_s = float(self.knots[-1])

    # --- motor and masses -------------------------------------------------------------------
    def thrust(self, t: float) -> float:
        return float(np.interp(t, self.knots, self.curve, right=0.0))

    def left(self, t: float) -> float:
        """Share of the propellant still on board."""
        if t >= self.burnout_s or self.impulse == 0.0:
            return 0.0 if t >= self.burnout_s else 1.0
        if t <= 0.0:
            return 1.0
        i = int(np.searchsorted(self.knots, t, side="right")) - 1
        given = self.impulse_at[i] + 0.5 * (self.curve[i] + self.thrust(t)) * (t - self.knots[i])
        return 1.0 - given / self.impulse

    def outflow(self, t: float) -> float:
        """Propellant leaving, kg/s, positive."""
        if self.impulse == 0.0:
            return 0.0
        return self.p["propellant_kg"] * self.thrust(t) / self.impulse

    def masses(self, t: float) -> tuple[float, ...]:
        """Mass, CG station, pitch and roll inertia, their rates (of the inertias)."""
        p = self.p
        grain = p["propellant_kg"]
        dry = p["dry_mass_kg"]
        now = grain * self.left(t)
        mass = dry + now
        cg = (dry * p["dry_cg_m"] + now * p["propellant_cg_m"]) / mass
        apart2 = (p["propellant_cg_m"] - p["dry_cg_m"]) ** 2
        r2 = p["propellant_radius_m"] ** 2
        own = (3.0 * r2 + p["propellant_length_m"] ** 2) / 12.0  # per kg of grain
        pitch = p["dry_pitch_inertia_kg_m2"] + now * own + dry * now / mass * apart2
        roll = p["dry_roll_inertia_kg_m2"] + now * r2 / 2.0
        flow = self.outflow(t)
        pitch_rate = -flow * (own + (dry / mass) ** 2 * apart2)
        return mass, cg, pitch, roll, pitch_rate, -flow * r2 / 2.0

    # --- air --------------------------------------------------------------------------------
    def day_air(self, height: float) -> tuple[float, float]:
        """Density and speed of sound: linear temperature, hydrostatic, perfect gas."""
        ground = self.p["ground_temperature_k"]
        temperature = ground - LAPSE * height
        pressure = self.p["ground_pressure_pa"] * (temperature / ground) ** 5.2559
        return pressure / (AIR_R * temperature), np.sqrt(1.4 * AIR_R * temperature)

    def wind(self, height: float) -> NDArray[np.float64]:
        p = self.p
        if height <= 0.0 or p["wind_m_s"] == 0.0:
            return np.zeros(3)
        speed = p["wind_m_s"] * (height / p["wind_height_m"]) ** p["wind_exponent"]
        return -speed * np.array([np.sin(p["wind_from_rad"]), np.cos(p["wind_from_rad"]), 0.0])

    # --- aerodynamics -----------------------------------------------------------------------
    def table(self, name: str, mach: float) -> float:
        """A column at this Mach number; the fins' slope factor goes with all fin forces."""
        factor = 1.0
        if name in ("fin_slope", "roll_force", "roll_damp", "fin_side"):
            factor = self.p["fin_slope_factor"]
        return factor * float(np.interp(mach, self.machs, self.columns[name]))

    def body_sums(self, mach: float) -> tuple[float, float, float]:
        """Body slope and its first and second moment about the nose, factor and shift in."""
        factor, shift = self.p["body_slope_factor"], self.p["cp_shift_m"]
        zero, one, two = (
            factor * self.table(name, mach)
            for name in ("body_slope", "body_moment_m", "body_second_m2")
        )
        return zero, one + shift * zero, two + 2.0 * shift * one + shift**2 * zero

    def fin_normal(self, mach: float, along: float, crossing2: float) -> float:
        """Fin normal force over (density/2 x local cross velocity); blend into plates."""
        s = self.scalars
        slope = self.table("fin_slope", mach)
        total2 = crossing2 + along * along
        if total2 == 0.0:
            return 0.0
        start, end = s["fin_stall_start_sin2"], s["fin_stall_end_sin2"]
        x = min(max((crossing2 / total2 - start) / (end - start), 0.0), 1.0)
        plate = x * x * (3.0 - 2.0 * x)
        attached = s["area_m2"] * slope * abs(along)
        return (1.0 - plate) * attached + plate * 1.2 * s["fin_plate_m2"] * np.sqrt(crossing2)

    def cross_flow(self, crossing: float, sound: float) -> float:
        """Body cross-flow drag over (density/2 x local cross velocity)."""
        s = self.scalars
        cdc = np.interp(crossing / sound, self.cdc_mach, self.cdc)
        area = s["planform_m2"] * s["crossflow_eta"] * self.p["crossflow_factor"]
        return area * cdc * crossing

    def axial(self, mach: float, height: float, burning: bool) -> float:
        low, high = self.table("axial_low", mach), self.table("axial_high", mach)
        value = low + (high - low) * height / AXIAL_SPAN_M
        if burning:
            value -= self.table("axial_burn", mach)
        return self.p["axial_factor"] * value

    def air_loads(
        self, t: float, state: tuple[NDArray[np.float64], ...]
    ) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        """Aerodynamic force and moment about the CG, world frame."""
        p, s = self.p, self.scalars
        position, velocity, nose, side, omega = state
        height = position[2]
        rho, sound = self.air(height)
        cg = self.masses(t)[1]
        through = velocity - self.wind(height)
        speed = length(through)
        mach = speed / sound
        along = float(through @ nose)
        drift = along * nose - through  # air crossing the axis at the CG
        turn = cross(omega, nose)  # a point ahead of the CG moves with this per metre
        # potential lift of the bodies, summed over stations x - cg = lever
        zero, one, two = self.body_sums(mach)
        one, two = one - cg * zero, two - 2.0 * cg * one + cg * cg * zero
        scale = 0.5 * rho * s["area_m2"] * abs(along)
        force = scale * (zero * drift + one * turn)
        levered = scale * (one * drift + two * turn)  # sum of lever x force
        for lever, kind in (
            (self.table("fin_cp_m", mach) + p["cp_shift_m"] - cg, "fins"),
            (s["planform_cp_m"] - cg, "body"),
        ):
            local = drift + lever * turn
            if kind == "fins":
                factor = self.fin_normal(mach, along, float(local @ local))
            else:
                factor = self.cross_flow(length(local), sound)
            pull = 0.5 * rho * factor * local
            force = force + pull
            levered = levered + lever * pull
        pressure_area = 0.5 * rho * speed * speed * s["area_m2"]
        up = cross(nose, side)
        canted = p["cant_y_rad"] * side + p["cant_z_rad"] * up
        pull = pressure_area * self.table("fin_side", mach) * canted
        force = force + pull
        levered = levered + (self.table("fin_cp_m", mach) + p["cp_shift_m"] - cg) * pull
        burning = 0.0 < t < self.burnout_s and self.impulse > 0.0
        drag = 0.5 * rho * s["area_m2"] * self.axial(mach, height, burning) * along * abs(along)
        d = s["diameter_m"]
        rolling = pressure_area * d * self.table("roll_force", mach) * p["cant_roll_rad"]
        damping = self.table("roll_damp", mach) * float(omega @ nose) * d / 2.0
        rolling += 0.5 * rho * speed * s["area_m2"] * d * damping
        return force - drag * nose, -cross(nose, levered) + rolling * nose

    def thrust_loads(
        self, t: float, state: tuple[NDArray[np.float64], ...]
    ) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        """Thrust and its moment about the CG with jet damping (without the inertia's rate)."""
        p = self.p
        _, _, nose, side, omega = state
        thrust = self.thrust(t)
        if thrust == 0.0:
            return np.zeros(3), np.zeros(3)
        cg = self.masses(t)[1]
        up = cross(nose, side)
        y, z = p["thrust_angle_y_rad"], p["thrust_angle_z_rad"]
        force = thrust * (np.sqrt(1.0 - y * y - z * z) * nose + y * side + z * up)
        lever = p["nozzle_m"] - cg
        point = p["thrust_offset_y_m"] * side + p["thrust_offset_z_m"] * up - lever * nose
        across = omega - float(omega @ nose) * nose
        return force, cross(point, force) - self.outflow(t) * lever**2 * across

    def loads(
        self, t: float, state: tuple[NDArray[np.float64], ...]
    ) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        """All outside forces and moments about the CG.

        `state`: position and velocity of the CG, nose, side, angular velocity; world frame.
        """
        force, moment = self.air_loads(t, state)
        push, twist = self.thrust_loads(t, state)
        weight = np.array([0.0, 0.0, -self.p["gravity_m_s2"] * self.masses(t)[0]])
        return force + push + weight, moment + twist

    # --- static margins ---------------------------------------------------------------------
    def margin_small(self, t: float, mach: float) -> float:
        """(CP - CG)/d for incidence towards zero."""
        zero, one, _ = self.body_sums(mach)
        fin = self.table("fin_slope", mach)
        fin_cp = self.table("fin_cp_m", mach) + self.p["cp_shift_m"]
        if zero + fin == 0.0:
            return float("nan")
        cp = (one + fin * fin_cp) / (zero + fin)
        return (cp - self.masses(t)[1]) / self.scalars["diameter_m"]

    def margin_at(
        self, t: float, mach: float, sound: float, along: float, crossing: float
    ) -> float:
        """(CP - CG)/d of a body that does not turn, at this incidence."""
        area = self.scalars["area_m2"]
        zero, one, _ = self.body_sums(mach)
        body = area * abs(along)
        fin = self.fin_normal(mach, along, crossing**2)
        tube = self.cross_flow(crossing, sound)
        fin_cp = self.table("fin_cp_m", mach) + self.p["cp_shift_m"]
        moment = body * one + fin * fin_cp + tube * self.scalars["planform_cp_m"]
        cp = moment / (body * zero + fin + tube)
        return (cp - self.masses(t)[1]) / self.scalars["diameter_m"]
