"""The tables `[separation]`, `[charge]` and `[retention]` of `rocket.toml` as a record."""

from collections.abc import Mapping
from typing import Any, Final

from goodflight.physics.vehicle.separation import EDGES, Figure, Separation
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
    found: dict[str, Any] = {}
    for table, key, name in _FIGURES:
        path = f"rocket.toml:{table}.{key}"
        quantity = getattr(getattr(head, table), key)
        if path in overrides:
            found[name] = Figure(float(overrides[path]), 0.0, "guess", path)
        elif quantity is not None:
            sigma = defaults.sigma_of(key, quantity)
            if key == "clearance" and quantity.sigma is None:
                sigma = CLEARANCE_SIGMA * quantity.value
            found[name] = Figure(quantity.value, sigma, quantity.known, path)
    given = head.separation
    if "edge_strength_pa" not in found and given.edge is not None:
        edge = EDGES[given.edge]
        path = "rocket.toml:separation.edge"
        found["edge_strength_pa"] = Figure(
            edge.strength_pa, edge.sigma * edge.strength_pa, "guess", path
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
