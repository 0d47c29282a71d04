"""The temperature and humidity of a workplace, hour by hour, and what cures there meanwhile."""

from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.structure import (
    MAX_HUMIDITY,
    daily_temperature_k,
    min_surface_k,
    pace_between,
)
from goodflight.project import defaults
from goodflight.project.calendar_files import ForecastTable, MonthTable, WorkplaceTable
from goodflight.quantity import Quantity

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]
HOURS: Final = 24


@dataclass(frozen=True, eq=False)
class Place:
    """One workplace over the days of a calendar; NaN = not known.

    mean_k, night_k, humidity : (days,); sigma_k, humidity_sigma : one standard deviation, for all
    days together; told : what the figures stand on.
    """

    name: str
    kind: str | None
    mean_k: Array
    night_k: Array
    humidity: Array
    sigma_k: float
    humidity_sigma: float
    told: str

    def temperature_k(self, offset_k: Array, at: float = 0.5) -> Array:
        """Every hour's temperature for each drawn offset (d,): (d, hours).

        at : share of the hour that is over.
        """
        hours = np.arange(HOURS, dtype=np.float64) + at
        base = daily_temperature_k(hours[None, :], self.mean_k[:, None], self.night_k[:, None])
        return np.asarray(base.ravel()[None, :] + offset_k[:, None])


@dataclass(frozen=True)
class Cure:
    """What a task leaves to cure: glue or paint, by its sheet.

    handling_h, full_h : at the reference temperature; min_k : no work below, and no cure.
    """

    name: str
    handling_h: float
    full_h: float
    reference_k: float
    min_k: float
    activation_j_mol: float
    max_humidity: float | None = None
    dew: bool = False
    working_s: float | None = None


def gained_h(cure: Cure, start_k: Array, end_k: Array, pace: Array) -> Array:
    """Label hours of cure gained up to each full hour: (d, hours + 1); pace : (d,) factor of Ea.

    start_k, end_k : (d, hours) as each hour begins and ends. On a day whose temperature is not
    known nothing cures.
    """
    activation = cure.activation_j_mol * pace[:, None]
    each = pace_between(start_k, end_k, activation, cure.reference_k, cure.min_k)
    total = np.cumsum(np.nan_to_num(each), axis=1)
    return np.concatenate([np.zeros((len(each), 1)), total], axis=1)


def may_work(cure: Cure, place: Place, temperature_k: Array, moist: Array) -> Flags:
    """Whether it is warm and dry enough in each hour of the calendar: (d, hours).

    moist : (d,) drawn error of the humidity. What is not known of humidity does not forbid.
    """
    fits = temperature_k >= cure.min_k
    humid = np.repeat(place.humidity, HOURS)
    known = np.isfinite(humid)
    limit = min(cure.max_humidity or 1.0, MAX_HUMIDITY if cure.dew else 1.0)
    drawn = np.clip(np.where(known, humid, 0.5)[None, :] + moist[:, None], 0.05, 1.0)
    dry = drawn <= limit
    if cure.dew:
        dry &= temperature_k >= min_surface_k(temperature_k, drawn)
    return np.asarray(fits & (dry | ~known[None, :]))


def place_of(table: WorkplaceTable, first: date, days: int) -> Place:
    """A workplace over some days, from its forecast, its climate figures or its one figure."""
    forecast = {each.date: each for each in reversed(table.day)}  # the first told counts
    months = {each.month: each for each in table.month}
    rows, told = [], set()
    for n in range(days):
        day = first + timedelta(days=n)
        row = forecast.get(day.isoformat()) or months.get(day.month) or table
        if row.temperature is not None:
            told.add(_TOLD[type(row)])
        rows.append((row.temperature, row.night, row.humidity))
    means = [mean for mean, *_ in rows if mean is not None]
    damp = [humid for *_, humid in rows if humid is not None]
    return Place(
        name=table.name,
        kind=table.kind,
        mean_k=np.array([_si(mean) for mean, *_ in rows]),
        night_k=np.array([_si(mean if night is None else night) for mean, night, _ in rows]),
        humidity=np.array([_si(humid) for *_, humid in rows]),
        sigma_k=max((defaults.sigma_of("temperature", mean) for mean in means), default=0.0),
        humidity_sigma=max((defaults.sigma_of("humidity", humid) for humid in damp), default=0.0),
        told=" and ".join(sorted(told)),
    )


_TOLD: Final[dict[type, str]] = {
    ForecastTable: "forecast", MonthTable: "climate figures", WorkplaceTable: "the figure typed",
}  # fmt: skip


def _si(quantity: Quantity | None) -> float:
    return float("nan") if quantity is None else quantity.value
