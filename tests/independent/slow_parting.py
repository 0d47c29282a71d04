"""The motion after ejection once more: the same forces, an integrator that lands on every event.

Places and speeds are complex numbers, along the path and across it; scipy's DOP853 to 1e-8 runs
from one event to the next: pack out of its tube, a cord tight, slack or without pull, lines
stretched, canopy full, tumbling. While the pack is in the tube the two have four coordinates, the
place of the booster, its angle and the way of the pack along it: what accelerates them is what
virtual work makes of the forces, with the matrix of masses solved. Nothing is shared with what
flies.
"""

import cmath
import math
from collections.abc import Callable
from typing import Any

import numpy as np
from scipy.integrate import solve_ivp

LONGEST_S, HANGS_S, SETTLE_S = 5.0, 1.0, 0.1
SLIP_M_S, SLIDING_STEP_S = 0.05, 0.002  # friction fades out below, and stops no more than it may
SAMPLES = 200  # of each piece of the motion, for its greatest forces
HAIR = 1e-9  # m, N
INF = math.inf


def _beyond(what: Callable[[float, Any], float], rising: bool) -> Any:
    """An event a hair beyond nothing, so that the piece after it does not begin on it."""

    def event(t: float, y: Any) -> float:
        return what(t, y) - (HAIR if rising else -HAIR)

    event.terminal, event.direction = True, 1.0 if rising else -1.0  # type: ignore[attr-defined]
    return event


class SlowParting:
    """One motion, from figures by name; `outcomes` of the same names as those of the fast one."""

    def __init__(self, figures: dict[str, float]) -> None:
        self.p = p = figures
        nose, booster, gear = p["nose_kg"], p["booster_kg"], p["gear_kg"]
        self.axis = cmath.rect(1.0, p["axis_rad"])  # of the tube as the pack left it
        self.lies = False  # the pack on what it lay on in the tube
        self.gravity = -1j * p["gravity_m_s2"] * cmath.rect(1.0, -p["climb_rad"])
        self.damp_fore = self._damping(p["fore_stiffness_n_m"], nose, gear)
        self.damp_aft = self._damping(p["aft_stiffness_n_m"], booster, gear)
        self.free_m = max(p["aft_cord_m"] - p["pack_length_m"], 0.05 * p["aft_cord_m"])
        self.cleared = self.filling = self.opened = self.straight = INF
        self.fill_s = INF
        self.fore_on = self.aft_on = False  # has been tight
        self.stretched = [False, False]  # fore, aft: now longer than at rest
        self.pulling = [False, False]
        self.out = {
            "reach_m": 0.0,
            "min_gap_m": math.nan,
            "snatch_n": 0.0,
            "max_n": 0.0,
            "edge_n": 0.0,
            "fore_n": 0.0,
            "stretch_m_s": 0.0,
        }

    def _damping(self, k: float, one: float, other: float) -> float:
        return 2.0 * self.p["cord_damping"] * math.sqrt(k * one * other / (one + other))

    def start(self) -> np.ndarray:
        """Nose, booster, pack, angle, their rates, and the way the air has streamed past."""
        p = self.p
        ahead = p["nose_kg"] + p["gear_kg"] * p["gear_rides"]
        share = ahead / (p["nose_kg"] + p["booster_kg"] + p["gear_kg"])
        slow, quick = -p["parting_m_s"] * share, p["parting_m_s"] * (1.0 - share)
        nose = p["mouth_m"] * self.axis
        place = nose - p["pack_length_m"] * self.axis
        speeds = [
            p["speed_m_s"] + extra * self.axis
            for extra in (quick, slow, quick if p["gear_rides"] > 0.5 else slow)
        ]
        # booster and pack turn as one body about the CG of both
        middle = place * p["gear_kg"] / (p["gear_kg"] + p["booster_kg"])
        speeds[1] += 1j * p["turn_rad_s"] * (0.0 - middle)
        speeds[2] += 1j * p["turn_rad_s"] * (place - middle)
        flat = [nose.real, nose.imag, 0.0, 0.0, place.real, place.imag, p["axis_rad"]]
        for speed in speeds:
            flat += [speed.real, speed.imag]
        return np.array([*flat, p["turn_rad_s"], 0.0])

    def way(self, y: Any) -> float:
        """Way of the pack out of its place in the tube."""
        apart = complex(y[4] - y[2], y[5] - y[3])
        axis = cmath.rect(1.0, y[6]) if self.cleared == INF else self.axis
        return (apart * axis.conjugate()).real + self.p["pack_length_m"] - self.p["mouth_m"]

    def cords(self, y: Any) -> tuple[tuple[float, float, complex], ...]:
        """Fore and aft cord: stretch, pull before it is cut off at nothing, direction."""
        p = self.p
        nose, booster, pack = (complex(y[i], y[i + 1]) for i in (0, 2, 4))
        v_nose, v_booster, v_pack = (complex(y[i], y[i + 1]) for i in (7, 9, 11))
        tube = cmath.rect(1.0, y[6])
        mouth = p["mouth_m"] * tube
        front = p["pack_length_m"] * (tube if self.cleared == INF else self.axis)
        front_turns = 1j * y[13] * front if self.cleared == INF else 0j
        found = []
        for apart, speed, rest, k, c in (
            (
                nose - pack - front,
                v_nose - v_pack - front_turns,
                p["fore_cord_m"],
                p["fore_stiffness_n_m"],
                self.damp_fore,
            ),
            (
                pack - booster - mouth,
                v_pack - v_booster - 1j * y[13] * mouth,
                self.free_m,
                p["aft_stiffness_n_m"],
                self.damp_aft,
            ),
        ):
            length = abs(apart)
            along = apart / length if length > 0.0 else 0j
            stretch = length - rest
            found.append((stretch, k * stretch + c * (speed * along.conjugate()).real, along))
        return tuple(found)

    def pulls(self, y: Any) -> list[tuple[float, complex]]:
        """Pull and direction of each cord that is stretched."""
        return [
            (max(pull, 0.0) if on else 0.0, along)
            for (_, pull, along), on in zip(self.cords(y), self.stretched)
        ]

    def canopy_m2(self, t: float) -> float:
        """Drag area of pack and canopy once out."""
        p = self.p
        if self.filling == INF:
            return p["gear_m2"]
        part = 1.0 if self.opened < INF else max(t - self.filling, 0.0) / self.fill_s
        return p["gear_m2"] + p["canopy_m2"] * min(part, 1.0) ** p["canopy_growth"]

    def edge_n(self, pull: float, along: complex, angle: float) -> float:
        """Push of the cord into the edge, Euler's belt."""
        if pull <= 0.0:
            return 0.0
        bend = abs(cmath.phase(along * cmath.rect(1.0, -angle)))
        return max(pull * (math.exp(-self.p["edge_friction"] * bend) - math.cos(bend)), 0.0)

    def air_moment(self, y: Any) -> float:
        """Cross-flow on the tube by Gauss's three stations, and on the fins."""
        p = self.p
        felt = complex(y[9], y[10]) * cmath.rect(1.0, -y[6])
        moment = 0.0
        for at, weight in zip(*np.polynomial.legendre.leggauss(3)):
            ahead = p["mouth_m"] - 0.5 * p["tube_m"] * (1.0 - at)
            speed = felt.imag + y[13] * ahead
            moment -= ahead * 0.5 * weight * p["tube_side_m2"] * abs(speed) * speed
        speed = felt.imag - y[13] * p["fins_behind_m"]
        fins = p["fins_side_m2"] * abs(speed) + p["fins_lift_m2"] * abs(felt.real)
        return 0.5 * p["density_kg_m3"] * (moment + p["fins_behind_m"] * fins * speed)

    def rates(self, t: float, y: Any) -> list[float]:
        """What solve_ivp asks for."""
        p = self.p
        inside = self.cleared == INF
        wide = min(t / p["tumble_s"], 1.0)
        areas = (
            p["nose_start_m2"] + (p["nose_m2"] - p["nose_start_m2"]) * wide,
            p["booster_start_m2"] + (p["booster_m2"] - p["booster_start_m2"]) * wide,
            0.0 if inside else self.canopy_m2(t),
        )
        masses = (p["nose_kg"], p["booster_kg"], p["gear_kg"])
        speeds = [complex(y[i], y[i + 1]) for i in (7, 9, 11)]
        gain = [
            self.gravity - 0.5 * p["density_kg_m3"] * area * abs(v) * v / m
            for v, area, m in zip(speeds, areas, masses)
        ]
        (fore, line), (aft, along) = self.pulls(y)
        gain[0] -= fore * line / masses[0]
        moment = self.air_moment(y)
        if inside:
            gain[1], gain[2], turning = self.guided(y, gain[1], gain[2], fore * line, moment)
        else:
            gain[2] += (fore * line - aft * along) / masses[2]
            gain[1] += aft * along / masses[1]
            across = (along * cmath.rect(1.0, -y[6])).imag
            turning = (moment + p["mouth_m"] * aft * across) / p["booster_inertia_kg_m2"]
        streams = 0.0 if inside or not (self.fore_on or self.aft_on) else abs(speeds[2])
        flat = list(y[7:14])
        for each in gain:
            flat += [each.real, each.imag]
        return [*flat, turning, streams]

    def guided(
        self, y: Any, booster: complex, pack: complex, front: complex, moment: float
    ) -> tuple[complex, complex, float]:
        """Accelerations of booster, pack and angle with the pack on the axis of the tube.

        `booster` and `pack` are their accelerations by the air and gravity, `front` the force at
        the pack's front. Coordinates: the booster's place x and y, its angle, the pack's place.
        """
        p = self.p
        tube = cmath.rect(1.0, y[6])
        at, turn = self.way(y) + p["mouth_m"] - p["pack_length_m"], y[13]
        slip = (complex(y[11] - y[9], y[12] - y[10]) * tube.conjugate()).real
        hold = p["pack_friction_n"] * math.tanh(slip / SLIP_M_S)
        most = 0.5 * abs(slip) / (1.0 / p["booster_kg"] + 1.0 / p["gear_kg"]) / SLIDING_STEP_S
        hold = max(min(hold, most), -most)
        # how place of the pack and of its front go with each coordinate
        goes = np.array([1.0, 1j, 1j * at * tube, tube])
        front_goes = goes + np.array([0.0, 0.0, 1j * p["pack_length_m"] * tube, 0.0])
        masses = np.diag([p["booster_kg"], p["booster_kg"], p["booster_inertia_kg_m2"], 0.0])
        masses += p["gear_kg"] * (np.outer(goes.conj(), goes)).real
        swings = 2j * slip * turn * tube - at * turn**2 * tube  # with no coordinate accelerated
        forces = p["gear_kg"] * (goes.conj() * (pack - swings)).real
        forces += (front_goes.conj() * front).real
        forces[0] += p["booster_kg"] * booster.real
        forces[1] += p["booster_kg"] * booster.imag
        forces[2] += moment
        forces[3] -= hold
        if self.lies:  # it goes with the tube
            gains = np.append(np.linalg.solve(masses[:3, :3], forces[:3]), 0.0)
            self.off_n = float(forces[3] - masses[3, :3] @ gains[:3])
        else:
            gains = np.linalg.solve(masses, forces)
        of_pack = complex((goes * gains).sum()) + swings
        return complex(gains[0], gains[1]), of_pack, float(gains[2])

    def lifts_n(self, t: float, y: Any) -> float:
        """What draws a pack that lies on what it lay on away from it."""
        self.rates(t, y)
        return self.off_n

    def settled(self, y: Any) -> Any:
        """Speeds after the pack has come back to what it lay on: as one along the tube."""
        tube = cmath.rect(1.0, y[6])
        speeds = [complex(y[i], y[i + 1]) for i in (9, 11)]
        slip = min(((speeds[1] - speeds[0]) * tube.conjugate()).real, 0.0)
        whole = self.p["booster_kg"] + self.p["gear_kg"]
        speeds[0] += slip * self.p["gear_kg"] / whole * tube
        speeds[1] -= slip * self.p["booster_kg"] / whole * tube
        y = np.array(y)
        y[9:13] = speeds[0].real, speeds[0].imag, speeds[1].real, speeds[1].imag
        return y

    def events(self) -> list[Callable[[float, Any], float]]:
        """What ends a piece of the motion: only the way out of how it stands now."""
        inside = self.cleared == INF
        found: list[tuple[Callable[[float, Any], float], bool]] = []
        if inside:
            found.append((lambda t, y: self.way(y) - self.p["pack_length_m"], True))
            found.append((self.lifts_n, True) if self.lies else (lambda t, y: self.way(y), False))
        elif self.filling == INF:
            found.append((lambda t, y: y[14] - self.p["line_length_m"], True))
        for i in (0,) if inside else (0, 1):
            found.append((lambda t, y, i=i: self.cords(y)[i][0], not self.stretched[i]))
            if self.stretched[i]:
                found.append((lambda t, y, i=i: self.cords(y)[i][1], not self.pulling[i]))
        return [_beyond(each, rising) for each, rising in found]

    def note(self, t: Any, y: Any) -> None:
        """Extremes of a piece, from its samples."""
        out, free = self.out, self.filling == INF
        for at, state in zip(t, y.T):
            way = self.way(state)
            out["reach_m"] = max(out["reach_m"], way)
            if self.straight == INF and self.opened == INF and at - self.cleared >= SETTLE_S - 1e-9:
                self._gap(way)
            if self.stretched == [False, False]:
                continue
            (fore, _), (aft, along) = self.pulls(state)
            most = max(fore, aft)
            out["max_n"], out["fore_n"] = max(out["max_n"], most), max(out["fore_n"], fore)
            out["edge_n"] = max(out["edge_n"], self.edge_n(aft, along, state[6]))
            if free:
                out["snatch_n"] = max(out["snatch_n"], most)
        if free:
            out["stretch_m_s"] = abs(complex(y[11, -1], y[12, -1]))

    def _gap(self, way: float) -> None:
        gap, least = way - self.p["pack_length_m"], self.out["min_gap_m"]
        self.out["min_gap_m"] = gap if math.isnan(least) else min(gap, least)

    def change(self, t: float, y: Any) -> None:
        """Which of the conditions hold from here on: looked at a billionth of a second ahead."""
        ahead = y + 1e-9 * np.array(self.rates(t, y))
        if self.cleared == INF and self.way(ahead) >= self.p["pack_length_m"]:
            self.cleared, self.axis = t, cmath.rect(1.0, y[6])
        inside = self.cleared == INF
        cords = self.cords(ahead)
        self.stretched = [cords[0][0] > 0.0, cords[1][0] > 0.0 and not inside]
        if self.filling == INF and not inside and ahead[14] >= self.p["line_length_m"]:
            self.filling = t
            self.fill_s = (
                self.p["canopy_fill"]
                * self.p["canopy_diameter_m"]
                / max(abs(complex(y[11], y[12])), 1.0)
            )
        (fore, _), (aft, _) = self.pulls(ahead)
        self.pulling = [fore > 0.0, aft > 0.0]
        if inside:
            self._lie(t, y)
        self.fore_on, self.aft_on = self.fore_on or fore > 0.0, self.aft_on or aft > 0.0
        if self.straight == INF and self.fore_on and self.aft_on:
            self.straight = t
            if self.opened == INF:
                self._gap(self.way(y))

    def _lie(self, t: float, y: Any) -> None:
        """Whether the pack lies on what it lay on from here on."""
        tube = cmath.rect(1.0, y[6])
        slip = (complex(y[11] - y[9], y[12] - y[10]) * tube.conjugate()).real
        self.lies = abs(self.way(y)) < 1e-6 and slip < 1e-9
        self.lies = self.lies and self.lifts_n(t, y) <= 0.0

    def outcomes(self) -> dict[str, float]:
        """Run to the end."""
        t, y = 0.0, self.start()
        swing = 2.0 * math.pi * math.sqrt(self.p["booster_kg"] / self.p["aft_stiffness_n_m"])
        held = INF  # the aft cord pulls since, after the canopy is open
        self.change(t, y)
        while True:
            stops = [LONGEST_S, self.opened + HANGS_S, held + swing]
            stops += [
                at
                for at in (self.p["tumble_s"], self.filling + self.fill_s, self.cleared + SETTLE_S)
                if at > t
            ]
            until = min(stops)
            if until <= t:
                break
            run = solve_ivp(
                self.rates,
                (t, until),
                y,
                method="DOP853",
                rtol=1e-8,
                atol=1e-9,
                events=self.events(),
                dense_output=True,
                max_step=0.02,
            )
            at = np.linspace(t, run.t[-1], SAMPLES)
            self.note(at, run.sol(at))
            t, y = float(run.t[-1]), run.y[:, -1]
            if self.opened == INF and t >= self.filling + self.fill_s:
                self.opened = t
            if self.cleared == INF and not self.lies and self.way(y) <= 0.0:
                y = self.settled(y)
            self.change(t, y)
            held = min(held, t) if self.opened < INF and self.pulling[1] else INF
        return self.out | {
            "cleared_s": self.cleared,
            "straight_s": self.straight,
            "open_s": self.opened,
        }
