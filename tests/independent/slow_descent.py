"""Stepping of the slow model, and its last phase: a point mass under canopies in the wind.

Every phase is a `solve_ivp` problem (DOP853, rtol 1e-9), cut at the points of the thrust curve
and where a canopy has just filled.
"""

from collections.abc import Callable, Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.integrate import solve_ivp
from slow_vehicle import SlowVehicle, length

SOLVER = {"method": "DOP853", "rtol": 1e-9, "atol": 1e-10, "max_step": 2.0}
LONGEST_S = 3000.0


def event(function: Any, terminal: bool = True, direction: float = -1.0) -> Callable[..., Any]:
    """A function whose zero `solve_ivp` finds: whether it ends there, and which way it goes."""
    function.terminal, function.direction = terminal, direction
    return function


def ground_event() -> Callable[..., Any]:
    def ground(t: float, y: NDArray[np.float64]) -> float:
        return y[2]

    return event(ground)


def top_event(terminal: bool) -> Callable[..., Any]:
    """Vertical speed through zero from above (free and point-mass states alike)."""

    def top(t: float, y: NDArray[np.float64]) -> float:
        return y[5]

    return event(top, terminal)


def read_point(t: float, y: NDArray[np.float64]) -> tuple[NDArray[np.float64] | None, ...]:
    return y[0:3], y[3:6], None, None, None


class Piece:
    """A stretch of the flight with one way of reading its state vector."""

    def __init__(self, solution: Any, read: Callable[..., Any]) -> None:
        self.t0, self.t1 = solution.t[0], solution.t[-1]
        self.sol, self.read = solution.sol, read

    def at(self, t: float) -> tuple[Any, ...]:  # a point mass has no attitude: None
        return self.read(t, self.sol(t))


class Descent:
    """Holds a flight's vehicle, outcomes `out` and trajectory `pieces`; flies the descent."""

    def __init__(self, vehicle: SlowVehicle) -> None:
        self.vehicle, self.solver = vehicle, dict(SOLVER)
        self.pieces: list[Piece] = []
        self.out: dict[str, float] = {"status": 0.0}

    # --- stepping ---------------------------------------------------------------------------
    def advance(
        self,
        motion: tuple[Callable[..., Any], Callable[..., Any]],
        t0: float,
        y0: NDArray[np.float64] | list[float],
        t1: float,
        events: Sequence[Callable[..., Any]] = (),
    ) -> Any:
        """Integrate, restarting at every point of the thrust curve. Terminal events end it.

        `motion`: the rates of the state vector and how to read it. Returns the last time and
        state, the index of the event that ended it (or None), and for every event the list of
        (time, state) where it happened.
        """
        rhs, read = motion
        knots = self.vehicle.knots
        cuts = [*knots[(knots > t0 + 1e-12) & (knots < t1 - 1e-12)], t1]
        seen = [[] for _ in events]
        for cut in cuts:
            low, high = t0 + 1e-12, cut - 1e-12  # on this piece's side of a jump in thrust
            result = solve_ivp(
                lambda t, y, low=low, high=high: rhs(min(max(t, low), high), y),
                (t0, cut),
                y0,
                dense_output=True,
                events=list(events) or None,
                **self.solver,
            )
            if not result.success:
                raise RuntimeError(result.message)
            self.pieces.append(Piece(result, read))
            t0, y0 = result.t[-1], result.y[:, -1]
            ended = None
            for i, times in enumerate(result.t_events or ()):
                for when, state in zip(times, result.y_events[i]):
                    seen[i].append((when, state))
                if len(times) and getattr(events[i], "terminal", False):
                    ended = i
            if ended is not None:
                return t0, y0, ended, seen
        return t0, y0, None, seen

    def note_apogee(
        self, t: float, position: NDArray[np.float64], velocity: NDArray[np.float64]
    ) -> None:
        self.out["apogee_s"] = t
        self.out["apogee_east_m"], self.out["apogee_north_m"], self.out["apogee_m"] = position
        self.out["apogee_m_s"] = length(velocity - self.vehicle.wind(position[2]))

    # --- under canopies ---------------------------------------------------------------------
    def point_mass(
        self, t0: float, position: NDArray[np.float64], velocity: NDArray[np.float64]
    ) -> None:
        v, p, out = self.vehicle, self.vehicle.p, self.out
        wind = v.wind(position[2])
        out["ejection_s"], out["ejection_m"] = t0, position[2]
        out["ejection_m_s"] = length(velocity - wind)
        out["ejection_climb_m_s"] = velocity[2]
        canopies: list[tuple[float, float, float, float]] = []
        y = np.concatenate([position, velocity])
        t, y, landed = self.fall(t0, y, t0 + p["stretch_s"], canopies)
        if landed:
            return
        speed = length(y[3:6] - v.wind(y[2]))
        out["opening_m_s"], out["opening_m"] = speed, y[2]
        fill = self.fill_time(p["canopy_fill"] * p["canopy_diameter_m"], speed)
        canopies.append((t, p["canopy_area_m2"], fill, p["canopy_growth"]))
        t_open, last = t, len(self.pieces)
        main = p["main_height_m"]
        if main > 0.0:
            t, y, landed = self.fall(t, y, LONGEST_S, canopies, main)
            if not landed:
                t, y, landed = self.fall(t, y, t + p["stretch_s"], canopies)
            if not landed:
                speed = length(y[3:6] - v.wind(y[2]))
                out["main_opening_m_s"] = speed
                fill_main = self.fill_time(p["main_fill"] * p["main_diameter_m"], speed)
                canopies.append((t, p["main_area_m2"], fill_main, p["main_growth"]))
        if not landed:
            self.fall(t, y, LONGEST_S, canopies)
        self.note_opening(t_open, fill, last)

    def nose_first(
        self, t0: float, position: NDArray[np.float64], velocity: NDArray[np.float64]
    ) -> None:
        """Nothing opens: a point mass with the coasting drag at Mach 0.2, at the pad's height."""
        v = self.vehicle
        area = v.scalars["area_m2"] * v.axial(0.2, 0.0, False)
        self.fall(t0, np.concatenate([position, velocity]), LONGEST_S, [], bare_m2=area)
        self.out["status"] = 3.0

    def fill_time(self, way_m: float, speed: float) -> float:
        """Fill length over the speed at line stretch.

        A rocket that is almost at rest there gains speed while it falls; the speed counts as at
        least sqrt(g way / 2), that of a free fall through a quarter of the fill length.
        """
        return way_m / max(speed, np.sqrt(self.vehicle.p["gravity_m_s2"] * way_m / 2.0))

    def fall(
        self,
        t0: float,
        y0: NDArray[np.float64],
        t1: float,
        canopies: list[tuple[float, float, float, float]],
        down_to: float | None = None,
        bare_m2: float | None = None,
    ) -> tuple[float, NDArray[np.float64], bool]:
        """Point mass with the drag areas that are out; ends at t1, at `down_to`, on the ground."""
        v, p = self.vehicle, self.vehicle.p
        bare = p["tumble_area_m2"] if bare_m2 is None else bare_m2

        def rhs(t: float, y: NDArray[np.float64]) -> NDArray[np.float64]:
            area = 0.0
            for start, full, fill, growth in canopies:
                area += full * min(1.0, (max(t - start, 0.0) / fill) ** growth)
            area = max(area, bare)
            through = y[3:6] - v.wind(y[2])
            pull = 0.5 * v.air(y[2])[0] * area * length(through) / v.masses(t)[0]
            return np.concatenate([y[3:6], [0.0, 0.0, -p["gravity_m_s2"]] - pull * through])

        def passes(t: float, y: NDArray[np.float64]) -> float:
            return y[2] - down_to

        events = [ground_event(), top_event(False)]
        if down_to is not None:
            if y0[2] <= down_to and y0[5] < 0.0:
                return t0, y0, False
            events.append(event(passes))
        kinks = sorted(c[0] + c[2] for c in canopies if t0 < c[0] + c[2] < t1)  # just filled
        ended = None
        for cut in [*kinks, t1]:
            t0, y0, ended, seen = self.advance((rhs, read_point), t0, y0, cut, events)
            for when, state in seen[1][:1]:
                if "apogee_s" not in self.out:
                    self.note_apogee(when, state[0:3], state[3:6])
            if ended is not None:
                break
        if ended == 0:
            self.note_landing(t0, y0[0:3], y0[3:6])
        return t0, y0, ended == 0

    def note_opening(self, start: float, fill: float, first_piece: int) -> None:
        """Greatest drag of the first canopy while it fills, times its overshoot factor."""
        v, p = self.vehicle, self.vehicle.p
        greatest = 0.0
        for piece in self.pieces[first_piece:]:
            if piece.t0 > start + fill:
                break
            for t in np.linspace(piece.t0, min(piece.t1, start + fill), 2000):
                position, velocity = piece.at(t)[:2]
                area = p["canopy_area_m2"] * min(1.0, ((t - start) / fill) ** p["canopy_growth"])
                through = length(velocity - v.wind(position[2]))
                greatest = max(greatest, 0.5 * v.air(position[2])[0] * through**2 * area)
        self.out["opening_force_n"] = p["canopy_overshoot"] * greatest

    def note_landing(
        self, t: float, position: NDArray[np.float64], velocity: NDArray[np.float64]
    ) -> None:
        self.out["landing_s"] = t
        self.out["landing_east_m"], self.out["landing_north_m"] = position[0], position[1]
        self.out["landing_m_s"] = length(velocity)
        self.out["descent_m_s"] = -velocity[2]
