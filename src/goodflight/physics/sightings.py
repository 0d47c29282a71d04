"""How well a simulated flight agrees with what was seen: times by watch and bearings.

Every flight of an ensemble gets a weight; what was seen leaves those that agree with it. Errors are
normal and independent of each other. Left out: blunders (a wrong rocket timed, a bearing read the
wrong way round), for which `tail_share` and `effective_count` raise the alarm.
"""

import math
from typing import Final

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.bearings import bearing_rad

Values = NDArray[np.float64] | float
Array = NDArray[np.float64]

SEEN_RAD: Final = math.radians(1.0 / 60.0)  # what an eye resolves; one arc-minute, memory
WATCH_ERROR_S: Final = 0.3  # of a stopwatch pressed by hand, one sd; common practice, no source
COMPASS_ERROR_RAD: Final = math.radians(5.0)  # hand compass, one sd; common practice, no source
LANDMARK_ERROR_RAD: Final = math.radians(3.0)  # line to a far landmark, one sd; the same


def turn_rad(angle_rad: Values) -> Array:
    """An angle brought to -pi ... pi.

    Parameters
        angle_rad : float or array - any. [rad]
    Returns
        angle : array - the same direction. [rad]
    Source
        Definition.
    """
    return np.asarray((np.asarray(angle_rad) + np.pi) % (2.0 * np.pi) - np.pi)


def log_agreement(off: Values, error: float) -> Array:
    """Logarithm of the weight of flights that lie `off` what was seen: -(off/error)^2 / 2.

    Parameters
        off : float or array - flight less what was seen; NaN where it never happened. [any]
        error : float - one standard deviation. [as off]
    Returns
        weight : array - 0 where they meet, -infinity where it never happened. [-]
    Raises
        nothing
    Validity
        Independent normal errors; only differences count.
    Source
        Bayes' rule with a normal likelihood.
    Example
        >>> float(log_agreement(2.0, 1.0))
        -2.0
    """
    spreads = np.asarray(off, dtype=np.float64) / error
    return np.where(np.isfinite(spreads), -0.5 * spreads**2, -np.inf)


def log_aloft(landing_s: Values, seen_s: float, error_s: float) -> Array:
    """Logarithm of the chance that a flight is in the air when last seen: ln Phi((t_l - t)/error).

    Parameters
        landing_s : float or array - of the flight; NaN never lands. [s]
        seen_s : float - by watch. [s]
        error_s : float - of the watch, one standard deviation. [s]
    Returns
        weight : array - 0 and less. [-]
    Source
        Definition of a normal error.
    """
    from scipy.special import log_ndtr  # slow to import

    spreads = (np.asarray(landing_s, dtype=np.float64) - seen_s) / error_s
    return np.where(np.isfinite(spreads), log_ndtr(spreads), -np.inf)


def weights_of(logs: Array, prior: Array) -> Array:
    """Weights that add up to 1 from their logarithms and what each flight stands for.

    Parameters
        logs : array - sums of `log_agreement`. [-]
        prior : array - share of all flights that each stands for. [-]
    Returns
        weights : array - all 0 where no flight agrees. [-]
    Raises
        nothing
    Validity
        Importance sampling.
    Source
        Bayes' rule.
    Example
        >>> weights_of(np.array([0.0, -np.inf]), np.array([0.5, 0.5])).tolist()
        [1.0, 0.0]
    """
    top = float(logs.max(initial=-np.inf))
    if not math.isfinite(top):
        return np.zeros_like(logs)
    found = prior * np.exp(logs - top)
    return np.asarray(found / found.sum())


def _below(spreads: Array) -> Array:
    """Share of a normal population below so many spreads."""
    from scipy.special import ndtr  # slow to import

    return np.asarray(ndtr(spreads))


def sight_rad(east_m: Values, north_m: Values, from_m: tuple[float, float]) -> Array:
    """Bearing of places from an observer's place, clockwise from true north [rad].

    Parameters
        east_m, north_m : float or array - places. [m]
        from_m : tuple - east and north of the observer. [m]
    Returns
        bearing : array - 0 to 2 pi. [rad]
    Source
        Geometry.
    """
    return bearing_rad(np.asarray(east_m) - from_m[0], np.asarray(north_m) - from_m[1])


def true_bearing_rad(compass_rad: float, declination_rad: float) -> float:
    """True bearing of one read on a magnetic compass; declination positive to the east [rad].

    Parameters
        compass_rad : float - as read. [rad]
        declination_rad : float - of the place and year, east positive. [rad]
    Returns
        bearing : float - from true north. [rad]
    Source
        Definition: true = magnetic + declination.
    """
    return (compass_rad + declination_rad) % (2.0 * math.pi)


def descent_place_m(
    time_s: float,
    opened_s: Array,
    opened_at_m: Array,
    landing_s: Array,
    landing_at_m: Array,
    wind_exponent: Values,
) -> Array:
    """One coordinate of flights some time before they land, between opening and ground.

    Sinking at a constant speed in a wind that grows with height as z^p, the way still to drift
    from height h is (h/H)^(1 + p) of the whole: x = x_land - (x_land - x_open) left^(1 + p).

    Parameters
        time_s : float - when; before the opening counts as then, after landing as landed. [s]
        opened_s : array - opening. [s]
        opened_at_m : array - east or north of the pad then. [m]
        landing_s : array - on the ground. [s]
        landing_at_m : array - the same coordinate there. [m]
        wind_exponent : float or array - of the power law p; 0 = in even steps. [-]
    Returns
        place : array - the coordinate then. [m]
    Raises
        nothing
    Validity
        Steady descent below 1 km. The rocket falls faster before the canopy is full, so the place
        is up to 20 m off just after the opening, 10 m from half way on.
    Source
        Integral of the power law [hellmann]; derived.
    Example
        >>> ends = np.array([0.0]), np.array([0.0]), np.array([100.0]), np.array([300.0])
        >>> descent_place_m(50.0, *ends, 0.0)
        array([150.])
    """
    left = np.clip((landing_s - time_s) / (landing_s - opened_s), 0.0, 1.0)
    return np.asarray(landing_at_m - (landing_at_m - opened_at_m) * left ** (1.0 + wind_exponent))


def effective_count(weights: Array) -> float:
    """How many equal flights a weighted sample is worth: (sum w)^2 / sum w^2.

    Parameters
        weights : array - not negative. [-]
    Returns
        count : float - 0 where no flight agrees. [-]
    Raises
        nothing
    Validity
        For means; a tail needs more.
    Source
        Kish 1965, memory.
    Example
        >>> effective_count(np.array([1.0, 1.0, 0.0]))
        2.0
    """
    squares = float((weights**2).sum())
    return float(weights.sum()) ** 2 / squares if squares > 0.0 else 0.0


def tail_share(off: Array, error: float, weights: Array, circle: bool = False) -> float:
    """How odd an entry is: chance of one at least as far from the middle of the flights.

    Parameters
        off : array - flights less what was seen. [any; rad on a circle]
        error : float - of the entry, one standard deviation. [as off]
        weights : array - of the flights before this entry. [-]
        circle : bool - angles: the middle is that of the directions. [-]
    Returns
        share : float - 1 = in the middle; nan where no flight has weight. [-]
    Raises
        nothing
    Validity
        Independent normal errors.
    Source
        Prior predictive check: the share of (flight + error) that lies further out than what was
        seen.
    Example
        >>> round(tail_share(np.zeros(3), 1.0, np.ones(3)), 3)
        1.0
    """
    known = np.isfinite(off) & (weights > 0.0)
    shares, off = weights[known], off[known]
    if not shares.sum() > 0.0:
        return math.nan
    shares = shares / shares.sum()
    if circle:
        middle = float(np.arctan2(shares @ np.sin(off), shares @ np.cos(off)))
        away, seen = turn_rad(off - middle), abs(float(turn_rad(-middle)))
    else:
        middle = float(shares @ off)
        away, seen = off - middle, abs(middle)
    return float(shares @ (_below((-seen - away) / error) + _below((away - seen) / error)))


def slopes(scores: Array, offs: Array, weights: Array, ridge: float = 20.0) -> tuple[Array, Array]:
    """What each score does to each thing seen, by weighted least squares, and what is left over.

    Parameters
        scores : array, (n, k) - standard-normal scores. [-]
        offs : array, (n, m) - flights less what was seen, in errors; finite where weighted. [-]
        weights : array, (n,) - not negative, not all 0. [-]
        ridge : float - observations' worth of a slope of nothing. [-]
    Returns
        slopes : array, (k + 1, m) - the last row is the value at all scores 0. [-]
        rest : array, (m,) - variance that no score explains. [-]
    Raises
        nothing
    Validity
        Things seen that follow the scores about evenly near where the weights are.
    Source
        Ridge regression: Hoerl and Kennard 1970, memory.
    Example
        >>> z = np.random.default_rng(1).normal(size=(2000, 1))
        >>> slopes(z, 2.0 * z + 1.0, np.ones(2000), 0.0)[0].round(6).ravel().tolist()
        [2.0, 1.0]
    """
    shares = weights * (effective_count(weights) / weights.sum())
    matrix = np.column_stack([scores, np.ones(len(scores))])
    square = (matrix * shares[:, None]).T @ matrix
    square[np.arange(scores.shape[1]), np.arange(scores.shape[1])] += ridge
    found = np.linalg.solve(square, (matrix * shares[:, None]).T @ offs)
    left = offs - matrix @ found
    return found, np.asarray(shares @ left**2 / shares.sum())


def most_likely(found: Array, rest: Array) -> tuple[Array, Array, Array]:
    """Directions of the scores that what was seen narrows, with mean and covariance along them.

    For things seen that follow the scores evenly, y = a + B z + e: z lies at
    -B'(B B' + R)^-1 a with covariance I - B'(B B' + R)^-1 B, unmoved across the rows of B.

    Parameters
        found : array, (k + 1, m) - from `slopes`, in errors of what was seen. [-]
        rest : array, (m,) - from `slopes`. [-]
    Returns
        directions : array, (k, m) - at right angles, length 1. [-]
        mean : array, (m,). [-]
        covariance : array, (m, m). [-]
    Raises
        nothing
    Validity
        Fewer things seen than scores.
    Source
        Normal regression, the update of a Kalman filter: Kalman 1960, memory.
    Example
        >>> up = most_likely(np.array([[1.0], [-2.0]]), np.array([0.0]))
        >>> float(abs(up[1][0])), float(up[2][0, 0])
        (1.0, 0.5)
    """
    directions, triangle = np.linalg.qr(found[:-1])
    own = triangle.T  # B Q
    gain = np.linalg.solve(own @ own.T + np.diag(1.0 + rest), own).T
    return directions, -gain @ found[-1], np.eye(len(rest)) - gain @ own


def softened(logs: Array, prior: Array, count: float) -> Array:
    """Weights with all errors taken wider, just enough that they are worth `count` equal flights.

    w = prior exp(b logs), the largest b in 0 ... 1 that does: errors wider by 1/sqrt(b).

    Parameters
        logs : array - sums of `log_agreement`. [-]
        prior : array - share of all flights that each stands for. [-]
        count : float - wanted; weights worth more are left as they are. [-]
    Returns
        weights : array - adding up to 1; all 0 where no flight can agree. [-]
    Raises
        nothing
    Validity
        Fewer flights than `count` that can agree at all: what there is.
    Source
        Tempering; derived.
    Example
        >>> softened(np.array([0.0, -200.0]), np.full(2, 0.5), 1.9).round(2).tolist()
        [0.61, 0.39]
    """
    found = weights_of(logs, prior)
    if effective_count(found) >= count:
        return found
    low, high = 0.0, 1.0
    for _ in range(16):
        middle = 0.5 * (low + high)
        enough = effective_count(weights_of(middle * logs, prior)) >= count
        low, high = (middle, high) if enough else (low, middle)
    return weights_of(low * logs if low > 0.0 else np.where(np.isfinite(logs), 0.0, logs), prior)


def normal_density(scores: Array, mean: Array, covariance: Array) -> Array:
    """Density of a normal population at scores (n, k), without the factor (2 pi)^(-k/2).

    Parameters
        scores : array, (n, k). [-]
        mean : array, (k,). [-]
        covariance : array, (k, k) - positive definite. [-]
    Returns
        density : array, (n,). [-]
    Source
        Definition.
    """
    root = np.linalg.cholesky(covariance)
    away = np.linalg.solve(root, (scores - mean).T)
    return np.asarray(np.exp(-0.5 * (away**2).sum(axis=0)) / np.diag(root).prod())


def moved_scores(plain: Array, directions: Array, mean: Array, covariance: Array) -> Array:
    """Standard-normal scores (n, k) moved along some directions (k, m) to a mean and covariance.

    Parameters
        plain : array (n, k) - standard normal. [-]
        directions : array (k, m) - along which they move. [-]
        mean : array (m,) - to be reached. [-]
        covariance : array (m, m) - to be reached. [-]
    Returns
        scores : array (n, k). [-]
    Source
        Linear map of normal scores; derived.
    """
    along = plain @ directions
    moved = mean + along @ np.linalg.cholesky(covariance).T
    return np.asarray(plain + (moved - along) @ directions.T)


def seen_to_m(length_m: Values, smallest: Values = 1.0) -> Array:
    """Distance at which a length is as small as an eye can see: L / (1 arc-minute x factor).

    Parameters
        length_m : float or array - of what is looked at. [m]
        smallest : float or array - factor on an arc-minute. [-]
    Returns
        distance : array. [m]
    Raises
        nothing
    Validity
        Dark against a clear sky; haze, colour and width are left out.
    Source
        Resolution of the eye, one arc-minute; memory.
    Example
        >>> round(float(seen_to_m(1.0)))
        3438
    """
    return np.asarray(np.asarray(length_m) / (SEEN_RAD * np.asarray(smallest)))
