"""What a canopy's entries imply while they are typed: the cloth, and how fast it comes down."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from pydantic_core import PydanticCustomError

from goodflight.constants import SEA_LEVEL_DENSITY_KG_M3
from goodflight.physics.recovery import CANOPY_KINDS, cloth_area_m2, drag_area_m2
from goodflight.physics.recovery.opening import terminal_speed_m_s
from goodflight.physics.vehicle.parts import Canopy
from goodflight.project.measures import AcrossField
from goodflight.project.text_fields import QuantityField

USUAL_SHAPE: Final = "flat_hexagonal"


@dataclass(frozen=True)
class CanopySize:
    """How a kind is measured, and what the entries come to; None = they do not say yet."""

    kind: str
    ways: Mapping[str, float]  # way: cloth area over that width squared
    cloth_area_m2: float | None = None
    descent_m_s: float | None = None  # with the whole rocket on it, in standard air


def canopy_size(texts: Mapping[str, str], hanging_kg: float) -> CanopySize:
    """Work out the cloth and the descent that the entries of a canopy imply.

    Parameters
    ----------
    texts : mapping - entries as typed: shape, across, cloth_area, spill_hole, drag_coefficient. [-]
    hanging_kg : float - what comes down under it. [kg]

    Returns
    -------
    size : CanopySize - its figures are None while an entry is missing or does not fit. [SI]

    Validity
    --------
    Steady descent in standard air at sea level.

    Source
    ------
    Geometry of the kind; force balance.
    """
    kind = CANOPY_KINDS.get(texts.get("shape") or USUAL_SHAPE)
    if kind is None:
        return CanopySize("", {})
    try:
        canopy = _canopy(kind.key, texts)
        area, drag = cloth_area_m2(canopy), drag_area_m2(canopy)
    except (PydanticCustomError, ValueError):
        return CanopySize(kind.label, kind.ways)
    speed = float(terminal_speed_m_s(hanging_kg, drag, SEA_LEVEL_DENSITY_KG_M3))
    return CanopySize(kind.label, kind.ways, area, speed)


def _canopy(kind: str, texts: Mapping[str, str]) -> Canopy:
    across = AcrossField().read(texts["across"]) if texts.get("across") else None

    def figure(key: str, dimension: str, default: float) -> float:
        text = texts.get(key)
        return QuantityField(dimension, above=0.0).read(text).value if text else default

    return Canopy(
        "canopy",
        0.0,
        kind=kind,
        across_m=0.0 if across is None else across.value,
        way="" if across is None else across.way,
        cloth_area_m2=figure("cloth_area", "area", 0.0),
        spill_hole_diameter_m=figure("spill_hole", "length", 0.0),
        drag_coefficient=figure(
            "drag_coefficient", "ratio", CANOPY_KINDS[kind].usual_drag_coefficient
        ),
    )
