"""Rows of guides and rail: whether they fit, and whether they stick."""

from typing import Final, get_args

import numpy as np

from goodflight.physics.sources import Constant
from goodflight.physics.structure.rail_fit import (
    CLEAR_M,
    HELD_M,
    SLIDES_M,
    Guide,
    Play,
    Slot,
    fin_play,
    lug_plays,
    slot_plays,
    sticking_reach_m,
)
from goodflight.physics.vehicle import rail_guide_angle_rad
from goodflight.physics.vehicle.fins import fin_angles_rad, root_chord_m
from goodflight.physics.vehicle.parts import Buttons, Fins
from goodflight.physics.vehicle.profile import outer_profile
from goodflight.physics.vehicle.vents import apart_rad
from goodflight.project.flight_files import FieldSays
from goodflight.project.rails import ROD, WIDTHS_M, RailKind
from goodflight.quantity import Quantity
from goodflight.quantity.said import Words, literal, said
from goodflight.studies.asking import asked, choice, entry, to_add
from goodflight.studies.case.planned import guides_of
from goodflight.studies.results import Entry
from goodflight.studies.rows.model import Array, Evaluation, LimitState, Missing, View, full
from goodflight.studies.sampling import rail

NO_GUIDES = asked("add the rail guides", to_add("buttons", "rail guides", "their two stations"))
PAINT_M = 0.0001  # what a body stands out by without counting as wider
_KINDS = get_args(RailKind)
_RAIL: Final = {
    "rail_slot": "opening of the slot, between its lips",
    "rail_lips": "thickness of the lips",
    "rail_inside": "width of the slot behind the lips",
    "rail_depth": "depth of the slot from the face",
}
_GUIDE: Final = {
    "neck": "width of the guide's neck, between the lips",
    "head": "width of its head, behind the lips",
    "head_height": "height of its head",
    "height": "its whole height above the body",
}


def _bulge_m(view: View, guides: Buttons) -> float:
    """How far the body stands out beyond where the guides are [m]."""
    body = outer_profile(view.case.rocket)
    stands_out = 0.5 * body.reference_diameter_m - _radius_m(view, guides)
    return stands_out if stands_out > PAINT_M else 0.0


def _radius_m(view: View, guides: Buttons) -> float:
    """Of the body where it is narrower of the two guides' places [m]."""
    body = outer_profile(view.case.rocket)
    at = np.interp((guides.station_m, guides.aft_station_m), body.stations_m, body.radii_m)
    return float(np.min(at))


def _fin_plays(view: View, guides: Buttons, off_m: float, wide_m: float) -> tuple[Play, ...]:
    """Room of the fins nearest to the rail, of each set."""
    body = outer_profile(view.case.rocket)
    sets = list(view.case.rocket.of_kind(Fins))
    line, base = rail_guide_angle_rad(sets), _radius_m(view, guides)
    found = []
    for fins in sets:
        middle = fins.station_m + 0.5 * root_chord_m(fins)
        radius = float(np.interp(middle, body.stations_m, body.radii_m))
        apart = min(apart_rad(line, float(angle)) for angle in fin_angles_rad(fins))
        off = max(off_m + base - radius, 0.0)
        span = max(outward for _, outward in fins.outline_m)
        found.append(
            fin_play(
                apart,
                radius_m=radius,
                span_m=span,
                thickness_m=fins.thickness_m,
                off_m=off,
                wide_m=wide_m,
            )
        )
    return tuple(each for each in found if each is not None)


def _measured(view: View, guides: Buttons) -> tuple[Guide, Slot] | None:
    """Sizes of guide and slot, None unless all are told."""
    says = view.case.field_says
    told = [each.value for each in _slot(says) if each is not None]
    own = [each for each in _sizes(guides) if each is not None]
    return (Guide(*own), Slot(*told)) if len(told) == len(own) == 4 else None


def _slot(says: FieldSays) -> tuple[Quantity | None, ...]:
    """The rail's sizes, in the order of `_RAIL`."""
    return says.rail_slot, says.rail_lips, says.rail_inside, says.rail_depth


def _sizes(guides: Buttons) -> tuple[float | None, ...]:
    """The guides' own sizes, in the order of `_GUIDE` [m]."""
    return guides.neck_m, guides.head_m, guides.head_height_m, guides.told_height_m


def _asks(view: View, guides: Buttons) -> Missing:
    """What is not told: both kinds, or in place of them both sets of sizes."""
    says, at = view.case.field_says, f"rocket.toml:part[{guides.name}]"
    lug = guides.bore_m is not None
    kinds = [(each, each) for each in _KINDS]
    found: list[Entry] = []
    if says.rail_kind is None:
        home = f"{view.case.origin.site_path}:rail_kind"
        found.append(choice(home, "kind of the field's rails", "ask who brings the rails", kinds))
    if not lug and not guides.made_for:
        how = "as they are sold, or as you made them"
        found.append(choice(f"{at}.made_for", "kind of rail the guides are made for", how, kinds))
    by_kind, site = bool(found), view.case.origin.site_path
    measured = "or measured: " if by_kind else ""
    if lug or says.rail_kind == ROD:
        found += [] if lug else [_sized(f"{at}.bore", "inside diameter of the lugs")]
        found += [] if says.rod else [_sized(f"{site}:rod", "diameter of the rod")]
    else:
        found += [
            _sized(f"{site}:{key}", measured + label)
            for (key, label), told in zip(_RAIL.items(), _slot(says), strict=True)
            if told is None
        ]
        found += [
            _sized(f"{at}.{key}", measured + label)
            for (key, label), size in zip(_GUIDE.items(), _sizes(guides), strict=True)
            if size is None
        ]
    advice = "measure the rail and the guides across their ends"
    if by_kind:
        advice = "say what rail the field has and which the guides are made for, or measure both"
    return asked(advice, *found)


def _sized(home: str, label: str) -> Entry:
    return entry(
        home, label, how="across the end", dimension="length", instrument="calliper", minutes=2.0
    )


def _judged(view: View, plays: tuple[Play, ...], told: tuple[Words, ...] = ()) -> Evaluation:
    """Places where it does not fit, with the room of each in words."""
    tight = [each for each in plays if not each.enough]
    words = [
        said(
            f"{literal(each.place)}: {{room}}" + ("" if each.enough else ", {needed} needed"),
            room=(each.value_m, "length"),
            needed=(each.least_m, "length"),
        )
        for each in (*tight, *(each for each in plays if each.enough))
    ]
    return Evaluation(full(view, len(tight)), full(view, 0.5), warnings=(*told, *words))


def _rail_fit(view: View) -> Evaluation | Missing:
    guides, says = guides_of(view.case.rocket), view.case.field_says
    if guides is None:
        return NO_GUIDES
    bulge, lug = _bulge_m(view, guides), guides.bore_m is not None
    made_for = ROD if lug else guides.made_for
    on_rod = says.rail_kind == ROD or (says.rail_kind is None and says.rod is not None)
    if says.rail_kind and made_for and (says.rail_kind == ROD) != (made_for == ROD):
        told = f"the guides are made for {_kind(made_for)}, the field has {_kind(says.rail_kind)}"
        return Evaluation(full(view, 1.0), full(view, 0.5), warnings=(told,))
    if on_rod:
        if guides.bore_m is None or says.rod is None:
            return _asks(view, guides)
        rod, off = says.rod.value, 0.5 * (guides.height_m - guides.bore_m)
        plays = lug_plays(guides.bore_m, guides.height_m, rod, bulge)
        return _judged(view, (*plays, *_fin_plays(view, guides, off, rod)), (_ROD_BENDS,))
    sizes = _measured(view, guides)
    wide = WIDTHS_M.get(says.rail_kind or "")
    if sizes is not None:
        guide, slot = sizes
        fins = _fin_plays(
            view, guides, slot_plays(guide, slot)[-1].value_m, wide or 2.0 * slot.inside_m
        )
        return _judged(view, (*slot_plays(guide, slot, bulge), *fins))
    if not made_for or wide is None or bulge > 0.0:
        return _asks(view, guides)
    if made_for != says.rail_kind:
        told = f"the guides are made for {made_for}, the field has {says.rail_kind}"
        return Evaluation(full(view, 1.0), full(view, 0.5), warnings=(told,))
    told = f"both are for {made_for}, by their labels: slide one along the rail before the day"
    return _judged(view, _fin_plays(view, guides, 0.5 * guides.height_m, wide), (told,))


_ROD_BENDS = "a rod bends under wind and thrust; that is not computed"


def _kind(kind: str) -> str:
    return "a rod" if kind == ROD else f"a rail of {kind}"


def _sticking(view: View) -> Evaluation | Missing:
    guides = guides_of(view.case.rocket)
    if guides is None:
        return NO_GUIDES
    offset = _radius_m(view, guides) + guides.height_m
    needed: Array = sticking_reach_m(view.parameter("rail_friction"), offset)
    return Evaluation(needed, full(view, guides.aft_station_m - guides.station_m))


ROWS = (
    LimitState(
        "rail_fit",
        "Guides do not fit the rail",
        phase="pad",
        unit="count",
        more_is_worse=True,
        evaluate=_rail_fit,
        formula=(
            "places where there is too little room, against none: neck in the slot, head behind "
            "its lips and lug on its rod {slides}, head behind each lip {held}, body and fins off "
            "the rail {clear}; or guides made for another kind of rail"
        ),
        sources=("derived", "builder"),
        constants={
            "slides": Constant(SLIDES_M, "length", "guess"),
            "held": Constant(HELD_M, "length", "guess"),
            "clear": Constant(CLEAR_M, "length", "guess"),
        },
        kind="rule",
    ),
    LimitState(
        "guides_stick",
        "Rail guides so close that they stick",
        phase="pad",
        unit="length",
        more_is_worse=True,
        evaluate=_sticking,
        formula=(
            "2 mu e, with mu the friction of the guides and e the rail's distance from the "
            "rocket's axis, against the distance between the guides"
        ),
        sources=("derived",),
        needs=(rail.friction,),
    ),
)
