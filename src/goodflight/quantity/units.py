"""The units a builder may write, by dimension: which exist, and how each turns into SI.

A unit is `si = value * scale + offset`; only temperatures have an offset, and a difference or
spread of temperature uses the scale alone. Scales marked exact are exact by definition
(international yard and pound 1959, standard gravity 1901, inch of mercury by convention).
"""

from dataclasses import dataclass
from math import pi
from types import MappingProxyType
from typing import Final, Literal

from goodflight.constants import (
    FOOT_M,
    INCH_M,
    POUND_KG,
    SEA_LEVEL_PRESSURE_PA,
    STANDARD_GRAVITY_M_S2,
    ZERO_C_K,
)

Units = Literal["metric", "imperial"]
OUNCE_KG: Final = POUND_KG / 16
POUND_FORCE_N: Final = POUND_KG * STANDARD_GRAVITY_M_S2
INCH_MERCURY_PA: Final = 3386.389  # conventional, mercury at 0 degC
KNOT_M_S: Final = 1852 / 3600
DEG_RAD: Final = pi / 180


@dataclass(frozen=True)
class Unit:
    """One unit: the symbol as shown, its scale and offset to SI, other spellings that are read."""

    symbol: str
    scale: float
    offset: float = 0.0
    also: tuple[str, ...] = ()


@dataclass(frozen=True)
class Dimension:
    """One kind of quantity: its units, and the steps by which a value is shown in each system.

    `metric` and `imperial` are (least absolute SI value, symbol) pairs, rising.
    """

    name: str
    si: str
    units: tuple[Unit, ...]
    metric: tuple[tuple[float, str], ...]
    imperial: tuple[tuple[float, str], ...]
    bare: bool = False  # a number without a unit is allowed
    digits: int = 3  # shown where none are asked for

    def unit(self, text: str) -> Unit | None:
        """Return the unit written as `text` (symbol or other spelling), or None."""
        for unit in self.units:
            if text == unit.symbol or text in unit.also:
                return unit
        return None


def _dimension(
    name: str,
    si: str,
    units: tuple[Unit, ...],
    metric: tuple[tuple[float, str], ...],
    imperial: tuple[tuple[float, str], ...] | None = None,
    bare: bool = False,
    digits: int = 3,
) -> Dimension:
    made = Dimension(
        name=name,
        si=si,
        units=units,
        metric=metric,
        imperial=metric if imperial is None else imperial,
        bare=bare,
        digits=digits,
    )
    spellings = [word for unit in units for word in (unit.symbol, *unit.also)]
    if len(set(spellings)) != len(spellings):
        raise AssertionError(f"{name}: a spelling is listed twice")
    for _, symbol in (*made.metric, *made.imperial):
        if made.unit(symbol) is None:
            raise AssertionError(f"{name}: {symbol} is shown but not read")
    return made


_SPEEDS: Final = (
    Unit("m/s", 1.0),
    Unit("km/h", 1 / 3.6, also=("kph",)),
    Unit("mph", 5280 * FOOT_M / 3600),
    Unit("kt", KNOT_M_S, also=("kn", "knot", "knots")),
    Unit("ft/s", FOOT_M, also=("fps",)),
)
_MASSES: Final = (
    Unit("g", 1e-3),
    Unit("kg", 1.0),
    Unit("mg", 1e-6),
    Unit("oz", OUNCE_KG),
    Unit("lb", POUND_KG, also=("lbs",)),
    Unit("gr", POUND_KG / 7000, also=("grain", "grains")),
)
_LENGTHS: Final = (
    Unit("mm", 1e-3),
    Unit("cm", 1e-2),
    Unit("m", 1.0),
    Unit("km", 1e3),
    Unit("um", 1e-6, also=("µm", "μm")),
    Unit("in", INCH_M, also=("inch", '"')),
    Unit("ft", FOOT_M, also=("foot", "feet")),
    Unit("yd", 3 * FOOT_M),
    Unit("mil", INCH_M / 1000),
    Unit("mi", 5280 * FOOT_M, also=("mile", "miles")),
)
_ALL: Final = (
    _dimension(
        "length",
        "m",
        _LENGTHS,
        ((0.0, "um"), (2e-4, "mm"), (2.0, "m"), (1e4, "km")),
        ((0.0, "mil"), (0.02 * INCH_M, "in"), (6 * FOOT_M, "ft"), (5e4 * FOOT_M, "mi")),
    ),
    # of a workpiece: in millimetres or inches whatever it measures, as finely as it is cut
    _dimension("size", "m", _LENGTHS, ((0.0, "mm"),), ((0.0, "in"),), digits=4),
    _dimension(
        "mass",
        "kg",
        _MASSES,
        ((0.0, "g"), (10.0, "kg")),
        ((0.0, "oz"), (2 * POUND_KG, "lb")),
    ),
    _dimension("powder", "kg", _MASSES, ((0.0, "g"),)),  # in grams everywhere, as it is poured
    _dimension(
        "time",
        "s",
        (
            Unit("s", 1.0, also=("sec",)),
            Unit("ms", 1e-3),
            Unit("min", 60.0),
            Unit("h", 3600.0, also=("hr", "hour", "hours")),
            Unit("d", 86400.0, also=("day", "days")),
        ),
        ((0.0, "s"), (600.0, "min"), (7200.0, "h"), (172800.0, "d")),
    ),
    _dimension("speed", "m/s", _SPEEDS, ((0.0, "m/s"),), ((0.0, "ft/s"),)),
    _dimension("wind", "m/s", _SPEEDS, ((0.0, "m/s"),), ((0.0, "mph"),)),
    _dimension(
        "acceleration",
        "m/s2",
        (
            Unit("m/s2", 1.0, also=("m/s^2", "m/s²")),
            Unit("ft/s2", FOOT_M, also=("ft/s^2", "ft/s²")),
            Unit("gee", STANDARD_GRAVITY_M_S2, also=("g0",)),
        ),
        ((0.0, "m/s2"),),
        ((0.0, "ft/s2"),),
    ),
    _dimension(
        "angle",
        "rad",
        (Unit("deg", DEG_RAD, also=("°",)), Unit("rad", 1.0), Unit("turn", 2 * pi)),
        ((0.0, "deg"),),
    ),
    _dimension(
        "angular_rate",
        "rad/s",
        (
            Unit("deg/s", DEG_RAD, also=("°/s",)),
            Unit("rad/s", 1.0),
            Unit("rpm", 2 * pi / 60),
            Unit("turn/s", 2 * pi),
        ),
        ((0.0, "deg/s"),),
    ),
    _dimension(
        "force",
        "N",
        (
            Unit("N", 1.0),
            Unit("kN", 1e3),
            Unit("lbf", POUND_FORCE_N),
            Unit("ozf", POUND_FORCE_N / 16),
            Unit("kgf", STANDARD_GRAVITY_M_S2),
        ),
        ((0.0, "N"), (1e4, "kN")),
        ((0.0, "lbf"),),
    ),
    _dimension(
        "pressure",
        "Pa",
        (
            Unit("Pa", 1.0),
            Unit("hPa", 1e2),
            Unit("kPa", 1e3),
            Unit("MPa", 1e6),
            Unit("GPa", 1e9),
            Unit("mbar", 1e2),
            Unit("bar", 1e5),
            Unit("psi", POUND_FORCE_N / INCH_M**2),
            Unit("inHg", INCH_MERCURY_PA),
            Unit("atm", SEA_LEVEL_PRESSURE_PA),
        ),
        ((0.0, "Pa"), (1e4, "hPa"), (1.2e5, "kPa"), (1e6, "MPa"), (1e9, "GPa")),
        ((0.0, "psi"), (8e4, "inHg"), (1.2e5, "psi")),
    ),
    _dimension(
        "temperature",
        "K",
        (
            Unit("degC", 1.0, ZERO_C_K, also=("°C", "C")),
            Unit("degF", 5 / 9, ZERO_C_K - 32 * 5 / 9, also=("°F", "F")),
            Unit("K", 1.0),
        ),
        ((0.0, "degC"),),
        ((0.0, "degF"),),
    ),
    _dimension(
        "area",
        "m2",
        (
            Unit("mm2", 1e-6, also=("mm^2", "mm²")),
            Unit("cm2", 1e-4, also=("cm^2", "cm²")),
            Unit("m2", 1.0, also=("m^2", "m²")),
            Unit("in2", INCH_M**2, also=("in^2", "in²")),
            Unit("ft2", FOOT_M**2, also=("ft^2", "ft²")),
        ),
        ((0.0, "mm2"), (1e-3, "cm2"), (0.1, "m2")),
        ((0.0, "in2"), (2 * FOOT_M**2, "ft2")),
    ),
    _dimension(
        "volume",
        "m3",
        (
            Unit("mm3", 1e-9, also=("mm^3", "mm³")),
            Unit("cm3", 1e-6, also=("cm^3", "cm³")),
            Unit("mL", 1e-6, also=("ml",)),
            Unit("L", 1e-3, also=("l",)),
            Unit("m3", 1.0, also=("m^3", "m³")),
            Unit("in3", INCH_M**3, also=("in^3", "in³")),
            Unit("ft3", FOOT_M**3, also=("ft^3", "ft³")),
        ),
        ((0.0, "mL"), (1e-3, "L"), (1.0, "m3")),
        ((0.0, "in3"), (FOOT_M**3, "ft3")),
    ),
    _dimension(
        "density",
        "kg/m3",
        (
            Unit("kg/m3", 1.0, also=("kg/m^3", "kg/m³")),
            Unit("g/cm3", 1e3, also=("g/cm^3", "g/cm³", "g/mL")),
            Unit("lb/ft3", POUND_KG / FOOT_M**3, also=("lb/ft^3", "lb/ft³")),
            Unit("oz/in3", OUNCE_KG / INCH_M**3, also=("oz/in^3", "oz/in³")),
        ),
        ((0.0, "kg/m3"),),
        ((0.0, "lb/ft3"),),
    ),
    _dimension(
        "area_density",
        "kg/m2",
        (
            Unit("g/m2", 1e-3, also=("g/m^2", "g/m²", "gsm")),
            Unit("kg/m2", 1.0, also=("kg/m^2", "kg/m²")),
            Unit("oz/yd2", OUNCE_KG / (3 * FOOT_M) ** 2, also=("oz/yd^2", "oz/yd²")),
            Unit("oz/ft2", OUNCE_KG / FOOT_M**2, also=("oz/ft^2", "oz/ft²")),
        ),
        ((0.0, "g/m2"),),
        ((0.0, "oz/yd2"),),
    ),
    _dimension(
        "energy",
        "J",
        (
            Unit("J", 1.0),
            Unit("kJ", 1e3),
            Unit("ft lbf", FOOT_M * POUND_FORCE_N, also=("ft·lbf", "ft-lbf")),
        ),
        ((0.0, "J"),),
        ((0.0, "ft lbf"),),
    ),
    _dimension(
        "impulse",
        "N s",
        (
            Unit("N s", 1.0, also=("Ns", "N·s")),
            Unit("lbf s", POUND_FORCE_N, also=("lbf·s",)),
        ),
        ((0.0, "N s"),),  # motors are sold in newton seconds everywhere
    ),
    _dimension(
        "moment",
        "N m",
        (
            Unit("N m", 1.0, also=("Nm", "N·m")),
            Unit("lbf ft", FOOT_M * POUND_FORCE_N, also=("lbf·ft",)),
            Unit("lbf in", INCH_M * POUND_FORCE_N, also=("lbf·in",)),
        ),
        ((0.0, "N m"),),
        ((0.0, "lbf in"),),
    ),
    _dimension(
        "inertia",
        "kg m2",
        (
            Unit("kg m2", 1.0, also=("kg m^2", "kg·m²", "kg m²")),
            Unit("g cm2", 1e-7, also=("g cm^2", "g·cm²", "g cm²")),
            Unit("lb ft2", POUND_KG * FOOT_M**2, also=("lb ft^2", "lb·ft²")),
            Unit("lb in2", POUND_KG * INCH_M**2, also=("lb in^2", "lb·in²")),
        ),
        ((0.0, "kg m2"),),
        ((0.0, "lb in2"),),
    ),
    _dimension("frequency", "Hz", (Unit("Hz", 1.0), Unit("kHz", 1e3)), ((0.0, "Hz"),)),
    _dimension(
        "power",
        "W",
        (Unit("W", 1.0), Unit("mW", 1e-3), Unit("kW", 1e3)),
        ((0.0, "W"),),
    ),
    _dimension("calibre", "-", (Unit("cal", 1.0),), ((0.0, "cal"),), bare=True),
    _dimension("ratio", "-", (Unit("", 1.0), Unit("%", 0.01)), ((0.0, ""),), bare=True),
    _dimension("count", "-", (Unit("", 1.0),), ((0.0, ""),), bare=True),
)

DIMENSIONS: Final = MappingProxyType({each.name: each for each in _ALL})


def dimension_of(name: str) -> Dimension:
    """Return the dimension called `name`; an unknown name is a programmer's fault."""
    try:
        return DIMENSIONS[name]
    except KeyError:
        raise KeyError(f"no dimension {name!r}; there are {', '.join(DIMENSIONS)}") from None


def dimensions_with(unit: str) -> tuple[str, ...]:
    """Return the names of the dimensions in which `unit` is a unit (for advice)."""
    if not unit:
        return ()
    return tuple(name for name, each in DIMENSIONS.items() if each.unit(unit) is not None)
