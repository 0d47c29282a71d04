"""Quantities: a value with unit, optional spread, and how it is known."""

from goodflight.quantity.grammar import KNOWN, Quantity, QuantityError, expected, parse
from goodflight.quantity.refusal import Refused
from goodflight.quantity.showing import brief, show, show_spread, write
from goodflight.quantity.units import DIMENSIONS, Dimension, Unit, Units

__all__ = [
    "DIMENSIONS",
    "KNOWN",
    "Dimension",
    "Quantity",
    "QuantityError",
    "Refused",
    "Unit",
    "Units",
    "brief",
    "expected",
    "parse",
    "show",
    "show_spread",
    "write",
]
