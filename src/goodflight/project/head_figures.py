"""Figures that `rocket.toml` states beside its parts: which tables have them, one by its name."""

from typing import Final

from goodflight.physics.vehicle.figure import Figure
from goodflight.project.fields import Table, key_words
from goodflight.project.head.separation import build_main_separation, build_separation
from goodflight.project.head.taking import becoming
from goodflight.project.rocket_file import RocketHead


def _tables() -> dict[str, type[Table]]:
    kinds = {name: field.annotation for name, field in RocketHead.model_fields.items()}
    tables = {
        name: kind
        for name, kind in kinds.items()
        if isinstance(kind, type) and issubclass(kind, Table)
    }
    return {name: table for name, table in tables.items() if any(becoming(table))}


# tables with keys that a record takes, whose figures are drawn by themselves
FIGURE_TABLES: Final = tuple(_tables())


def given_as(head: RocketHead, table: str, key: str) -> Figure | None:
    """Return a figure as the record has it, by the table and key of the file, or None."""
    first = build_separation(head.separation, head.charge, head.retention, {})
    main = build_main_separation(head.main_separation, head.main_charge, {})
    for record in (first, main):
        said = key_words(_tables()[table], key) if table in record.tables else None
        if said is not None and said.becomes:
            found: Figure | None = getattr(record, said.becomes)
            return found
    return None
