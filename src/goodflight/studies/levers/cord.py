"""Levers of the cord: its length, strength and width, and the edge it bears on."""

from dataclasses import replace
from typing import Any, Final

from goodflight.physics.vehicle.edges import EDGES
from goodflight.physics.vehicle.figure import Figure
from goodflight.physics.vehicle.parts import Cord
from goodflight.project.defaults import CORD_STRENGTH_SIGMA
from goodflight.quantity.said import said
from goodflight.studies.case.planned import Case, cord_of
from goodflight.studies.case.remade import with_changes, with_separation
from goodflight.studies.levers.lever import Lever, Offer, Write, numbers, once
from goodflight.studies.levers.sizes import FORCE, LONG, SPAN, THICK, stock

STRONGER: Final = (1.25, 1.5, 2.0, 2.5, 3.0, 4.0)
# widths webbing is sold in; common practice, no source
WIDE_MM: Final = (16.0, 20.0, 25.0, 32.0, 38.0, 50.0)
WIDE_IN: Final = (5 / 8, 3 / 4, 1.0, 1.25, 1.5, 2.0)


def _path(cord: Cord, key: str) -> str:
    return f"rocket.toml:part[{cord.name}].{key}"


def _with_cord(case: Case, **changes: Any) -> Case:
    cord = cord_of(case)
    return case if cord is None else with_changes(case, cord, **changes)


def longer(base: Case, cord: Cord, length_m: float) -> tuple[dict[str, float], tuple[Write, ...]]:
    """Fields of a cord of another length, which packs longer in proportion, and what is written."""
    changes, writes = {"length_m": length_m}, [(_path(cord, "length"), LONG.text(base, length_m))]
    if cord.packed_length_m > 0.0:
        packed_m = SPAN.near(base, cord.packed_length_m * length_m / cord.length_m)
        changes["packed_length_m"] = packed_m
        writes.append((_path(cord, "stowed_length"), SPAN.text(base, packed_m)))
    return changes, tuple(writes)


def _length(base: Case, _now: Case) -> Offer | None:
    cord = cord_of(base)
    if cord is None or cord.length_m <= 0.0:
        return None
    return numbers(
        cord.length_m,
        LONG.between(base, 2.0, 15.0),
        lambda case, length_m: _with_cord(case, **longer(base, cord, length_m)[0]),
        lambda length_m: longer(base, cord, length_m)[1],
        lambda length_m: said("use {length} of cord", length=(length_m, "length")),
    )


def _strength(base: Case, _now: Case) -> Offer | None:
    return strength_of(base, cord_of(base), "use a cord that breaks at {force}")


def strength_of(base: Case, cord: Cord | None, words: str) -> Offer | None:
    """A stronger cord in place of one; `words` say so with {force}."""
    if cord is None or cord.strength_n <= 0.0:
        return None
    values = [FORCE.near(base, factor * cord.strength_n) for factor in STRONGER]

    def make(case: Case, strength_n: float) -> Case:
        parts = tuple(
            replace(part, strength_n=strength_n, strength_sigma=CORD_STRENGTH_SIGMA)
            if isinstance(part, Cord) and part.name == cord.name
            else part
            for part in case.rocket.parts
        )
        known = {**case.origin.known, _path(cord, "strength"): "guess"}  # not pulled yet
        return replace(
            case,
            rocket=replace(case.rocket, parts=parts),
            origin=replace(case.origin, known=known),
        )

    return numbers(
        cord.strength_n,
        values,
        make=make,
        writes=lambda newton: ((_path(cord, "strength"), FORCE.text(base, newton)),),
        title=lambda newton: said(words, force=(newton, "force")),
        towards="up",
    )


def _width(base: Case, _now: Case) -> Offer | None:
    """A wider cord where it bears on the tube's edge."""
    cord = cord_of(base)
    if cord is None or not cord.width_m > 0.0:
        return None
    sold = stock(base, WIDE_MM, WIDE_IN)
    values = [width_m for width_m in sold if width_m > cord.width_m + 1e-6]
    return numbers(
        cord.width_m,
        values,
        make=lambda case, width_m: _with_cord(case, width_m=width_m),
        writes=lambda width_m: ((_path(cord, "width"), THICK.text(base, width_m)),),
        title=lambda width_m: said(
            "fit a {width} wide zipper guard on the cord where it bears on the edge, or use "
            "webbing of that width",
            width=(width_m, "length"),
        ),
        towards="up",
    )


def _edge(base: Case, _now: Case) -> Offer | None:
    lined, now = EDGES["kraft_lined"], base.rocket.separation.edge_strength_pa
    if now is None or now.value >= lined.strength_pa:
        return None
    sigma = lined.sigma * lined.strength_pa
    figure = replace(now, value=lined.strength_pa, sigma=sigma, known="guess")

    def make(case: Case) -> Case:
        return with_separation(case, edge_strength_pa=figure, edge="kraft_lined")

    title = said("glue a ring of coupler tube into the tube's edge")
    return once(title, make, _edge_write(now), name="lined")


def _edge_write(now: Figure) -> Write:
    """A stated strength goes before the kind of edge, so it is what has to be written."""
    if now.by_kind:
        return now.path, "kraft_lined"
    return now.path, f"{EDGES['kraft_lined'].strength_pa / 1e6:g} MPa"


LEVERS: Final = (
    Lever(
        "cord",
        "length of the cord",
        dimension="length",
        cost="purchase",
        offer=_length,
        note="it packs longer too",
        helps=(
            "snatch_cord",
            "snatch_anchor",
            "zipper",
            "booster_overtakes",
            "canopy_stays",
            "gear_fits",
            "nose_by_fins",
        ),
        as_planned=True,
        slider=True,
        touches=("gear_fits", "booster_overtakes"),
    ),
    Lever(
        "cord_strength",
        "strength of the cord",
        dimension="force",
        cost="purchase",
        offer=_strength,
        note=("enter its mass, width and packed length too"),
        helps=("snatch_cord", "opening_cord"),
        flies=False,
        touches=("gear_fits",),
    ),
    Lever(
        "cord_width",
        "width of the cord at the tube's edge",
        dimension="length",
        cost="purchase",
        offer=_width,
        note="of webbing enter strength, mass and packed length too",
        helps=("zipper",),
        flies=False,
        touches=("gear_fits",),
    ),
    Lever(
        "edge",
        "lined tube edge",
        dimension="",
        cost="evening",
        offer=_edge,
        note="check that the coupler still goes in far enough",
        helps=("zipper",),
        flies=False,
    ),
)
