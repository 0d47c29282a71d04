"""Show SI values in metric or imperial units with sensible digits.

Three significant digits unless asked otherwise, never rounding off digits before the point; a
value with a spread is rounded to the spread. What is shown can be read back by `parse`.
"""

import math

from goodflight.quantity.units import Dimension, Unit, dimension_of

NOT_KNOWN = "not known"


def _choose(value: float, kind: Dimension, system: str, unit: str | None) -> Unit:
    if unit is not None:
        found = kind.unit(unit)
        if found is None:
            raise KeyError(f"{kind.name} has no unit {unit!r}")
        return found
    steps = kind.imperial if system == "imperial" else kind.metric
    if value == 0 and kind.name == "length":
        return kind.unit(steps[1][1]) or kind.units[0]  # millimetres, not micrometres
    chosen = steps[0][1]
    for least, symbol in steps:
        if abs(value) >= least * (1 - 1e-12):
            chosen = symbol
    return kind.unit(chosen) or kind.units[0]


def _decimals(number: float, digits: int) -> int:
    if number == 0:
        return 0
    return max(0, digits - 1 - math.floor(math.log10(abs(number)) + 1e-12))


def _fixed(number: float, decimals: int) -> str:
    text = f"{number:.{decimals}f}"
    return text[1:] if text.startswith("-") and not text.strip("-0.") else text


def _join(number: str, symbol: str) -> str:
    shown = {"degC": "°C", "degF": "°F"}.get(symbol, symbol)
    return f"{number} {shown}" if shown else number


def show(
    value_si: float | None,
    dimension: str,
    system: str = "metric",
    digits: int | None = None,
    unit: str | None = None,
) -> str:
    """Show one SI value with a unit, for every output.

    Parameters
    ----------
    value_si : float or None - the value; None and not-a-number show as "not known". [SI]
    dimension : str - its kind, e.g. "length". [-]
    system : str - "metric" or "imperial". [-]
    digits : int or None - significant digits; None = 3, and whole units are never rounded. [-]
    unit : str or None - force this unit. [-]

    Returns
    -------
    text : str - e.g. "79.0 mm". [-]

    Raises
    ------
    KeyError - no such dimension or unit.

    Example
    -------
    >>> show(0.079, "length")
    '79.0 mm'
    """
    if value_si is None or not math.isfinite(value_si):
        return NOT_KNOWN
    kind = dimension_of(dimension)
    chosen = _choose(value_si, kind, system, unit)
    number = (value_si - chosen.offset) / chosen.scale
    wanted = kind.digits if digits is None else digits
    if kind.name == "count":
        return f"{number:g}"
    if kind.name == "temperature" and digits is None:
        zero = math.ceil(-chosen.offset / chosen.scale * 10) / 10  # never shown below absolute zero
        return _join(_fixed(max(number, zero), 1), chosen.symbol)
    if number != 0 and abs(number) < 1e-4:
        return _join(f"{number:.{max(wanted - 1, 0)}e}", chosen.symbol)
    return _join(_fixed(number, _decimals(number, wanted)), chosen.symbol)


def brief(
    value_si: float | None, dimension: str, system: str = "metric", unit: str | None = None
) -> str:
    """Show a figure as one writes it by hand: three digits, no zeros behind them.

    Parameters
    ----------
    value_si : float or None - the value; None and not-a-number show as "not known". [SI]
    dimension : str - its kind, e.g. "length". [-]
    system : str - "metric" or "imperial". [-]
    unit : str or None - force this unit. [-]

    Returns
    -------
    text : str - e.g. "3 m". [-]

    Example
    -------
    >>> brief(3.0, "length"), brief(0.0125, "length")
    ('3 m', '12.5 mm')
    """
    number, _, symbol = show(value_si, dimension, system, unit=unit).partition(" ")
    if "." in number and "e" not in number:
        number = number.rstrip("0").rstrip(".")
    return f"{number} {symbol}".rstrip()


def show_spread(
    value_si: float | None,
    sigma_si: float | None,
    dimension: str,
    system: str = "metric",
    unit: str | None = None,
) -> str:
    """Show a value with one standard deviation behind it, rounded to the spread.

    Parameters
    ----------
    value_si : float or None - the value. [SI]
    sigma_si : float or None - one standard deviation; None or 0 shows the value alone. [SI]
    dimension : str - its kind. [-]
    system : str - "metric" or "imperial". [-]
    unit : str or None - force this unit. [-]

    Returns
    -------
    text : str - e.g. "612 m ±31". [-]

    Example
    -------
    >>> show_spread(612.2, 31.4, "length")
    '612 m ±31'
    """
    finite = value_si is not None and math.isfinite(value_si)
    if value_si is None or not finite or not sigma_si or not math.isfinite(sigma_si):
        return show(value_si, dimension, system, unit=unit)
    kind = dimension_of(dimension)
    chosen = _choose(value_si, kind, system, unit)
    number = (value_si - chosen.offset) / chosen.scale
    spread = sigma_si / chosen.scale
    leading = spread / 10 ** math.floor(math.log10(spread))
    decimals = _decimals(spread, 2 if leading < 2 else 1)
    return f"{_join(_fixed(number, decimals), chosen.symbol)} ±{_fixed(spread, decimals)}"


def write(
    value_si: float,
    dimension: str,
    unit: str,
    sigma_si: float | None = None,
    known: str = "",
    digits: int = 6,
) -> str:
    """Write a value as the text of a project file, in the unit given, up to `digits` digits.

    Parameters
        value_si : float - the value. [SI]
        dimension : str - e.g. "mass". [-]
        unit : str - unit to write. [-]
        sigma_si : float or None - one standard deviation. [SI]
        known : str - how it is known; empty: not said. [-]
        digits : int - most digits. [-]
    Returns
        text : str - as it stands in a file. [-]
    Example
    -------
    >>> write(0.212, "mass", "g", 0.005, "measured")
    '212 g ± 5 g measured'
    """
    chosen = _choose(value_si, dimension_of(dimension), "metric", unit)
    symbol = f" {chosen.symbol}" if chosen.symbol else ""
    text = f"{(value_si - chosen.offset) / chosen.scale:.{digits}g}{symbol}"
    if sigma_si is not None:
        text += f" ± {sigma_si / chosen.scale:.3g}{symbol}"
    return f"{text} {known}".strip()
