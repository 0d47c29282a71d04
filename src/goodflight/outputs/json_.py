"""A record as JSON: SI values, the unit in every field name, null for what is not known."""

import json
import math
from typing import Any

import numpy as np


def to_json(data: dict[str, Any]) -> str:
    """A record as text; a number that is not finite becomes null."""
    return json.dumps(_clean(data), indent=2, ensure_ascii=False, allow_nan=False) + "\n"


def _clean(value: Any) -> Any:
    """Plain Python all the way down; numbers that are not finite become None."""
    if isinstance(value, dict):
        return {key: _clean(item) for key, item in value.items()}
    if isinstance(value, list | tuple):
        return [_clean(item) for item in value]
    if isinstance(value, np.generic):
        return _clean(value.item())
    if isinstance(value, float) and not math.isfinite(value):
        return None
    return value
