"""The tables `[separation]`, `[charge]` and `[retention]` of `rocket.toml` as a record.

So too `[main_separation]` and `[main_charge]`, of the second canopy.
"""

from collections.abc import Iterator, Mapping
from typing import Any, Final

from goodflight.physics.vehicle.separation import EDGES, Figure, Hatch, Separation
from goodflight.project import defaults
from goodflight.project.fields import key_words
from goodflight.project.rocket_file import RocketHead
from goodflight.quantity import Quantity

# tables of the file whose keys say which field of the record they become
_FIRST: Final = ("separation", "charge", "retention")
_MAIN: Final = ("main_separation", "main_charge")
_HATCH: Final = ("hatch",)
FIGURE_TABLES: Final = (*_FIRST, *_MAIN, *_HATCH)  # as their figures are drawn
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
    found, kind = _taken(head, overrides, _FIRST), head.separation.edge
    if "edge_strength_pa" not in found and kind is not None:
        edge = EDGES[kind]
        path = "rocket.toml:separation.edge"
        found["edge_strength_pa"] = Figure(
            edge.strength_pa, edge.sigma * edge.strength_pa, "guess", path, by_kind=True
        )
    return Separation(**found)


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
    return Hatch(
        there="hatch" in head.model_fields_set,
        station_m=None if told.station is None else told.station.value,
        length_m=None if told.length is None else told.length.value,
        width_m=None if told.width is None else told.width.value,
        **_taken(head, overrides, _HATCH),
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
    return Separation(tables=_MAIN, **_taken(head, overrides, _MAIN))


def _fields(head: RocketHead, tables: tuple[str, ...]) -> Iterator[tuple[str, str, str]]:
    """Return table, key and field of the record of all that tables say for it."""
    for table in tables:
        model = type(getattr(head, table))
        for key in model.model_fields:
            said = key_words(model, key)
            if said is not None and said.becomes:
                yield table, key, said.becomes


def _taken(
    head: RocketHead, overrides: Mapping[str, float], tables: tuple[str, ...]
) -> dict[str, Any]:
    """Return what is given, by its field of the record; quantities as figures with a spread."""
    found: dict[str, Any] = {}
    for table, key, name in _fields(head, tables):
        path = f"rocket.toml:{table}.{key}"
        entry = getattr(getattr(head, table), key)
        if path in overrides:
            found[name] = Figure(float(overrides[path]), 0.0, "guess", path)
        elif isinstance(entry, Quantity):
            sigma = defaults.sigma_of(key, entry)
            if key == "clearance" and entry.sigma is None:
                sigma = CLEARANCE_SIGMA * entry.value
            found[name] = Figure(entry.value, sigma, entry.known, path)
        elif entry is not None:
            found[name] = entry
    return found


def given_as(head: RocketHead, table: str, key: str) -> Figure | None:
    """Return a figure as the record has it, by the table and key of the file, or None."""
    for build, tables in ((build_separation, _FIRST), (build_main_separation, _MAIN)):
        for named, its_key, name in _fields(head, tables):
            if (named, its_key) == (table, key):
                found: Figure | None = getattr(build(head, {}), name)
                return found
    return None
