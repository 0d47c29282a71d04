"""What can still fail this flight, how likely is it, and what is the cheapest thing to do about it.

    import goodflight
    project = goodflight.load("fieldfare")
    print(goodflight.ledger(project).chance)

The public names and where they stand are listed once, in `__init__.pyi`, which is made from the
declarations of the commands (`docs/renew.py`) and is what type checkers read. Each is loaded when
first used, so that importing the package costs nothing.
"""

import re
from importlib import import_module
from pathlib import Path
from typing import Any

__version__ = "0.1.0"

_LISTED = Path(__file__).with_suffix(".pyi").read_text(encoding="utf-8")
_PLACES = {
    name: (module, attribute)
    for module, attribute, name in re.findall(r"^from (\S+) import (\w+) as (\w+)$", _LISTED, re.M)
}
__all__ = ["__version__", *_PLACES]  # noqa: PLE0604


def __getattr__(name: str) -> Any:
    if name in _PLACES:
        module, attribute = _PLACES[name]
        return getattr(import_module(module), attribute)
    raise AttributeError(f"goodflight has no {name!r}; it has {', '.join(__all__)}")


def __dir__() -> list[str]:
    return sorted({*globals(), *__all__})
