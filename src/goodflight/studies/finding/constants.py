"""What a search stands on, to be handed on with flights that a file carries."""

from typing import Any, Final

from goodflight.physics import patch
from goodflight.physics.sightings import COMPASS_ERROR_RAD, LANDMARK_ERROR_RAD, WATCH_ERROR_S
from goodflight.physics.sweep import COVERS, WALK_M_S
from goodflight.studies.finding import carried as kept

SEARCH: Final[dict[str, Any]] = {
    "winds": kept.WINDS_M_S,
    "lean": kept.LEAN_RAD,
    "fields": kept.FIELDS,
    "never": kept.NEVER,
    "each": kept.EACH,
    "calm": kept.CALM_M_S,
    "counts": list(kept.COUNTS.values()),
    "shares": list(kept.SHARES.values()),
    "scoreStep": kept.SCORE_STEP,
    "exponentStep": kept.EXPONENT_STEP,
    "patch": {
        "cells": patch.CELLS,
        "beyond": patch.BEYOND,
        "least": patch.LEAST,
        "rare": patch.RARE,
        "smallest": patch.SMALLEST_M,
    },
    "walk": WALK_M_S,
    "errors": {"watch": WATCH_ERROR_S, "compass": COMPASS_ERROR_RAD, "true": LANDMARK_ERROR_RAD},
    "covers": [[each.key, each.words, each.spacing_m] for each in COVERS],
}
