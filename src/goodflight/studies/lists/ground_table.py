"""The ground tests: what each has to reach, how it is set up, where its reading is entered.

How to set them up is common practice, no source.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from goodflight.constants import STANDARD_GRAVITY_M_S2
from goodflight.physics.recovery.packing import section_m2
from goodflight.physics.vehicle.parts import Tube
from goodflight.quantity.said import Said, said
from goodflight.studies.case.planned import fins_of
from goodflight.studies.evidence.reply import NOTHING
from goodflight.studies.evidence.seen import Seen
from goodflight.studies.judging.chance import MARGINAL_ABOVE
from goodflight.studies.lists.facts import facts_of
from goodflight.studies.results import Row
from goodflight.studies.rows import Evaluation, Missing
from goodflight.studies.rows.applies import point
from goodflight.studies.rows.separation import stands_charge
from goodflight.studies.sampling.structure import crush_of

SURE: Final = 95.0  # per cent of the flights that ask no more
ENOUGH: Final = 100.0 * (1.0 - MARGINAL_ABOVE)


@dataclass(frozen=True)
class Figures:
    """What a test of this rocket has to reach."""

    reach: Said
    beside: Said = NOTHING
    of: tuple[str, ...] = ()  # rows that it stands on; empty: all that are declared


@dataclass(frozen=True)
class Declared:
    """A test before it is asked of a rocket.

    figures : what it has to reach, from rows whose figures are all known. write : figures of
    `weigh --of`; {canopy} stands for the canopy's name.
    """

    key: str
    title: str
    rows: tuple[str, ...]  # those known go to `figures`
    figures: Callable[[Seen, tuple[Row, ...]], Figures | None]
    how: str
    write: tuple[str, ...] = ()
    over: str = ""
    reads: int = 1
    unit: str = "force"
    caution: str = ""
    unasked: bool = False  # figures are there though no row is known


def _scale(row: Row | Evaluation) -> float:
    """By how much the capacity of every flight has to grow so that one in a hundred fails."""
    return point(np.asarray(row.demand / row.capacity), ENOUGH)


def _of_force(**forces: float) -> dict[str, tuple[float, str]]:
    """Forces as figures, each also as the weight that pulls as much (`NAME_kg`)."""
    found = {name: (force, "force") for name, force in forces.items()}
    weights = {f"{name}_kg": (at / STANDARD_GRAVITY_M_S2, "mass") for name, at in forces.items()}
    return found | weights


BESIDE: Final = "95 in 100 flights ask {asked} at most; taken today {taken}"


def _strength(seen: Seen, rows: Sequence[Row | Evaluation]) -> Figures | None:
    """A load that a copy holds: of the row that asks most of it; None: nothing asks anything."""
    row = max(rows, key=_scale)
    if not _scale(row) > 0.0:
        return None
    taken = seen.median(row.capacity)
    return _loads(_scale(row) * taken, max(point(each.demand, SURE) for each in rows), taken)


def _loads(reach_n: float, asked_n: float, taken_n: float) -> Figures:
    return Figures(
        said("holds {reach} ({reach_kg}) or more", **_of_force(reach=reach_n)),
        said(BESIDE, asked=(asked_n, "force"), taken=(taken_n, "force")),
    )


def _charged(seen: Seen) -> tuple[Evaluation | None, Evaluation | None]:
    """What the charge asks of the bulkhead and of the joint, in the flights that eject."""
    found = stands_charge(seen.view)
    if isinstance(found, Missing):
        return None, None
    pushed, pulled = found
    return _in_flights(pushed), None if isinstance(pulled, Missing) else _in_flights(pulled)


def _in_flights(asked: Evaluation | None) -> Evaluation | None:
    if asked is None or asked.applies is None:
        return asked
    return replace(asked, demand=np.where(asked.applies, asked.demand, np.nan))


def _bulkhead(seen: Seen, rows: tuple[Row, ...]) -> Figures | None:
    """Of the row's two strengths the bulkhead's, known or not what the joint has to hold."""
    pushed, _ = _charged(seen)
    return None if pushed is None else _strength(seen, (pushed,))


def _fixed(seen: Seen, rows: tuple[Row, ...]) -> Figures | None:
    """A joint that a cord jerks at, and that the gas pulls at where it stands on the nose."""
    loads: dict[str, Row | Evaluation] = {}
    for row in rows:
        load = _charged(seen)[1] if row.key == "charge_strong" else row
        if load is not None:
            loads[row.key] = load
    figures = _strength(seen, tuple(loads.values())) if loads else None
    return figures and replace(figures, of=tuple(loads))


def _proof(seen: Seen, rows: tuple[Row, ...]) -> Figures:
    """What the rocket itself is loaded with: what a flight asks."""
    asked = max(point(row.demand, SURE) for row in rows)
    return Figures(said("stands {asked} ({asked_kg})", **_of_force(asked=asked)))


def _at_tip(seen: Seen, rows: tuple[Row, ...]) -> Figures | None:
    """A push at the tip of a fin that bends its root as a flight does."""
    fins = fins_of(seen.case.rocket)
    if fins is None:
        return None
    asked = max(point(row.demand, SURE) for row in rows) / max(out for _, out in fins.outline_m)
    return Figures(said("stands {asked} ({asked_kg}) at the tip", **_of_force(asked=asked)))


def _ring(seen: Seen, rows: tuple[Row, ...]) -> Figures | None:
    """A load on a ring of the last tube."""
    tubes = list(seen.case.rocket.of_kind(Tube))
    pressure = crush_of(seen.case)
    if not tubes or pressure is None:
        return None
    last = max(tubes, key=lambda tube: tube.station_m)
    wall = section_m2(last.outer_diameter_m) - section_m2(last.inner_diameter_m)
    reach = max(_scale(row) for row in rows) * pressure * wall
    return Figures(
        said("holds {reach} ({reach_kg}) or more", **_of_force(reach=reach)),
        said(
            "the last tube's wall is {wall}; taken today {taken}",
            wall=(wall, "area"),
            taken=(pressure * wall, "force"),
        ),
    )


def _pull(seen: Seen, rows: tuple[Row, ...]) -> Figures | None:
    """The window of the pull to separate."""
    window = seen.window
    if window.min_n is None or window.max_n is None:
        return None
    forces = _of_force(least=window.min_n, most=window.max_n)
    now = window.measured_n
    return Figures(
        said("parts between {least} ({least_kg}) and {most} ({most_kg})", **forces),
        NOTHING if now is None else said("measured so far {now}", now=(now, "force")),
    )


def _pack(seen: Seen, rows: tuple[Row, ...]) -> Figures:
    return Figures(said("slides out by its own weight; if not, read the pull that draws it"))


def _battery(seen: Seen, rows: tuple[Row, ...]) -> Figures:
    asked = max(point(row.demand, SURE) for row in rows)
    taken = min(seen.median(row.capacity) for row in rows)
    return Figures(
        said("still runs after {asked}", asked=(asked, "time")),
        said("taken today, in the cold of the day: {taken}", taken=(taken, "time")),
    )


def _drop(seen: Seen, rows: tuple[Row, ...]) -> Figures:
    """How slowly the canopy has to come down with what hangs at landing."""
    speed = max(_scale(row) for row in rows)
    now = seen.band("descent_m_s").middle
    hung = seen.median(seen.view.parameter("dry_mass_kg"))
    return Figures(
        said("comes down at {speed} or less", speed=(now / speed, "speed")),
        said("{hung} hung; taken today {now}", hung=(hung, "mass"), now=(now, "speed")),
    )


def _charge(seen: Seen, rows: tuple[Row, ...]) -> Figures | None:
    """What the charge has to do: part the rocket whole, with what it pushes at least."""
    shut = next((row for row in rows if row.key == "separation_shut"), None)
    if shut is None:
        return None
    powder = "the motor's own charge" if facts_of(seen.case)["delay"] else "your charge"
    return Figures(
        said("parts the whole way, the pack comes out, nothing is torn or thrown off"),
        said(
            f"{powder} pushes with {{push}} or more in 95 of 100, against a pull of {{pull}}",
            push=(point(shut.demand, 100.0 - SURE), "force"),
            pull=(seen.median(shut.capacity), "force"),
        ),
    )


DECLARED: Final = (
    Declared(
        "pull",
        "Pull it apart",
        rows=("separation_window", "drag_separation", "separation_shut", "swollen_shut"),
        figures=_pull,
        how="Packed, tape or pins as flown, vents open. "
        "One holds the rear, a luggage scale on the "
        "forward part's anchor pulls along the axis "
        "until it moves; the highest figure counts. "
        "Again on the field: damp and sun change it.",
        write=("separation.pull",),
        reads=5,
    ),
    Declared(
        "handled",
        "Shake it",
        rows=("separation_handled",),
        figures=_proof,
        how="Held by the nose, the rest hanging, a bag "
        "of water on the tail brings the load to the "
        "figure. Nothing parts. Then shake it at the ear: ballast, sled and cells do not move.",
        unit="",
    ),
    Declared(
        "pack",
        "Tip the pack out",
        rows=("canopy_stays",),
        figures=_pack,
        how="The packed tube is turned over after an hour. "
        "What does not slide out is drawn out with "
        "a luggage scale on its cord.",
        write=("charge.pack_pull",),
        reads=3,
    ),
    Declared(
        "knots",
        "Cord with its knots",
        rows=("snatch_cord", "opening_cord", "main_cord"),
        figures=_strength,
        how="A piece of the same cord with the same "
        "knots or loops at both ends, over a beam, loaded "
        "until it breaks or holds the figure.",
        write=("knot",),
        reads=3,
    ),
    Declared(
        "anchors",
        "Anchors of the cord",
        rows=("snatch_anchor", "main_anchor"),
        figures=_strength,
        how="A copy of each: the same bolt or eye, plate "
        "and glue on a scrap of the same tube, cured "
        "as the rocket was. Loaded along the tube.",
        write=("separation.fore_anchor", "separation.aft_anchor"),
        reads=2,
    ),
    Declared(
        "bulkhead",
        "Bulkhead ahead of the bay",
        rows=("charge_strong",),
        figures=_bulkhead,
        how="A copy glued into a scrap of tube, "
        "stood on bathroom scales, pushed with a block that "
        "fits the bore.",
        write=("separation.bulkhead",),
        reads=2,
        unasked=True,
    ),
    Declared(
        "fixed",
        "Joint that must stay",
        rows=("nose_jerked", "charge_strong"),
        figures=_fixed,
        how="The joint with its screws or rivets in a scrap, hung, loaded along the axis.",
        write=("separation.fixed_joint",),
        reads=2,
    ),
    Declared(
        "edge",
        "Edge of the tube",
        rows=("zipper",),
        figures=_strength,
        how="An offcut of the same tube, its edge as "
        "flown (guard, glue). A loop of the same cord "
        "over the edge, loaded until it tears in. Enter it over cord width x wall.",
        write=("separation.edge_strength",),
        over=" --over AREA",
        reads=3,
    ),
    Declared(
        "retainer",
        "What holds the motor",
        rows=("motor_pushed_out",),
        figures=_strength,
        how="An empty case in the motor tube, the "
        "rocket nose up over bathroom scales, the case "
        "pushed out against its retainer.",
        write=("retention.holds",),
        reads=2,
    ),
    Declared(
        "guides",
        "Rail guides",
        rows=("guides",),
        figures=_strength,
        how="A guide screwed or glued to a scrap of tube as on the rocket, loaded sideways.",
        write=("guide_strength",),
        reads=2,
    ),
    Declared(
        "fins",
        "Push every fin",
        rows=("fin_root", "fin_bond"),
        figures=_at_tip,
        how="The rocket lies on its side in foam, a bag "
        "of water hung from the tip of one fin that "
        "stands out level. No crack in fillet or skin, nothing gives. The same with each.",
        unit="",
    ),
    Declared(
        "ring",
        "Crush a ring of the tube",
        rows=("tail_strike", "nose_strike"),
        figures=_ring,
        how="A ring as tall as it is wide, "
        "ends square, between two boards on bathroom scales, loaded "
        "with a lever until it folds.",
        write=("crush",),
        over=" --over AREA",
        reads=3,
    ),
    Declared(
        "battery",
        "Run the electronics",
        rows=("battery", "battery_reserve"),
        figures=_battery,
        how="All devices on, cells as flown, fully charged, "
        "in the refrigerator or on a cold sill, a "
        "clock beside them. Enter the time as run_time of the device in rocket.toml.",
        unit="min",
        caution="cells",
    ),
    Declared(
        "drop",
        "Drop the canopy",
        rows=("landing_speed",),
        figures=_drop,
        how="With the landing mass hung below, from "
        "a height where nobody stands under it, filmed. "
        "The last stretch, once it is open, is timed.",
        write=("part[{canopy}].drag_coefficient",),
        over=" --hung MASS --height LENGTH",
        reads=3,
        unit="s",
    ),
    Declared(
        "charge",
        "Fire the charge on the ground",
        rows=("separation_shut", "charge_strong"),
        figures=_charge,
        how="Only where the law, the site and "
        "your own permission allow it, outdoors, by somebody "
        "who has done it, from the distance that "
        "the local code names. Packed as flown, pulled "
        "first (above), empty case in place of the "
        "motor. Nobody in line with nose or tail. A "
        "motor is never fired for it: what its "
        "maker's sheet does not allow is not tried. After "
        "a misfire wait as at the pad.",
        unit="",
        caution="powder",
    ),
)
