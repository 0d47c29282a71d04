"""The flight: rail, six degrees of freedom, ejection, canopy, ground. See `fly_ensemble`.

Names are fetched on first use, because the compiler behind the kernel is slow to import.
"""

from importlib import import_module
from typing import Any

_HOMES = {
    "fly_ensemble": "ensemble",
    "fly_history": "ensemble",
    "column_spacing": "ensemble",
    "make_ready": "ready",
    "compiled_before": "ready",
    "TOLERANCE": "registry",
    "Recorded": "ensemble",
    "Launch": "launch",
    "PARAMETERS": "registry",
    "PARAMETER_INDEX": "registry",
    "OUTCOMES": "registry",
    "OUTCOME_INDEX": "registry",
    "BY_DELAY": "registry",
    "BY_ALTIMETER": "registry",
    "NOTHING_OPENS": "registry",
}
__all__ = list(_HOMES)


def __getattr__(name: str) -> Any:
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"{__name__}.{_HOMES[name]}"), name)
