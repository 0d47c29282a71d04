"""The part kinds, one module each, found by looking into this package."""

from importlib import import_module
from pkgutil import iter_modules
from typing import Final

from goodflight.project.parts.table import GROUPS, PartKind, PartTable


def _found() -> tuple[PartKind, ...]:
    modules = (import_module(f"{__name__}.{each.name}") for each in iter_modules(__path__))
    kinds = [module.KIND for module in modules if hasattr(module, "KIND")]
    return tuple(sorted(kinds, key=lambda kind: (GROUPS.index(kind.group), kind.rank)))


KINDS: Final[dict[str, PartKind]] = {kind.key: kind for kind in _found()}
PART_TABLES: Final[dict[str, type[PartTable]]] = {key: kind.table for key, kind in KINDS.items()}
KINDS_BY_GROUP: Final = {
    group: [key for key, kind in KINDS.items() if kind.group == group] for group in GROUPS
}
OUTER: Final = tuple(key for key, kind in KINDS.items() if kind.ends is not None)


def kind_of(table: PartTable) -> PartKind:
    """Return the declaration of a part's kind."""
    return KINDS[str(getattr(table, "kind", ""))]
