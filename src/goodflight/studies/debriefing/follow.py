"""The flight model fitted to the whole height curve of a log, not to its events alone.

Points that contradict all others weigh less the further they are, so that what a bay's pressure
does besides the flight does not pull the fit.
"""

from dataclasses import dataclass, replace
from typing import Annotated, Final

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.estimate import Estimate, generalised_least_squares
from goodflight.physics.recorded import Happened
from goodflight.physics.recorded_curve import HeightCurve
from goodflight.studies.case.planned import Case
from goodflight.studies.debriefing.predicted import Model, Seen, seen_of, slope
from goodflight.studies.refusal import StudyRefused

Array = NDArray[np.float64]

BESIDE: Final = ("burnout_s", "charge_s", "canopy_s")  # events that the height alone shows badly
CLOSE: Final = 0.01  # of a spread: the search ends
LOOKS: Final = 3  # times the slopes are taken, from then on their mean: it settles
BENT: Final = (0, 2)  # rounds in which what a straight line leaves out is flown
ROUNDS: Final = 15
FIRST_WEIGHED: Final = 2  # round from which points that stand apart weigh less
SETTLED, UNSETTLED = 0.02, 0.5  # of a score: the last step of the search; more: nothing fits
OUTLYING: Final = 2.5  # spreads from what all else says: from there a point weighs less
ASIDE: Final = 4.0  # told as set aside
MOST_ASIDE: Final = 0.25  # of the points; more: the plan is not that of this flight
CLOCK_S: Final = 0.02  # least error of an event on the log's clock


@dataclass(frozen=True)
class CurveFit:
    """The height curve of the log beside that of the fitted flight, standard atmosphere."""

    times_s: Annotated[tuple[float, ...], "after lift-off [s]"]
    seen_m: Annotated[tuple[float, ...], "as read [m]"]
    errors_m: Annotated[tuple[float, ...], "of each point alone, one standard deviation [m]"]
    fitted_m: Annotated[tuple[float, ...], "of the fitted flight [m]"]
    aside: Annotated[tuple[float, ...], "points set aside, by their time [s]"]
    rms_m: Annotated[float, "root mean square of what is left of the others [m]"]
    wider: Annotated[float, "errors of the points widened by this, as they scatter [-]"]


@dataclass(frozen=True, eq=False)
class Followed:
    """Model, what was fitted, the estimate, and the curve beside it."""

    model: Model
    seen: Seen
    found: Estimate
    curve: CurveFit


def estimate(model: Model, seen: Seen, added: Array, error: Array) -> Estimate:
    """The scores that fit the events that were seen.

    Raises StudyRefused where nothing fits.
    """
    found: list[Array] = []

    def predict(here: Array) -> tuple[Array, Array]:
        if len(found) < LOOKS:
            at, up, down = (model.shown(each) for each in model.around(here))
            found.append(slope(up, down).T)
        else:
            at = model.shown(model.flown(here[None, :]))
        return at[0] + added, np.mean(found, axis=0)

    count = len(model.factors)
    try:
        return generalised_least_squares(
            np.zeros(count),
            covariance=np.eye(count),
            observed=seen.values,
            error=error,
            predict=predict,
            close=CLOSE,
        )
    except ValueError:
        raise _fits_nothing() from None


def _fits_nothing() -> StudyRefused:
    return StudyRefused(
        "what was seen fits no flight of this plan",
        "figures near those of the planned flight",
        "check units, lift-off and the plan: its motor, delay and canopies",
    )


def follow(case: Case, happened: Happened, curve: HeightCurve, first: Estimate) -> Followed:
    """Fit the whole curve, from the scores that fit the events.

    Parameters
        case : Case - the planned flight on the day as it was. [SI]
        happened : Happened - what was seen of it, with errors. [SI]
        curve : HeightCurve - of the log. [SI]
        first : Estimate - of the scores, where the search begins. [-]
    Returns
        followed : Followed - the estimate, and both curves. [-]
    Raises
        StudyRefused - the curve fits no flight of this plan.
    Validity
        As `fit`; the barometer's own errors as `HeightCurve.shared`.
    Source
        Generalised least squares on the prior [rodgers2000]; a line through the scores as they may
        be, what it leaves out as an error; outliers weigh less, as in [huber1964]; a covariance
        from few flights [hartlap2007].
    """
    seen, clocked = _seen(happened, curve)
    model = Model(case, seen.names, curve.time_s)
    start, spread, events = first.mean, first.covariance, len(seen.names)
    own, far, moved = seen.errors.copy(), np.zeros(seen.values.size), np.inf
    for number in range(ROUNDS):
        line = _line(model, start, spread)
        if number in BENT:
            added, common = _left_out(model, line, start, spread)
            common = common + _shared(model, curve, clocked, start)
        error = np.diag(own * own) + common
        found = _linear(line, seen, added, error, start)
        here = _shorter(model, seen, added, error, here=start, there=found.mean)
        moved, start, spread = float(np.max(np.abs(here - start))), here, found.covariance
        others = np.maximum(found.apart_sigma**2 - own**2, 0.0)  # variance of what all others say
        far = np.abs(found.apart) / np.sqrt(others + seen.errors**2)
        before = own
        if number >= FIRST_WEIGHED:
            wanted = (found.apart / OUTLYING) ** 2 - others  # as good as it can be believed
            own = np.sqrt(np.maximum(seen.errors**2, wanted))
            if number > BENT[-1] and moved < SETTLED and np.allclose(before, own, rtol=0.1):
                break
    if moved > UNSETTLED or np.mean(far[events:] > ASIDE) > MOST_ASIDE:
        raise _fits_nothing()
    wider = max(1.0, float(np.sqrt(found.chi_square / max(1, seen.values.size))))
    if wider > 1.0:
        own[events:] *= wider
        line = _line(model, start, spread)
        found = _linear(line, seen, added, np.diag(own * own) + common, start)
    fitted = model.shown(model.flown(found.mean[None, :]))[0][events:] + added[events:]
    return Followed(model, seen, found, _beside(curve, fitted, far[events:], wider))


def _line(model: Model, here: Array, spread: Array) -> tuple[Array, Array]:
    """What would be seen of the flight at these scores, and its slopes over their spread."""
    step = np.sqrt(np.diag(spread))
    at, up, down = (model.shown(each) for each in model.around(here, step))
    if not np.isfinite(at).all():
        raise _fits_nothing()
    return at[0], slope(up, down, step).T


def _left_out(
    model: Model, line: tuple[Array, Array], here: Array, spread: Array
) -> tuple[Array, Array]:
    """Mean and covariance of what gusts and the bend of the effects add to the line."""
    left = model.left_out(here, spread, *line)
    flights, figures = left.shape
    if flights < 2 * figures:
        raise _fits_nothing()
    wider = (flights - 1.0) / (flights - figures - 2.0)  # its inverse is wanted [hartlap2007]
    return left.mean(axis=0), wider * np.cov(left.T)


def _linear(
    line: tuple[Array, Array], seen: Seen, added: Array, error: Array, here: Array
) -> Estimate:
    """The estimate on a straight line through these scores."""
    (would, slopes), count = line, here.size
    try:
        return generalised_least_squares(
            np.zeros(count),
            np.eye(count),
            seen.values,
            error,
            lambda there: (would + added + slopes @ (there - here), slopes),
        )
    except ValueError:
        raise _fits_nothing() from None


def _shorter(
    model: Model, seen: Seen, added: Array, error: Array, here: Array, there: Array
) -> Array:
    """Of the way to the estimate as much as brings the flight nearer to what was seen."""
    weight = np.linalg.inv(error)

    def misses(rows: Array) -> Array:
        left = seen.values - added - model.shown(model.flown(rows))
        squares = np.einsum("ij,jk,ik->i", left, weight, left) + (rows * rows).sum(axis=1)
        return np.where(np.isfinite(squares), squares, np.inf)

    shares = np.array([0.0, 1.0, 0.5, 0.25, 0.1])
    rows = here + shares[:, None] * (there - here)
    return np.asarray(rows[int(np.argmin(misses(rows)))])


def _seen(happened: Happened, curve: HeightCurve) -> tuple[Seen, Array]:
    """What is fitted, a few events, then the heights; and which of the events share its clock."""
    told = seen_of(Happened(**{n: it for n, it in happened.given().items() if n in BESIDE}))
    late, errors = curve.lift_off_error_s, told.errors
    here, logged = happened.given(), curve.events.given()
    clocked = np.array([here[n] == logged.get(n) for n in told.names], dtype=bool)
    alone = np.sqrt(np.maximum(errors**2 - late**2, CLOCK_S**2))
    values = np.concatenate([told.values, curve.height_m])
    errors = np.concatenate([np.where(clocked, alone, errors), curve.error_m])
    return replace(told, values=values, errors=errors), clocked


def _shared(model: Model, curve: HeightCurve, clocked: Array, scores: Array) -> Array:
    """Covariance of what events and heights of one log share, for the flight at these scores."""
    did = model.flown(scores[None, :])
    assert did.rates_mps is not None
    heights = curve.shared(did.rates_mps[0])
    events = np.zeros((clocked.size, heights.shape[1]))
    events[:, 0] = np.where(clocked, -curve.lift_off_error_s, 0.0)
    rows = np.vstack([events, heights])
    return np.asarray(rows @ rows.T)


def _beside(curve: HeightCurve, fitted: Array, far: Array, wider: float) -> CurveFit:
    left, good = curve.height_m - fitted, far < ASIDE
    rms = float(np.sqrt(np.mean(left[good] ** 2))) if good.any() else float("nan")

    def plain(values: Array) -> tuple[float, ...]:
        return tuple(round(float(each), 3) for each in values)

    return CurveFit(
        times_s=plain(curve.time_s),
        seen_m=plain(curve.height_m),
        errors_m=plain(curve.error_m),
        fitted_m=plain(fitted),
        aside=plain(curve.time_s[~good]),
        rms_m=rms,
        wider=wider,
    )
