"""What tables of `rocket.toml` say for a record: each key by the field that it becomes."""

from collections.abc import Mapping
from functools import cache
from typing import Any

from goodflight.physics.vehicle.figure import Figure
from goodflight.project import defaults
from goodflight.project.fields import Key, Table, key_words
from goodflight.quantity import Quantity


@cache
def becoming(table: type[Table]) -> tuple[tuple[str, Key], ...]:
    """Return the keys of a table that a record takes, with what is said of each."""
    told = ((key, key_words(table, key)) for key in table.model_fields)
    return tuple((key, said) for key, said in told if said is not None and said.becomes)


def taken(tables: Mapping[str, Table], overrides: Mapping[str, float]) -> dict[str, Any]:
    """Return what is given, by its field of the record; quantities as figures with a spread.

    Parameters
    ----------
    tables : mapping - tables of the file by their names. [-]
    overrides : mapping - SI values by path. [SI]

    Returns
    -------
    found : dict - figures, words and counts by field; what is not given is left out. [SI]
    """
    found: dict[str, Any] = {}
    for name, table in tables.items():
        for key, said in becoming(type(table)):
            path, entry = f"rocket.toml:{name}.{key}", getattr(table, key)
            if path in overrides:
                found[said.becomes] = Figure(float(overrides[path]), 0.0, "guess", path)
            elif isinstance(entry, Quantity):
                sigma = defaults.sigma_of(key, entry)
                if said.share is not None and entry.sigma is None:
                    sigma = said.share * entry.value
                found[said.becomes] = Figure(entry.value, sigma, entry.known, path)
            elif entry is not None:
                found[said.becomes] = entry
    return found
