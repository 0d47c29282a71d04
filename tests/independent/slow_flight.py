"""A slow, separately written model of a whole flight, to hold against the compiled kernel.

Phases, each its own `solve_ivp` problem (DOP853, rtol 1e-9), cut at the points of the thrust
curve: on the rail with both guides (one coordinate), on the last guide (Newton-Euler with a
Lagrange multiplier for the guide's force), free (CG, velocity, two unit vectors of the attitude,
angular momentum in the world frame), and a point mass under canopies (`slow_descent`). Left
out: turbulence, cord, snatch. Results carry the names of OUTCOMES.
"""

from collections.abc import Callable
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import brentq, minimize_scalar
from slow_descent import LONGEST_S, Descent, Piece, event, ground_event, top_event
from slow_vehicle import SlowVehicle, cross, length

from goodflight.physics.aero.tables import AeroTables
from goodflight.physics.flight.registry import BY_ALTIMETER, BY_DELAY, NOTHING_OPENS
from goodflight.physics.motor.model import Motor


def rail_frame(p: dict[str, float]) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Unit vectors: along the rail upwards, and body y there.

    Body axes are the world's turned by the shortest way that brings x (east) onto the rail, so
    on an upright rail y looks north. Where the rocket is not symmetric this fixes its roll.
    """
    tilt, azimuth = p["rail_tilt_rad"], p["rail_azimuth_rad"]
    lean = np.array([np.sin(azimuth), np.cos(azimuth), 0.0])
    along = np.sin(tilt) * lean + np.array([0.0, 0.0, np.cos(tilt)])
    east, north = np.eye(3)[:2]
    side = north - along[1] / (1.0 + along[0]) * (along + east)
    return along, side


class SlowFlight(Descent):
    """Runs one flight; `out` collects the outcomes and `pieces` the trajectory.

    `rail_side` replaces body y on the rail (how the rocket is rolled when it is put on).
    """

    def __init__(
        self,
        vehicle: SlowVehicle,
        deployment: int = BY_DELAY,
        rail_side: NDArray[np.float64] | None = None,
    ) -> None:
        super().__init__(vehicle)
        self.deployment = deployment
        self.rail, self.rail_side = rail_frame(vehicle.p)
        if rail_side is not None:
            self.rail_side = np.asarray(rail_side, dtype=float)

    # --- on the rail ------------------------------------------------------------------------
    def travel_at_exit(self, guide_m: float) -> float:
        """How far the rocket has moved when this guide passes the rail's upper end."""
        p = self.vehicle.p
        return p["rail_length_m"] - p["stop_height_m"] - (p["tail_m"] - guide_m)

    def place(self, t: float, travel: float) -> NDArray[np.float64]:
        """CG in the world while the axis lies along the rail."""
        p = self.vehicle.p
        along = p["stop_height_m"] + travel + p["tail_m"] - self.vehicle.masses(t)[1]
        return np.array([0.0, 0.0, p["rail_base_m"]]) + along * self.rail

    def rail_pull(self, t: float, travel: float, speed: float) -> float:
        """Net force up the rail, with the friction of both guides against upward motion."""
        v = self.vehicle
        force, _ = v.loads(t, self.read_rail(t, (travel, speed)))
        along = float(force @ self.rail)
        return along - v.p["rail_friction"] * length(force - along * self.rail)

    def both_guides(self) -> tuple[float, NDArray[np.float64]] | None:
        v = self.vehicle
        times = np.unique(np.concatenate([np.linspace(1e-9, v.burnout_s, 4000), v.knots]))
        pulls = [self.rail_pull(t, 0.0, 0.0) for t in times]
        first = next((i for i, pull in enumerate(pulls) if pull > 0.0), None)
        if first is None:
            self.out["status"] = 1.0
            return None
        t0 = times[first]
        if first > 0:
            t0 = brentq(self.rail_pull, times[first - 1], times[first], args=(0.0, 0.0))
        self.out["liftoff_s"] = t0
        goal = self.travel_at_exit(v.p["guide_fore_m"])

        def rhs(t: float, y: NDArray[np.float64]) -> list[float]:
            return [y[1], self.rail_pull(t, y[0], y[1]) / v.masses(t)[0]]

        def leaves(t: float, y: NDArray[np.float64] | list[float]) -> float:
            return y[0] - goal

        ends = [event(leaves, direction=0.0)]
        t, y, ended, _ = self.advance((rhs, self.read_rail), t0, [0.0, 0.0], t0 + 20.0, ends)
        if ended is None:
            self.out["status"] = 1.0
            return None
        self.out["guide_exit_s"], self.out["guide_exit_m_s"] = t, y[1]
        return t, y

    def read_rail(
        self, t: float, y: NDArray[np.float64] | tuple[float, float]
    ) -> tuple[NDArray[np.float64], ...]:
        return self.place(t, y[0]), y[1] * self.rail, self.rail, self.rail_side, np.zeros(3)

    def one_guide(
        self, t0: float, travel: float, speed: float
    ) -> tuple[float, tuple[NDArray[np.float64], ...] | None]:
        """The aft guide slides on the rail's line; pitch and yaw are free about it, no roll.

        State: travel of the guide, its speed, nose, side, angular velocity. The guide's force
        across the rail is the multiplier that keeps the guide's acceleration along the rail.
        """
        v = self.vehicle
        guide = v.p["guide_aft_m"]
        basis = np.array([self.rail_side, cross(self.rail, self.rail_side)])
        goal = self.travel_at_exit(guide)
        y0 = np.concatenate([[travel, speed], self.rail, self.rail_side, np.zeros(3)])

        def read(t: float, y: NDArray[np.float64]) -> tuple[NDArray[np.float64], ...]:
            nose, omega = y[2:5], y[8:11]
            arm = guide - v.masses(t)[1]
            start = self.place(t, y[0]) - arm * self.rail
            velocity = y[1] * self.rail + arm * cross(omega, nose)
            return start + arm * nose, velocity, nose, y[5:8], omega

        def rhs(t: float, y: NDArray[np.float64]) -> NDArray[np.float64]:
            state = read(t, y)
            _, _, nose, side, omega = state
            mass, cg, pitch, _, pitch_rate, _ = v.masses(t)
            force, moment = v.loads(t, state)
            moment = moment - pitch_rate * omega
            to_guide = -(guide - cg) * nose

            def motion(
                held: NDArray[np.float64],
            ) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
                twist = moment + cross(to_guide, held)
                spin = (twist - float(twist @ nose) * nose) / pitch
                push = (force + held) / mass
                return push + cross(spin, to_guide) + cross(omega, cross(omega, to_guide)), spin

            free, _ = motion(np.zeros(3))
            effect = np.array([motion(b)[0] - free for b in basis]).T
            held, friction = np.zeros(3), np.zeros(3)
            for _ in range(20):  # friction depends on the force it helps to set
                base = motion(friction)[0]
                share = np.linalg.solve(basis @ effect, -(basis @ base))
                new = share @ basis
                settled = length(new - held) < 1e-11 * (1.0 + length(new))
                held = new
                friction = -v.p["rail_friction"] * length(held) * self.rail
                if settled:
                    break
            acceleration, spin = motion(held + friction)
            along = float(acceleration @ self.rail)
            turns = [cross(omega, nose), cross(omega, side)]
            return np.concatenate([[y[1], along], *turns, spin])

        def leaves(t: float, y: NDArray[np.float64]) -> float:
            return y[0] - goal

        if goal <= travel:
            return t0, read(t0, y0)
        ends = [event(leaves, direction=0.0)]
        t, y, ended, _ = self.advance((rhs, read), t0, y0, t0 + 20.0, ends)
        if ended is None:
            self.out["status"] = 1.0
            return t, None
        return t, read(t, y)

    def note_rail_exit(self, t: float, state: tuple[NDArray[np.float64], ...]) -> None:
        v, out = self.vehicle, self.out
        position, velocity, nose, _, omega = state
        sound = v.air(position[2])[1]
        through = velocity - v.wind(position[2])
        along = float(through @ nose)
        crossing = length(through - along * nose)
        mach = length(through) / sound
        out["rail_exit_s"] = t
        out["rail_exit_m_s"] = length(velocity)
        out["rail_exit_wind_m_s"] = crossing
        out["rail_exit_incidence_rad"] = np.arctan2(crossing, along)
        out["rail_exit_rate_rad_s"] = length(omega - float(omega @ nose) * nose)
        out["margin_exit_cal"] = v.margin_small(t, mach)
        out["margin_exit_incidence_cal"] = v.margin_at(t, mach, sound, along, crossing)

    # --- free flight ------------------------------------------------------------------------
    def spin_of(self, t: float, y: NDArray[np.float64]) -> NDArray[np.float64]:
        """Angular velocity from the angular momentum (axisymmetric body)."""
        _, _, pitch, roll, _, _ = self.vehicle.masses(t)
        nose, momentum = y[6:9], y[12:15]
        return momentum / pitch + (1.0 / roll - 1.0 / pitch) * float(momentum @ nose) * nose

    def read_free(self, t: float, y: NDArray[np.float64]) -> tuple[NDArray[np.float64], ...]:
        return y[0:3], y[3:6], y[6:9], y[9:12], self.spin_of(t, y)

    def rhs_free(self, t: float, y: NDArray[np.float64]) -> NDArray[np.float64]:
        state = self.read_free(t, y)
        _, velocity, nose, side, omega = state
        mass, _, _, _, _, roll_rate = self.vehicle.masses(t)
        force, moment = self.vehicle.loads(t, state)
        # the gas takes the grain's own share of the roll momentum with it
        moment = moment + roll_rate * float(omega @ nose) * nose
        turns = [cross(omega, nose), cross(omega, side)]
        return np.concatenate([velocity, force / mass, *turns, moment])

    def start_free(
        self, t: float, state: tuple[NDArray[np.float64] | tuple[float, ...], ...]
    ) -> NDArray[np.float64]:
        """Free-flight state vector from position, velocity, nose, side, angular velocity."""
        position, velocity, nose, side, omega = (np.asarray(part, dtype=float) for part in state)
        _, _, pitch, roll, _, _ = self.vehicle.masses(t)
        spin = float(omega @ nose)
        momentum = pitch * (omega - spin * nose) + roll * spin * nose
        return np.concatenate([position, velocity, nose, side, momentum])

    def free(self, t0: float, y0: NDArray[np.float64]) -> tuple[float, NDArray[np.float64], bool]:
        """To the ejection or the ground; notes burnout and, if it comes first, the apogee."""
        v = self.vehicle
        motion = (self.rhs_free, self.read_free)
        if t0 < v.burnout_s:
            t0, y0, _, _ = self.advance(motion, t0, y0, v.burnout_s)
            self.note_burnout(t0, y0)
        until = LONGEST_S
        if self.deployment == BY_DELAY:
            until = v.burnout_s + v.p["delay_s"]
        to_top = self.deployment == BY_ALTIMETER or self.nose_first_from_top
        ground, top = ground_event(), top_event(to_top)
        events = [ground, top]
        t, y, ended, seen = self.advance(motion, t0, y0, until, events)
        for when, state in seen[1][:1]:
            self.note_apogee(when, state[0:3], state[3:6])
        if self.deployment == BY_ALTIMETER and ended == 1:
            lag = v.p["apogee_lag_s"]
            ended = None
            if lag > 0.0:
                t, y, ended, _ = self.advance(motion, t, y, t + lag, [ground])
        return t, y, ended == 0

    nose_first_from_top = False  # set for whole flights of which nothing opens

    def note_burnout(self, t: float, y: NDArray[np.float64]) -> None:
        position, velocity, nose, _, omega = self.read_free(t, y)
        self.out["burnout_s"] = t
        self.out["burnout_m"] = position[2]
        self.out["burnout_m_s"] = length(velocity)
        self.out["burnout_roll_rad_s"] = float(omega @ nose)
        self.out["burnout_tilt_rad"] = float(np.arctan2(np.hypot(nose[0], nose[1]), nose[2]))
        mach = length(velocity - self.vehicle.wind(position[2])) / self.vehicle.air(position[2])[1]
        self.out["margin_burnout_cal"] = self.vehicle.margin_small(t, mach)

    # --- what the trajectory says -----------------------------------------------------------
    def ascent_extremes(self) -> None:
        """Greatest ground speed, Mach number and dynamic pressure up to apogee."""
        v, out = self.vehicle, self.out
        end = out.get("apogee_s", np.inf)

        def quantities(piece: Piece, t: float) -> tuple[float, float, float]:
            position, velocity = piece.at(t)[:2]
            rho, sound = v.air(position[2])
            air_speed = length(velocity - v.wind(position[2]))
            return length(velocity), air_speed / sound, 0.5 * rho * air_speed**2

        best = [(-1.0, 0.0)] * 3
        for piece in self.pieces:
            if piece.t0 >= end:
                break
            times = np.linspace(piece.t0, min(piece.t1, end), 200)
            rows = np.array([quantities(piece, t) for t in times])
            for k in range(3):
                i = int(np.argmax(rows[:, k]))
                low, high = times[max(i - 1, 0)], times[min(i + 1, len(times) - 1)]
                peak = minimize_scalar(
                    lambda t, k=k, piece=piece: -quantities(piece, t)[k],
                    bounds=(low, high),
                    method="bounded",
                    options={"xatol": 1e-7},
                )
                best[k] = max(best[k], (rows[i, k], times[i]), (-peak.fun, peak.x))
        out["max_speed_m_s"], out["max_speed_s"] = best[0]
        out["max_mach"], out["max_pressure_pa"] = best[1][0], best[2][0]

    def min_margin(self) -> None:
        """Smallest small-angle margin between rail exit and burnout."""
        v, out = self.vehicle, self.out
        least = (np.inf, np.nan)
        for piece in self.pieces:
            if piece.t1 <= out["rail_exit_s"] or piece.t0 >= v.burnout_s:
                continue
            for t in np.linspace(piece.t0, piece.t1, 100):
                position, velocity = piece.at(t)[:2]
                through = length(velocity - v.wind(position[2]))
                least = min(least, (v.margin_small(t, through / v.air(position[2])[1]), t))
        out["min_margin_cal"], out["min_margin_s"] = least

    def run(self) -> dict[str, float]:
        """Pad to ground."""
        v, out = self.vehicle, self.out
        mass = v.masses(0.0)[0]
        weight = mass * v.p["gravity_m_s2"]
        out["liftoff_mass_kg"] = mass
        out["thrust_to_weight_mean"] = v.impulse / v.burnout_s / weight
        out["margin_liftoff_cal"] = v.margin_small(0.0, 0.0)
        start = self.both_guides()
        if start is None:
            return out
        t, state = self.one_guide(start[0], *start[1])
        if state is None:
            return out
        self.note_rail_exit(t, state)
        self.nose_first_from_top = self.deployment == NOTHING_OPENS
        t, y, landed = self.free(t, self.start_free(t, state))
        if not landed and self.nose_first_from_top:
            self.nose_first(t, y[0:3], y[3:6])
        elif landed:
            self.note_landing(t, y[0:3], y[3:6])
            out["status"] = 3.0
        else:
            self.point_mass(t, y[0:3], y[3:6])
        self.ascent_extremes()
        self.min_margin()
        return out


def fly(
    parameters: dict[str, float],
    motor: Motor,
    tables: AeroTables,
    deployment: int = BY_DELAY,
    *,
    air: Callable[..., Any] | None = None,
    rail_side: NDArray[np.float64] | None = None,
) -> dict[str, float]:
    """Outcomes of one flight without turbulence, as a dict of OUTCOMES names."""
    assert deployment in (BY_DELAY, BY_ALTIMETER, NOTHING_OPENS)
    vehicle = SlowVehicle(parameters, motor, tables, air)
    return SlowFlight(vehicle, deployment, rail_side).run()
