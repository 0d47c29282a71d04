"""What can still fail this flight, how likely is it, and what is the cheapest thing to do about it.

    import goodflight
    project = goodflight.load("fieldfare")
    print(goodflight.ledger(project).chance)

The names below are the public interface; they are loaded when first used, so that importing the
package costs nothing.
"""

from typing import TYPE_CHECKING, Any

__version__ = "0.1.0"
__all__ = ["ProjectErrors", "Refused", "__version__", "delay", "demo", "fly", "ledger", "load"]

if TYPE_CHECKING:
    from goodflight.interface import ProjectErrors, Refused, delay, demo, fly, ledger, load


def __getattr__(name: str) -> Any:
    if name in __all__:
        from goodflight import interface

        return getattr(interface, name)
    raise AttributeError(f"goodflight has no {name!r}; it has {', '.join(__all__)}")
