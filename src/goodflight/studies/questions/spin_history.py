"""Roll rate against the pitch frequency over one flight: does the spin meet it, and when."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.flight import fly_history
from goodflight.physics.flight.registry import (
    AERO_INDEX,
    AERO_SCALAR_INDEX,
    MACH_STEP,
    PARAMETER_INDEX,
)
from goodflight.studies.case.planned import Case
from goodflight.studies.sampling.trials import nominal

Array = NDArray[np.float64]
FREE = 2.0  # the history's phase between rail and ejection
FELT = 0.1  # of the greatest dynamic pressure: below it incidence does little


@dataclass(frozen=True, eq=False)
class SpinHistory:
    """One flight in still air from rail exit on, (n,) each."""

    time_s: Array
    roll_rad_s: Array
    pitch_rad_s: Array  # roll rate that would meet the pitch frequency
    pressure_pa: Array  # dynamic
    burnout_s: float

    @property
    def ratio(self) -> Array:
        """Roll rate over pitch frequency, (n,) [-]."""
        found: Array = np.abs(self.roll_rad_s) / np.maximum(self.pitch_rad_s, 1e-9)
        return found

    @property
    def greatest(self) -> float:
        """Greatest ratio while the air is felt (a tenth of the greatest dynamic pressure) [-]."""
        felt = self.pressure_pa >= FELT * self.pressure_pa.max()
        return float(self.ratio[felt].max())

    @property
    def at_burnout(self) -> float:
        """Ratio at burnout [-]."""
        return float(np.interp(self.burnout_s, self.time_s, self.ratio))


def spin_history(case: Case, cant_rad: float) -> SpinHistory:
    """Roll rate and pitch frequency over the nominal flight with a mean cant of all fins.

    Pitch frequency sqrt(q S d CNa margin / (Iy - Ix)) without propellant; the loaded rocket's is
    a few per cent lower.

    Parameters
        case : Case - the planned flight. [SI]
        cant_rad : float - mean cant. [rad]
    Returns
        history : SpinHistory - rail exit to ejection, every 0.05 s. [SI]
    Raises
        ValueError - the rocket lacks what a flight needs.
    Validity
        No wind; small incidence.
    Source
        Kernel's roll forcing and damping; linear pitch motion.
    """
    parameters = nominal(case).parameters[0].copy()
    parameters[PARAMETER_INDEX["cant_roll_rad"]] = cant_rad
    parameters[PARAMETER_INDEX["wind_m_s"]] = 0.0
    flown = fly_history(parameters, case.motor, case.tables, 1, case.deployment.by, False)
    kept = flown.history["phase"] == FREE
    history = {name: values[kept] for name, values in flown.history.items()}
    scalars, table = case.tables.scalars, case.tables.mach_table
    row = np.clip(np.rint(history["mach"] / MACH_STEP).astype(int), 0, table.shape[0] - 1)
    slope = table[row, AERO_INDEX["body_slope"]] + table[row, AERO_INDEX["fin_slope"]]
    size = scalars[AERO_SCALAR_INDEX["area_m2"]] * scalars[AERO_SCALAR_INDEX["diameter_m"]]
    stiff = history["pressure_pa"] * size * slope * np.maximum(history["margin_cal"], 0.0)
    inertia = (
        parameters[PARAMETER_INDEX["dry_pitch_inertia_kg_m2"]]
        - parameters[PARAMETER_INDEX["dry_roll_inertia_kg_m2"]]
    )
    return SpinHistory(
        history["time_s"], history["roll_rate_rad_s"], np.sqrt(stiff / inertia),
        history["pressure_pa"], float(flown.outcomes["burnout_s"]),
    )  # fmt: skip
