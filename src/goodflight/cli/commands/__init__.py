"""The commands, a module each: what is put here is a command, in the docs, and in Python."""

import pkgutil
from importlib import import_module

from goodflight.cli.question import Question


def questions() -> tuple[Question, ...]:
    """Every declared command, in the order of the lists."""
    names = [each.name for each in pkgutil.iter_modules(__path__)]
    found = [import_module(f"{__name__}.{name}").QUESTION for name in names]
    return tuple(sorted(found, key=lambda each: each.place))
