"""The tables `[separation]`, `[charge]` and `[retention]` of `rocket.toml` as a record.

So too `[main_separation]` and `[main_charge]`, of the second canopy.
"""

from collections.abc import Mapping
from typing import Any, Final

from goodflight.physics.vehicle.separation import EDGES, Figure, Hatch, Separation
from goodflight.project import defaults
from goodflight.project.rocket_file import RocketHead

# table, key in the file -> field of the record
_FIGURES: Final = (
    ("separation", "pull", "pull_n"),
    ("separation", "clearance", "clearance_m"),
    ("separation", "fore_anchor", "fore_anchor_n"),
    ("separation", "aft_anchor", "aft_anchor_n"),
    ("separation", "bulkhead", "bulkhead_n"),
    ("separation", "fixed_joint", "fixed_joint_n"),
    ("separation", "edge_strength", "edge_strength_pa"),
    ("charge", "powder", "powder_kg"),
    ("charge", "blanket", "blanket_m2"),
    ("charge", "pack_pull", "pack_pull_n"),
    ("retention", "holds", "retention_n"),
)
_MAIN: Final = (
    ("main_separation", "pull", "pull_n"),
    ("main_separation", "clearance", "clearance_m"),
    ("main_separation", "fore_anchor", "fore_anchor_n"),
    ("main_separation", "aft_anchor", "aft_anchor_n"),
    ("main_separation", "bulkhead", "bulkhead_n"),
    ("main_charge", "powder", "powder_kg"),
    ("main_charge", "blanket", "blanket_m2"),
)
_HATCH: Final = (("hatch", "holds", "holds_n"),)
# the tables above, in the order in which their figures are drawn
FIGURE_TABLES: Final = tuple(dict.fromkeys(table for table, _, _ in (*_FIGURES, *_MAIN, *_HATCH)))
CLEARANCE_SIGMA: Final = 0.5  # relative, of a gap that is felt rather than measured


def build_separation(head: RocketHead, overrides: Mapping[str, float]) -> Separation:
    """Return how the rocket comes apart, every figure with its spread.

    Parameters
    ----------
    head : RocketHead - the rocket file without its parts. [-]
    overrides : mapping - SI values by path. [SI]

    Returns
    -------
    separation : Separation - what is given; the rest None. [SI]
    """
    found = _figures(head, overrides, _FIGURES)
    given = head.separation
    if "edge_strength_pa" not in found and given.edge is not None:
        edge = EDGES[given.edge]
        path = "rocket.toml:separation.edge"
        found["edge_strength_pa"] = Figure(
            edge.strength_pa, edge.sigma * edge.strength_pa, "guess", path, by_kind=True
        )
    return Separation(
        pins=given.pins,
        pin_thread=given.thread,
        coupler_in=given.coupler_in,
        edge=given.edge or "",
        wadding=head.charge.wadding,
        retention=head.retention.kind,
        **found,
    )


def build_hatch(head: RocketHead, overrides: Mapping[str, float]) -> Hatch:
    """Return the hatch in the tube's side, what is given of it.

    Parameters
    ----------
    head : RocketHead - the rocket file without its parts. [-]
    overrides : mapping - SI values by path. [SI]

    Returns
    -------
    hatch : Hatch - not there where the file has no such table. [SI]
    """
    told = head.hatch
    holds = _figures(head, overrides, _HATCH)
    return Hatch(
        there="hatch" in head.model_fields_set,
        station_m=None if told.station is None else told.station.value,
        length_m=None if told.length is None else told.length.value,
        width_m=None if told.width is None else told.width.value,
        holds_n=holds.get("holds_n"),
    )


def build_main_separation(head: RocketHead, overrides: Mapping[str, float]) -> Separation:
    """Return how the rocket comes apart for its second canopy, every figure with its spread.

    Parameters
    ----------
    head : RocketHead - the rocket file without its parts. [-]
    overrides : mapping - SI values by path. [SI]

    Returns
    -------
    separation : Separation - what is given; the rest None. [SI]
    """
    given = head.main_separation
    return Separation(
        pins=given.pins,
        pin_thread=given.thread,
        coupler_in=given.coupler_in,
        wadding=head.main_charge.wadding,
        tables=("main_separation", "main_charge"),
        **_figures(head, overrides, _MAIN),
    )


def _figures(
    head: RocketHead, overrides: Mapping[str, float], names: tuple[tuple[str, str, str], ...]
) -> dict[str, Any]:
    """Return the figures that are given, by their field of the record."""
    found: dict[str, Any] = {}
    for table, key, name in names:
        path = f"rocket.toml:{table}.{key}"
        quantity = getattr(getattr(head, table), key)
        if path in overrides:
            found[name] = Figure(float(overrides[path]), 0.0, "guess", path)
        elif quantity is not None:
            sigma = defaults.sigma_of(key, quantity)
            if key == "clearance" and quantity.sigma is None:
                sigma = CLEARANCE_SIGMA * quantity.value
            found[name] = Figure(quantity.value, sigma, quantity.known, path)
    return found


def given_as(head: RocketHead, table: str, key: str) -> Figure | None:
    """Return a figure as the record has it, by the table and key of the file, or None."""
    for build, names in ((build_separation, _FIGURES), (build_main_separation, _MAIN)):
        for named, its_key, name in names:
            if (named, its_key) == (table, key):
                found: Figure | None = getattr(build(head, {}), name)
                return found
    return None
