"""What is uncertain about the second separation, which lets the main canopy out.

Each stands to `[main_separation]` and `[main_charge]` as its namesake in `separation` to the first.
"""

from collections.abc import Callable
from dataclasses import replace

from goodflight.physics.vehicle.figure import Figure
from goodflight.studies.case.planned import Case, main_cord_of
from goodflight.studies.sampling import recovery, separation
from goodflight.studies.sampling.quantity import Quantity, Stated
from goodflight.studies.sampling.recovery_stated import has_main, strength_of


def _given(field: str) -> Callable[[Case], Figure | None]:
    """A figure of the second separation, of a plan that has one."""

    def given(case: Case) -> Figure | None:
        found: Figure | None = getattr(case.rocket.main_separation, field)
        return found if has_main(case) else None

    return given


def _stated(first: Quantity, label: str, field: str, place: str, advice: str) -> Quantity:
    """A figure that the project states, as the first separation has it."""
    table, _, key = place.partition(".")
    which = 0 if table == "main_separation" else 1
    return replace(
        first,
        key=f"main_{field}",
        label=label,
        given=_given(field),
        exists=has_main,
        at=lambda case: f"rocket.toml:{case.rocket.main_separation.tables[which]}.{key}",
        advice=advice,
    )


def _cord_strength(case: Case) -> Stated | None:
    return strength_of(case, main_cord_of(case))


def _cord_at(case: Case) -> str:
    cord = main_cord_of(case)
    return f"rocket.toml:part[{'main cord' if cord is None else cord.name}].strength"


pull = _stated(
    separation.pull,
    "pull to separate for the main",
    "pull_n",
    "main_separation.pull",
    "pull the main's separation open with a luggage scale, pins out, three times, and enter the "
    "mean; pins hold more than that, not instead of it",
)
gap = _stated(
    separation.gap,
    "gap around the shoulder at the main",
    "clearance_m",
    "main_separation.clearance",
    "",
)
fore_anchor = _stated(
    separation.fore_anchor,
    "forward anchor of the main's cord",
    "fore_anchor_n",
    "main_separation.fore_anchor",
    "",
)
aft_anchor = _stated(
    separation.aft_anchor,
    "aft anchor of the main's cord",
    "aft_anchor_n",
    "main_separation.aft_anchor",
    "",
)
bulkhead = _stated(
    separation.bulkhead,
    "bulkhead of the main's bay",
    "bulkhead_n",
    "main_separation.bulkhead",
    "",
)
powder = _stated(
    separation.powder,
    "powder of the main's charge",
    "powder_kg",
    "main_charge.powder",
    "weigh the powder of the main's ground test that worked and enter it",
)
blanket = _stated(
    separation.blanket,
    "heat blanket of the main",
    "blanket_m2",
    "main_charge.blanket",
    "say what shields the main from its charge: the blanket's area (main_charge.blanket), or "
    "wadding = true in [main_charge]; 0.3 m square is 0.09 m2",
)
pin_strength = replace(
    separation.pin_strength,
    key="main_pin_strength",
    label="strength of the main's shear pins",
    exists=lambda case: has_main(case) and case.rocket.main_separation.pins > 0,
)
gas_in_pack = replace(
    separation.gas_in_pack,
    key="main_gas_in_pack",
    label="how far the gas gets into the packed main",
    exists=has_main,
)
cord_strength = replace(
    recovery.cord_strength,
    key="main_cord_strength",
    label="strength of the main's cord",
    given=_cord_strength,
    exists=has_main,
    at=_cord_at,
    advice="add the main's cord as a part, name it in holds of the main's bay, and give its "
    "breaking strength (printed on the spool, or pull-test a piece)",
)
