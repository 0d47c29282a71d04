"""A flight after its ejection as the steps of its motion know it: constants, state, and forces.

Eight flights stand side by side in one array: a place of a flight is its number here plus its lane.
"""

import math
from typing import Any, Final

import numpy as np

from goodflight.physics.flight.compiled import compiled_inside

LANES: Final = 8  # flights side by side
# Gauss's three stations of a length, from its middle over the half of it, and their weights
_STATIONS, _WEIGHTS = (-math.sqrt(0.6), 0.0, math.sqrt(0.6)), (5.0 / 18.0, 8.0 / 18.0, 5.0 / 18.0)
SLACK_STEP_S: Final = 0.01  # the longest step
OFF: Final = 0.2  # late by so much over 1/omega a cord may become tight
# arc cosine over sqrt(1 - x), within 2e-8 [hastings1955]
_A0, _A1, _A2, _A3 = 1.5707963050, -0.2145988016, 0.0889789874, -0.0501743046
_A4, _A5, _A6, _A7 = 0.0308918810, -0.0170881256, 0.0066700901, -0.0012624911

# columns of a flight's figures, in the order of PARTING_INPUTS
(
    _NOSE_KG, _BOOSTER_KG, _GEAR_KG, _SPEED, _CLIMB, _AXIS, _TURN, _PARTING, _RIDES,
    _NOSE_START, _NOSE_WIDE, _BOOSTER_START, _BOOSTER_WIDE, _GEAR_M2, _TUMBLE_S,
    FRICTION_N, _PACK_M, _FORE_M, _AFT_M, _FORE_K, _AFT_K, _DAMPING,
    _LINES_M, _CANOPY_M2, _CANOPY_M, _FILL, _GROWTH, _DENSITY, _GRAVITY,
    _MOUTH_M, _INERTIA, _TUBE_M, _TUBE_M2, _FINS_M, _FINS_M2, _LIFT_M2, _MU,
) = range(37)  # fmt: skip

# what a flight is while it is under way; each place stands once for each lane, side by side
(
    # places, speeds and accelerations by the air; of nose, booster and pack, along and across
    NX, NY, BX, BY, PX, PY, NVX, NVY, BVX, BVY, PVX, PVY, NAX, NAY, BAX, BAY, PAX, PAY,
    UX, UY, OX, OY, QX, QY, SPIN,  # speeds foretold at the end of a step
    TUBE_X, TUBE_Y, TURN, TURNING,  # direction of the tube, rate and acceleration of its turning
    NOW, STEP, FORE_ON, AFT_ON, FORE_NOW, AFT_NOW,  # has been tight; longer than at rest now
    FORE_PULL, AFT_PULL,  # at the end of the last step
    STREAMED, FILLING, PER_FILL, OPENED, STRAIGHT, HANGING, CLEARED,
    REACH, GAP, SNATCH, MOST, EDGE, STRETCH, FORE, OVER,  # what it has come to
    AXIS_X, AXIS_Y, DOWN_X, DOWN_Y, LIGHT_N, LIGHT_B, LIGHT_P,  # one over a mass
    AIR_N0, AIR_N1, AIR_B0, AIR_B1, AIR_P0, AIR_P1, PER_TUMBLE,  # 1/2 rho Cd S / m
    REST1, K1, C1, REST2, K2, C2, SLOW1, SLOW2, SLOW12, SLOW_IN,  # of the cords; 1 over omega
    PACK, MOUTH, PER_INERTIA, RUB, LINES, FILL_M, POWER, SWING,
    STATION1, STATION2, STATION3, FELT1, FELT2, FELT3, FINS, FLAT, LIFT, VEER, SLOWS, FARTHEST,
    PLACES,
) = range(0, 97 * LANES, LANES)  # fmt: skip


@compiled_inside
def slow_s(stiff: float, damped: float) -> float:
    """1 over the frequency of a cord, or over what its damping takes of a speed: the shorter."""
    return 1.0 / max(math.sqrt(stiff), damped)


@compiled_inside
def _begin_cords(p: Any, w: Any, n: int) -> None:
    """Lengths, stiffness and damping of the cords, and how quick what they pull at makes them."""
    nose, booster, gear = p[_NOSE_KG], p[_BOOSTER_KG], p[_GEAR_KG]
    w[REST1 + n], w[K1 + n], w[K2 + n] = p[_FORE_M], p[_FORE_K], p[_AFT_K]
    w[REST2 + n] = max(p[_AFT_M] - p[_PACK_M], 0.05 * p[_AFT_M])  # the rest lies in the tube
    w[C1 + n] = 2.0 * p[_DAMPING] * math.sqrt(p[_FORE_K] * nose * gear / (nose + gear))
    w[C2 + n] = 2.0 * p[_DAMPING] * math.sqrt(p[_AFT_K] * booster * gear / (booster + gear))
    sideways = 1.0 / booster + p[_MOUTH_M] ** 2 / p[_INERTIA]  # the mouth gives more easily
    fore, aft = 1.0 / nose + 1.0 / gear, 1.0 / gear + sideways
    w[SLOW1 + n] = slow_s(fore * p[_FORE_K], fore * w[C1 + n])
    w[SLOW2 + n] = slow_s(aft * p[_AFT_K], aft * w[C2 + n])
    w[SLOW12 + n] = slow_s(fore * p[_FORE_K] + aft * p[_AFT_K], fore * w[C1 + n] + aft * w[C2 + n])
    fore += p[_PACK_M] ** 2 / p[_INERTIA]  # in the tube the pack's front goes with it
    w[SLOW_IN + n] = slow_s(fore * p[_FORE_K], fore * w[C1 + n])


@compiled_inside
def _begin_air(p: Any, w: Any, n: int) -> None:
    """What the air does to a booster that turns."""
    air = 0.5 * p[_DENSITY]
    for place, felt, at, weight in (
        (STATION1, FELT1, _STATIONS[0], _WEIGHTS[0]),
        (STATION2, FELT2, _STATIONS[1], _WEIGHTS[1]),
        (STATION3, FELT3, _STATIONS[2], _WEIGHTS[2]),
    ):
        ahead = p[_MOUTH_M] - 0.5 * p[_TUBE_M] * (1.0 - at)
        w[place + n], w[felt + n] = ahead, air * ahead * weight * p[_TUBE_M2] / p[_INERTIA]
    w[FINS + n] = p[_FINS_M]
    w[FLAT + n] = air * p[_FINS_M] * p[_FINS_M2] / p[_INERTIA]
    w[LIFT + n] = air * p[_FINS_M] * p[_LIFT_M2] / p[_INERTIA]
    turned = abs(w[FELT1 + n]) + abs(w[FELT2 + n]) + abs(w[FELT3 + n])
    w[VEER + n] = math.sqrt(abs(w[LIFT + n]) + abs(w[FLAT + n]) + turned)  # a speed's swing
    slows = abs(w[FINS + n]) * (abs(w[LIFT + n]) + 2.0 * abs(w[FLAT + n]))
    farthest = abs(w[FINS + n])
    for place, felt in ((STATION1, FELT1), (STATION2, FELT2), (STATION3, FELT3)):
        slows += 2.0 * abs(w[place + n] * w[felt + n])
        farthest = max(farthest, abs(w[place + n]))
    w[SLOWS + n], w[FARTHEST + n] = slows, farthest  # how fast a speed uses up the turning


@compiled_inside
def begin_lane(p: Any, w: Any, n: int) -> None:
    """A lane's constants; momentum along the path stays as it was, the pack rides or lies still."""
    for place in range(0, PLACES, LANES):
        w[place + n] = 0.0
    w[CLEARED + n] = w[FILLING + n] = w[OPENED + n] = w[STRAIGHT + n] = w[GAP + n] = np.inf
    nose, booster, gear, air = p[_NOSE_KG], p[_BOOSTER_KG], p[_GEAR_KG], 0.5 * p[_DENSITY]
    ax, ay = math.cos(p[_AXIS]), math.sin(p[_AXIS])
    w[AXIS_X + n] = w[TUBE_X + n] = ax
    w[AXIS_Y + n] = w[TUBE_Y + n] = ay
    w[DOWN_X + n], w[DOWN_Y + n] = (
        -p[_GRAVITY] * math.sin(p[_CLIMB]),
        -p[_GRAVITY] * math.cos(p[_CLIMB]),
    )
    w[LIGHT_N + n], w[LIGHT_B + n], w[LIGHT_P + n] = 1.0 / nose, 1.0 / booster, 1.0 / gear
    w[AIR_N0 + n] = air * p[_NOSE_START] / nose
    w[AIR_N1 + n] = air * (p[_NOSE_WIDE] - p[_NOSE_START]) / nose
    w[AIR_B0 + n] = air * p[_BOOSTER_START] / booster
    w[AIR_B1 + n] = air * (p[_BOOSTER_WIDE] - p[_BOOSTER_START]) / booster
    w[AIR_P0 + n], w[AIR_P1 + n] = air * p[_GEAR_M2] / gear, air * p[_CANOPY_M2] / gear
    w[PER_TUMBLE + n], w[PER_FILL + n] = 1.0 / p[_TUMBLE_S], 1.0
    _begin_cords(p, w, n)
    _begin_air(p, w, n)
    w[PACK + n], w[MOUTH + n] = p[_PACK_M], p[_MOUTH_M]
    w[PER_INERTIA + n], w[RUB + n], w[LINES + n] = 1.0 / p[_INERTIA], p[_MU], p[_LINES_M]
    w[FILL_M + n], w[POWER + n] = p[_FILL] * p[_CANOPY_M], p[_GROWTH]
    w[SWING + n] = 2.0 * math.pi * math.sqrt(booster / p[_AFT_K])
    share = (nose + gear * p[_RIDES]) / (nose + booster + gear)
    back, ahead = -p[_PARTING] * share, p[_PARTING] * (1.0 - share)
    w[TURN + n] = p[_TURN]
    for x, vx, extra in (
        (NX, NVX, ahead),
        (BX, BVX, back),
        (PX, PVX, ahead if p[_RIDES] > 0.5 else back),
    ):
        off = 0.0 if x == BX else p[_MOUTH_M] - (0.0 if x == NX else p[_PACK_M])
        w[x + n], w[x + LANES + n] = off * ax, off * ay
        w[vx + n], w[vx + LANES + n] = p[_SPEED] + extra * ax, extra * ay
    turned_m_s = p[_TURN] * (p[_MOUTH_M] - p[_PACK_M])  # pack and booster turn about both's CG
    for vx, part in ((BVX, -gear / (booster + gear)), (PVX, booster / (booster + gear))):
        w[vx + n] -= part * turned_m_s * ay
        w[vx + LANES + n] += part * turned_m_s * ax


@compiled_inside
def cut_pull(pull: float, stretch: float) -> float:
    """A cord never pushes, and does not pull when slack."""
    pull = pull if pull > 0.0 else 0.0
    return pull if stretch > 0.0 else 0.0


@compiled_inside
def cord_pull(dx: float, dy: float, vx: float, vy: float, rest: float, k: float, c: float) -> Any:
    """Of a cord whose ends are so far apart and leave each other so: pull, direction, stretch,
    how fast it grows, when it would be tight at that speed, and that speed."""
    length = math.sqrt(dx * dx + dy * dy) + 1e-12
    ux, uy = dx / length, dy / length
    stretch, grows = length - rest, vx * ux + vy * uy
    pull = cut_pull(k * stretch + c * grows, stretch)
    square = vx * vx + vy * vy + 1e-9
    closing = dx * vx + dy * vy
    root = closing * closing - square * (stretch * (length + rest))
    tight_s = (math.sqrt(root if root > 0.0 else 0.0) - closing) / square
    return pull, ux, uy, stretch, grows, tight_s, math.sqrt(square)


@compiled_inside
def before_s(tight_s: float, bends: float, slow: float, speed: float) -> float:
    """Step towards a cord about to be tight whose end goes round a bend, with so much acceleration:
    the less of the way there, the farther off a straight line would lead it."""
    soon = tight_s if tight_s < SLACK_STEP_S else SLACK_STEP_S
    off = bends * soon * soon / (OFF * slow * speed)
    return soon / (1.0 + off)


@compiled_inside
def missed_pull(w: Any, n: int, pull: float, k: float, stretch: float, grows: float) -> float:
    """What a whole half kick gives too much for a cord that became tight in this step: it has
    pulled for the last part of it only, growing from its damping to what it is. As a pull."""
    since = stretch / (grows if grows > 1e-3 else 1e-3)
    dt = w[STEP + n]
    since = since if since < dt else dt
    return pull - (since * (2.0 * pull - k * stretch) / dt if stretch > 0.0 and dt > 0.0 else 0.0)


@compiled_inside
def held_pull(w: Any, n: int, was: float, full: float, damping: float, light: float) -> float:
    """Pull of a tight cord at the end of a step that began with `was`, below nothing where it has
    let go: damped by the speed it leaves there, the foretold one less h/2 (it - was) / m.

    full : by the speed foretold. light : one over the mass m that its ends come to.
    """
    gives = 0.5 * w[STEP + n] * damping * light
    pull: float = (full + gives * was) / (1.0 + gives)
    return pull


@compiled_inside
def late_pull(was: float, ends: float) -> float:
    """What the first half kick of a step gives too much for a cord that lets go in it: from `was`
    in a straight line to `ends` below nothing it has pulled for was / (was - ends) of the step.
    As a pull of the other half."""
    below = -ends if ends < 0.0 else 0.0
    whole = was + below
    return was * below / (whole if whole > 0.0 else 1.0)


@compiled_inside
def edge_share(cosine: float, rub: float) -> float:
    """Push of a cord into the edge it bends over, by its pull: exp(-mu a) - cos a."""
    side = cosine if cosine < 1.0 else 1.0
    side = side if side > -1.0 else -1.0
    x = side if side > 0.0 else -side
    a = _A0 + x * (_A1 + x * (_A2 + x * (_A3 + x * (_A4 + x * (_A5 + x * (_A6 + x * _A7))))))
    a *= math.sqrt(1.0 - x)
    a = a if side >= 0.0 else math.pi - a
    e = -rub * a / 16.0  # exp of a sixteenth by its series, to the sixteenth power
    part = 1.0 + e * (1.0 + e / 2.0 * (1.0 + e / 3.0 * (1.0 + e / 4.0 * (1.0 + e / 5.0))))
    part *= part
    part *= part
    part *= part
    part *= part
    return part - side if part > side else 0.0


@compiled_inside
def air_turn(w: Any, n: int) -> float:
    """Turning that the air gives the booster: cross-flow along its tube, lift and plate of fins."""
    ax, ay, turn, vx, vy = w[TUBE_X + n], w[TUBE_Y + n], w[SPIN + n], w[OX + n], w[OY + n]
    along, across = vx * ax + vy * ay, vy * ax - vx * ay
    one = across + turn * w[STATION1 + n]
    two = across + turn * w[STATION2 + n]
    three = across + turn * w[STATION3 + n]
    fins = across - turn * w[FINS + n]
    felt: float = (w[FLAT + n] * abs(fins) + w[LIFT + n] * abs(along)) * fins
    felt -= w[FELT1 + n] * abs(one) * one + w[FELT2 + n] * abs(two) * two
    felt -= w[FELT3 + n] * abs(three) * three
    return felt
