"""Which pages and addresses there are: each module of this folder declares its own.

A module with `ROUTES` answers at these addresses; one with `PAGE` stands in the navigation, its
address the key, its template named by it. They are looked for when first asked, not on import.
"""

import pkgutil
from dataclasses import dataclass
from functools import cache
from importlib import import_module
from pathlib import Path
from types import ModuleType

from starlette.routing import Route


@dataclass(frozen=True)
class Page:
    """One page of the navigation.

    key : its address and the name of its template; title : in the navigation; place : smaller
    first. parts : pieces of it that are drawn anew while a what-if is tried.
    """

    key: str
    title: str
    place: int
    parts: tuple[str, ...] = ()


@cache
def _modules() -> tuple[ModuleType, ...]:
    names = (each.name for each in pkgutil.iter_modules([str(Path(__file__).parent)]))
    return tuple(import_module(f"goodflight.page.{name}") for name in names if name != "server")


def pages() -> tuple[Page, ...]:
    """The pages of the navigation, in its order."""
    found = (module.PAGE for module in _modules() if hasattr(module, "PAGE"))
    return tuple(sorted(found, key=lambda each: each.place))


def routes() -> tuple[Route, ...]:
    """Every address of every page; within a module the first that fits answers."""
    return tuple(route for module in _modules() for route in getattr(module, "ROUTES", ()))


def parts_of(key: str) -> tuple[str, ...]:
    """The pieces of a page that a what-if draws anew; those of the first where there is none."""
    named = {each.key: each for each in pages()}
    return named.get(key, pages()[0]).parts
