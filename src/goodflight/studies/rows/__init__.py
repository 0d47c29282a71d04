"""The registry of limit states: every way to fail that is computed, pad to ground, then code."""

from typing import Final

from goodflight.studies.rows import (
    boost,
    code,
    confirm,
    cord,
    damp,
    deployment,
    dual,
    electronics,
    gear,
    ground,
    guides,
    hatch,
    landing,
    main_cord,
    pad,
    rail,
    reach,
    recoil,
    retention,
    second,
    separation,
    spin,
    structure,
    touchdown,
    workmanship,
)
from goodflight.studies.rows.model import Evaluation, LimitState, Missing, View

LIMIT_STATES = (
    *pad.ROWS,
    *rail.ROWS,
    *electronics.ROWS,
    *boost.ROWS,
    *structure.ROWS,
    *guides.ROWS,
    *hatch.ROWS,
    *spin.ROWS,
    *separation.ROWS,
    *retention.ROWS,
    *damp.ROWS,
    *gear.ROWS,
    *cord.ROWS,
    *deployment.ROWS,
    *second.ROWS,
    *main_cord.ROWS,
    *dual.ROWS,
    *landing.ROWS,
    *recoil.ROWS,
    *ground.ROWS,
    *touchdown.ROWS,
    *workmanship.ROWS,
    *code.ROWS,
    *reach.ROWS,
    *confirm.ROWS,
)

if len({row.key for row in LIMIT_STATES}) != len(LIMIT_STATES):
    raise RuntimeError("two limit states share a key")

TITLES: Final = {row.key: row.title for row in LIMIT_STATES}

__all__ = ["LIMIT_STATES", "TITLES", "Evaluation", "LimitState", "Missing", "View"]
