"""Several readings of one figure taken together: one best figure, its spread, or a refusal.

Readings of one thing are weighted by their errors, the design among them. Where each reading is of
another (a pull, an offcut), what the next one will be is told, and the design's figure gives way.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Final, Literal

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.estimate import Estimate, generalised_least_squares, one_more
from goodflight.project import Project
from goodflight.quantity import show
from goodflight.studies.refusal import StudyRefused, refused_at

Array = NDArray[np.float64]

DOUBTED: Final = 3.0  # spreads from the rest: the design gives way
REFUSED: Final = 4.0  # ... from the other readings, as with weighings
OFF: Final = {"guess": 0.8, "measured": 0.3}  # share of the rest: more is a slip; our guess
FAR: Final = 16.0  # ... and so many of its spreads, where the design is about 0; our guess
OUTLIER: Final = 6.0  # of a pull or an offcut from the others; our guess
SLIP: Final = 5.0  # times the design, or a fifth: a digit or a unit; our guess


@dataclass(frozen=True)
class MeasuredFigure:
    """One figure, what was read of it, and what it is taken as. [SI]

    of : as the file names it; read : as written; readings : each as the figure itself; design,
    design_sigma : before, None = the design has none; value, sigma : now.
    known : "flight" where all of it was worked out from flights.
    """

    of: str
    label: str
    dimension: str
    path: str
    date: str
    note: str
    read: tuple[str, ...]
    readings: tuple[float, ...]
    design: float | None
    design_sigma: float
    value: float
    sigma: float
    known: Literal["measured", "flight"] = "measured"

    @property
    def apart(self) -> float:
        """The mean of the readings less the design, in spreads of both."""
        if self.design is None:
            return 0.0
        wide = float(np.hypot(self.sigma, self.design_sigma))
        return (float(np.mean(self.readings)) - self.design) / wide if wide > 0.0 else 0.0


@dataclass(frozen=True)
class Before:
    """What is known of a figure before it is measured.

    value : None = nothing. usual : scatter of such things, share of the figure; 0 = one thing is
    read again and again. guess : share that a guess of it is off by.
    """

    label: str
    dimension: str
    value: float | None
    sigma: float
    known: str
    usual: float = 0.0
    guess: float = 0.0


@dataclass(eq=False)
class Readings:
    """Readings of one figure, as the figure itself: values, own errors, errors they share. [SI]"""

    paths: list[str] = field(default_factory=list)
    values: list[float] = field(default_factory=list)
    own: list[float] = field(default_factory=list)
    shared: dict[str, dict[int, float]] = field(default_factory=dict)

    def add(self, path: str, value: float, own: float, shares: Mapping[str, float]) -> None:
        """One more; `shares` : what it may be off by together with others of the same name."""
        for name, size in shares.items():
            self.shared.setdefault(name, {})[len(self.values)] = size
        self.paths.append(path)
        self.values.append(value)
        self.own.append(own)

    @property
    def error(self) -> Array:
        """Covariance of their errors, (n, n)."""
        values = np.array(self.values)
        own = np.maximum(self.own, np.maximum(1e-6 * np.abs(values), 1e-12))
        found = np.diag(own**2)
        for sizes in self.shared.values():
            share = np.array([sizes.get(i, 0.0) for i in range(values.size)])
            found += np.outer(share, share)
        return found

    @property
    def common(self) -> float:
        """What their mean may be off by because of errors they share, one standard deviation."""
        means = [sum(sizes.values()) / len(self.values) for sizes in self.shared.values()]
        return float(np.sqrt(sum(mean**2 for mean in means)))


def together(project: Project, before: Before, readings: Readings) -> tuple[float, float]:
    """The figure and one standard deviation, from its readings and what was known before.

    Raises
        StudyRefused - readings that contradict each other or the design, in their place.
    """
    if before.usual > 0.0:
        return _another(project, before, readings)
    return _one_thing(project, before, readings)


def _one_thing(project: Project, before: Before, readings: Readings) -> tuple[float, float]:
    """With the design where both agree; alone where the design is off, within reason."""
    values, error = np.array(readings.values), readings.error
    _slips(project, before, readings)
    if values.size > 1:  # fins, holes and hands differ: what is seen of it counts as error
        own = np.maximum(np.array(readings.own), values.std(ddof=1))
        error = error + np.diag(own**2 - np.array(readings.own) ** 2)
    middle = float(values.mean())
    found = _estimate(middle, 1e3 * max(abs(middle), float(error.max()) ** 0.5), values, error)
    alone = float(found.mean[0]), float(found.covariance[0, 0])
    if before.value is None or before.sigma <= 0.0:
        return alone[0], alone[1] ** 0.5
    if abs(alone[0] - before.value) > DOUBTED * float(np.hypot(alone[1] ** 0.5, before.sigma)):
        return alone[0], alone[1] ** 0.5
    found = _estimate(before.value, before.sigma, values, error)
    return float(found.mean[0]), float(found.covariance[0, 0]) ** 0.5


def _slips(project: Project, before: Before, readings: Readings) -> None:
    """Refuse a reading that no fin, hole or hand explains, beside the others and the design."""
    values = np.array(readings.values)
    errors = np.sqrt(np.diag(readings.error))
    if values.size > 1:
        rest = np.array([np.median(np.delete(values, i)) for i in range(values.size)])
        apart = np.abs(values - rest) / np.maximum(
            OFF["measured"] * np.abs(rest), REFUSED * np.sqrt(2.0) * errors
        )
        worst = int(np.argmax(apart))
        if apart[worst] > 1.0:
            times = float(abs(values[worst] - rest[worst]) / errors[worst])
            raise _contradiction(
                project, before, readings, worst, rest=float(rest[worst]), times=times
            )
    if before.value is not None:
        share = OFF.get(before.known, OFF["measured"])
        far = np.abs(values - before.value)
        worst = int(np.argmax(far))
        if far[worst] > max(share * abs(before.value), FAR * before.sigma):
            raise _contradiction(project, before, readings, worst, rest=before.value, times=None)


def _estimate(middle: float, sigma: float, values: Array, error: Array) -> Estimate:
    ones = np.ones((values.size, 1))
    return generalised_least_squares(
        np.array([middle]),
        np.array([[sigma**2]]),
        values,
        error,
        lambda here: (np.repeat(here, values.size), ones),
    )


def _another(project: Project, before: Before, readings: Readings) -> tuple[float, float]:
    values, own = np.array(readings.values), np.array(readings.own)
    wide = float(np.sqrt((before.usual * values.mean()) ** 2 + np.mean(own**2)))
    _outliers(project, before, readings, wide)
    middle, sigma = one_more(values, wide)
    if before.value and not 1.0 / SLIP < middle / before.value < SLIP:
        raise _contradiction(project, before, readings, worst=0, rest=before.value, times=None)
    seen = 0.0
    if values.size > 1:
        seen = float(values.std(ddof=1) * np.sqrt(1.0 + 1.0 / values.size))
    whole, least = (float(np.hypot(each, readings.common)) for each in (sigma, seen))
    if before.guess > 0.0:  # few readings leave no more open than a guess, but what was seen counts
        whole = max(min(whole, before.guess * abs(middle)), least)
    return middle, whole


def _outliers(project: Project, before: Before, readings: Readings, wide: float) -> None:
    values = np.array(readings.values)
    if values.size < 2:
        return
    rest = [one_more(np.delete(values, i), wide) for i in range(values.size)]
    apart = [abs(x - middle) / sigma for x, (middle, sigma) in zip(values, rest, strict=True)]
    worst = int(np.argmax(apart))
    if apart[worst] > OUTLIER:
        raise _contradiction(
            project, before, readings, worst, rest=rest[worst][0], times=apart[worst]
        )


def _contradiction(
    project: Project,
    before: Before,
    readings: Readings,
    worst: int,
    rest: float,
    times: float | None,
) -> StudyRefused:
    value, unit = readings.values[worst], before.dimension
    of = "the design has it" if times is None else "the other readings have it"
    found = f"{before.label}: {show(value, unit)}"
    off, way = show(abs(value - rest), unit), "more" if value > rest else "less"
    if times is None:
        advice = f"{off} {way}: check the digits and the unit, or correct the design"
    else:
        advice = f"{off} {way} is {times:.0f} times what the errors allow; measure it again, or "
        advice += "state the error it has"
    wanted = f"about {show(rest, unit)}, as {of}"
    return refused_at(project, readings.paths[worst], found, wanted, advice)
