"""A solid motor as the flight needs it: thrust curve, masses, delay."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Motor:
    """One motor. Thrust is linear between the points; propellant leaves in step with thrust."""

    name: str
    times_s: tuple[float, ...]  # from ignition, rising, first 0
    thrusts_n: tuple[float, ...]
    propellant_kg: float
    loaded_kg: float
    length_m: float
    diameter_m: float
    delay_s: float | None  # longest delay, counted from burnout; None = plugged
    delay_out_allowed_s: tuple[float, ...] = (0.0,)  # seconds that may be taken out, 0 first
    delay_sigma: float = 0.08  # relative, one standard deviation
    impulse_sigma: float = 0.02  # relative
    burn_time_sigma: float = 0.03  # relative
    source: str = ""
    known: str = "label"
    # the propellant's own size and place, where the builder knows them; None = our default
    propellant_length_m: float | None = None
    propellant_diameter_m: float | None = None
    core_diameter_m: float | None = None
    propellant_aft_m: float | None = None  # from the motor's aft end to the propellant's middle
    charge_kg: float | None = None  # black powder of its ejection charge; None = not known
    charge_sigma_kg: float = 0.0
    adapter_diameter_m: float | None = None  # outside of the adapter it sits in; None = no adapter
    max_liftoff_kg: float | None = None  # of the whole rocket, by its maker; None = not given
    label_impulse_ns: float | None = None  # as its label says, to set beside the curve
    label_mean_n: float | None = None  # mean thrust in its designation
    label_letter: str = ""  # class letter in its designation

    @property
    def outside_m(self) -> float:
        """Outside of what goes into the motor tube, an adapter included [m]."""
        return self.diameter_m if self.adapter_diameter_m is None else self.adapter_diameter_m
