"""What each column of a log is: from its name, its unit and its values, or as told."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Annotated, Final

import numpy as np
from numpy.typing import NDArray

from goodflight.constants import STANDARD_GRAVITY_M_S2
from goodflight.project.logs.cells import Grid, LogRefused
from goodflight.quantity.units import DIMENSIONS

Array = NDArray[np.float64]

VALUES: Final = "its values"
UNKNOWN: Final = "neither its name nor its values tell"
KINDS: Final = ("time", "pressure", "height", "acceleration", "ignore")
_DIMENSION: Final = {
    "time": "time", "pressure": "pressure", "height": "length", "acceleration": "acceleration",
}  # fmt: skip
_SPELLINGS: Final = {  # beside those of builders
    "time": {
        "s": "seconds second secs", "ms": "msec millis millisecond milliseconds",
        "us": "µs μs usec micros microsecond microseconds", "ns": "nanosecond nanoseconds",
    },
    "pressure": {
        "Pa": "pascal pascals", "hPa": "mbar mb millibar millibars hectopascal",
        "kPa": "kilopascal kilopascals", "psi": "", "inHg": "",
    },
    "height": {"m": "meter meters metre metres", "ft": "foot feet"},
    "acceleration": {
        "m/s2": "mps2 m/s/s ms2 ms-2 m/s^2 mss", "gee": "g gs gees", "mg": "milligee",
        "ft/s2": "fps2",
    },
}  # fmt: skip
# scales that builders do not write
_MORE: Final = {"us": 1e-6, "ns": 1e-9, "mg": STANDARD_GRAVITY_M_S2 / 1e3}
_WORDS: Final = {
    "time": "time t timestamp tick ticks millis micros clock elapsed uptime seconds secs ms",
    "pressure": "p press pressure baro barometer baropressure",
    "height": "alt altitude height h agl asl baroalt baroaltitude elevation",
    "acceleration": "a acc accel acceleration accelerometer gforce hi higha highg lowg ag",
    "angular rate": "gyro gyr angular rate omega w rotation roll pitch yaw tilt",
    "temperature": "temp temperature",
    "speed": "speed velocity vel v mach vert",
    "electrics": "volt voltage battery batt vbat current amp cont continuity",
    "position": "lat latitude lon lng longitude gps sats fix position pos",
    "magnetic field": "mag magnetometer",
}  # fmt: skip
_KIND_OF: Final = {word: kind for kind, words in _WORDS.items() for word in words.split()}
_NOT_READ: Final = {  # worked out by the logger, not read from a sensor
    "est", "estimate", "estimated", "predicted", "prediction", "predictor", "filtered", "kalman",
    "kf", "fused", "rotated", "smooth", "smoothed", "model", "target", "setpoint", "used", "max",
    "min", "peak", "update", "state",
}  # fmt: skip
_AXIS: Final = re.compile(r"(a|acc|accel|hi|highg|lowg|g|gyro|gyr|m|mag|v|vel)?(\d*)([xyz])")
_FIRST: Final = (  # stand before what else a name says
    "angular rate", "temperature", "speed", "electrics", "magnetic field", "position",
)  # fmt: skip
_AXES: Final = {"g": "angular rate", "m": "magnetic field"}  # gx, mz
_TEMPERATURE_UNITS: Final = ("c", "degc", "°c", "celsius", "k", "kelvin", "f", "degf", "°f")
SENSIBLE_PA: Final = (20_000.0, 110_000.0)  # of a barometer that lives, up to 12 km


@dataclass(frozen=True)
class LogColumn:
    """What one column was taken for."""

    number: Annotated[int, "from 1"]
    name: Annotated[str, "as in the head of the file; empty = it has none"]
    kind: Annotated[str, "what it was taken for"]
    unit: Annotated[str, "of its values; empty = none, or not used"]
    because: Annotated[str, "what says so"]
    used: Annotated[bool, "whether the debrief uses it"] = False
    scale: Annotated[float, "to SI"] = 1.0
    sensor: Annotated[str, "columns of one sensor share it"] = ""
    worked_out: Annotated[bool, "by the logger, not read from a sensor"] = False


def _scales(kind: str) -> dict[str, tuple[str, float]]:
    """Spelling in lower case -> symbol and scale to SI."""
    known = next(each for each in DIMENSIONS.values() if each.name == _DIMENSION[kind])
    found = {}
    for unit in known.units:
        for word in (unit.symbol, *unit.also):
            found[word.lower()] = unit.symbol, unit.scale
    for symbol, words in _SPELLINGS[kind].items():
        if symbol in _MORE:
            found[symbol.lower()] = symbol, _MORE[symbol]
        for word in words.split():
            if symbol.lower() in found:
                found[word] = found[symbol.lower()]
    return found


SCALES: Final = {kind: _scales(kind) for kind in _DIMENSION}


def is_unit(cell: str) -> bool:
    """Whether a cell of a header holds a unit, or nothing."""
    word = cell.strip("[]() ").lower()
    others = ("", "-", "v", "deg", "deg/s", "rad/s", "m/s", "ft/s", "dps", "%", "mah", "ma")
    return word in (*others, *_TEMPERATURE_UNITS) or any(word in each for each in SCALES.values())


def meanings(grid: Grid, told: Mapping[str, str]) -> tuple[LogColumn, ...]:
    """What each column is; `told` (number or name -> "pressure Pa") stands before what is found."""
    wanted = _told(grid, told)
    found = [wanted.get(i) or _found(grid, i) for i in range(grid.values.shape[1])]
    sure = {each.kind for each in found if not each.because.startswith(VALUES)}
    high = bool(sure & {"pressure", "height"})  # a name tells more than values do
    for i, each in enumerate(found):
        guessed = each.because.startswith(VALUES)
        if guessed and (high if each.kind in ("pressure", "height") else each.kind in sure):
            found[i] = replace(each, kind="not known", unit="", scale=1.0, because=UNKNOWN)
    return tuple(found)


def _told(grid: Grid, told: Mapping[str, str]) -> dict[int, LogColumn]:
    found = {}
    for which, what in told.items():
        index = _index(grid, which)
        kind, _, unit = what.strip().partition(" ")
        unit = unit.strip()
        allowed = "NUMBER=KIND UNIT, the kind one of " + ", ".join(KINDS)
        if kind not in KINDS:
            raise LogRefused(f'column "{which}={what}"', allowed, 'like "3=pressure Pa"', "column")
        scale = 1.0
        if kind != "ignore" and index not in grid.clocks:
            spelt = SCALES[kind].get(unit.lower())
            if spelt is None:
                units = ", ".join(dict.fromkeys(symbol for symbol, _ in SCALES[kind].values()))
                raise LogRefused(
                    f'column "{which}={what}"', f"a unit: {units}", "name its unit", "column"
                )
            unit, scale = spelt
        name = grid.names[index]
        found[index] = LogColumn(
            number=index + 1,
            name=name,
            kind=kind,
            unit=unit,
            because="as you told",
            used=False,
            scale=scale,
            sensor="told",
        )
    return found


def _index(grid: Grid, which: str) -> int:
    count = grid.values.shape[1]
    which = which.strip()
    if which in grid.names and which:
        return grid.names.index(which)
    if re.fullmatch(r"\d{1,4}", which) and 1 <= int(which) <= count:
        return int(which) - 1
    raise LogRefused(
        f'column "{which}"',
        f"a number from 1 to {count}, or a name of the head",
        "look at what each column was taken for",
        "column",
    )


def _tokens(name: str) -> list[str]:
    spaced = re.sub(r"(?<=[a-z])(?=[A-Z][a-z])", " ", name)
    return [each for each in re.split(r"[^A-Za-z0-9µμ°²/^-]+", spaced.lower()) if each]


def _found(grid: Grid, index: int) -> LogColumn:
    name, unit = grid.names[index], grid.units[index]
    values = grid.values[:, index]
    plain = LogColumn(index + 1, name, "not known", "", UNKNOWN)
    if index in grid.texts:
        return replace(plain, kind="words", because="it holds no numbers")
    if index in grid.clocks:
        return replace(plain, kind="time", because="its values are times of day", unit="h:min:s")
    tokens = _tokens(name)
    if unit:
        tokens += _tokens(unit.strip("[]()")) or [unit.lower()]
    kind = _kind(tokens)
    worked_out = bool(_NOT_READ & set(tokens))
    if not kind:
        return _by_values(plain, values)
    if kind not in _DIMENSION:
        return replace(plain, kind=kind, because="its name")
    spelt = _unit(kind, tokens)
    column = replace(plain, kind=kind, worked_out=worked_out, sensor=_sensor(kind, tokens))
    return _united(column, values, spelt)


def _kind(tokens: list[str]) -> str:
    """Kind by the words of a name; a unit that fits it decides between two."""
    words = [re.sub(r"\d+", "", token) for token in tokens]
    if any(word in _TEMPERATURE_UNITS for word in words) and {"t", "temp"} & set(words):
        return "temperature"
    found = []
    for token, word in zip(tokens, words, strict=True):
        axis = _AXIS.fullmatch(token)
        stem = (axis[1] or "") if axis and len(token) > 1 else word
        if axis and stem in _AXES:
            found.append(_AXES[stem])
        elif stem in _KIND_OF:
            found.append(_KIND_OF[stem])
    for first in (
        "angular rate",
        "temperature",
        "speed",
        "electrics",
        "magnetic field",
        "position",
    ):
        if first in found and not (first == "position" and "height" in found):
            if first == "angular rate" and "acceleration" in found:
                continue
            return first
    if found:
        return found[0]
    named = [
        kind
        for kind in ("pressure", "acceleration", "time")
        for word in words
        if word in SCALES[kind] and word not in ("m", "s", "g", "h", "d")
    ]
    return named[0] if named else ""


def _unit(kind: str, tokens: list[str]) -> tuple[str, float] | None:
    own = _WORDS[kind].split()
    for token in reversed(tokens):
        if token in SCALES[kind] and (token not in own or token in ("ms", "seconds", "millis")):
            return SCALES[kind][token]
    return None


def _sensor(kind: str, tokens: list[str]) -> str:
    """What columns of one sensor share: the name without the axis."""
    if kind != "acceleration":
        return "".join(re.findall(r"\d+", " ".join(tokens[:1])))
    parts = []
    for token in tokens:
        axis = _AXIS.fullmatch(token)
        parts.append(f"{axis[1] or ''}{axis[2]}" if axis else token)
    return "_".join(part for part in parts if part)


def _united(column: LogColumn, values: Array, spelt: tuple[str, float] | None) -> LogColumn:
    """Unit and scale, from the name and checked against the values."""
    if column.kind == "pressure":
        fits = spelt is not None and _alive(values * spelt[1])
        if spelt is None or (not fits and pressure_unit(values)):
            by_values = pressure_unit(values)
            if by_values is None:
                return replace(column, because="its name; no unit makes its values an air pressure")
            words = (
                "its name and its values" if spelt is None else "its name; its unit by its values"
            )
            return replace(column, unit=by_values[0], scale=by_values[1], because=words)
        words = "its name and its values" if fits else "its name; its values are no air pressure"
        return replace(column, unit=spelt[0], scale=spelt[1], because=words)
    if spelt is None:
        return replace(column, because="its name")
    return replace(column, unit=spelt[0], scale=spelt[1], because="its name")


def _alive(pascals: Array) -> bool:
    low, high = SENSIBLE_PA
    known = pascals[np.isfinite(pascals)]
    return len(known) > 0 and low < float(np.median(known)) < high


def pressure_unit(values: Array) -> tuple[str, float] | None:
    """The unit that makes values an air pressure near the ground, or None."""
    known = values[np.isfinite(values)]
    if not len(known):
        return None
    high = float(np.percentile(known, 98))
    for symbol in ("Pa", "hPa", "kPa", "inHg", "psi"):
        spelt = SCALES["pressure"].get(symbol.lower())
        if spelt is not None and 55_000.0 < high * spelt[1] < SENSIBLE_PA[1]:
            return spelt
    return None


def _by_values(plain: LogColumn, values: Array) -> LogColumn:
    """A column without a telling name."""
    known = values[np.isfinite(values)]
    if len(known) < 20 or np.ptp(known) == 0.0:
        return plain
    steps = np.diff(known)
    if (steps >= 0.0).mean() > 0.98 and (steps > 0.0).mean() > 0.3:
        usual = float(np.median(steps[steps > 0.0]))
        if usual > 0.0 and float(np.abs(steps - usual).mean()) < 5.0 * usual:
            return replace(plain, kind="time", because=f"{VALUES}, which rise evenly")
    unit = pressure_unit(values)
    wide = float(np.ptp(known))
    smooth = float(np.median(np.abs(steps))) < 0.05 * wide
    if unit is not None and smooth and wide * unit[1] > 200.0:
        return replace(plain, kind="pressure", unit=unit[0], scale=unit[1], because=VALUES)
    if wide > 20.0 and smooth and _rises_and_falls(known):
        return replace(plain, kind="height", because=f"{VALUES}, which rise and fall once")
    return plain


def _rises_and_falls(known: Array) -> bool:
    """Whether values begin and end low and are high between."""
    ends = np.r_[known[:10], known[-10:]]
    span = float(np.percentile(known, 99)) - float(np.median(known[:10]))
    return span > 20.0 and float(np.abs(np.median(ends[:10]) - known.min())) < 0.1 * span
