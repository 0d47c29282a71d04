"""Glue joints as `build.toml` says: their glue, where each lay, how long and how warm."""

from collections.abc import Iterable
from dataclasses import dataclass

from goodflight.physics.structure.cure import EPOXY_J_MOL, LABEL_K, STOPS_BELOW_K
from goodflight.project import defaults
from goodflight.project.calendar_files import WorkplaceTable
from goodflight.project.workshop_files import (
    ACTIVATION_SPREAD_KJ_MOL,
    GluedTable,
    GlueTable,
    StayTable,
    WorkshopTables,
)
from goodflight.quantity import Quantity

HOUR_S = 3600.0


@dataclass(frozen=True)
class GlueSheet:
    """A glue or paint by its sheet; its times hold at `reference_k`. None = the sheet is silent.

    working_s : from mixing until it sets; handling_s : until what it holds may be handled;
    cure_s : until it is cured. known : "project", or "practice" where no file says it.
    """

    name: str
    working_s: float | None = None
    handling_s: float | None = None
    cure_s: float | None = None
    reference_k: float = LABEL_K
    min_k: float = STOPS_BELOW_K
    activation_j_mol: float = EPOXY_J_MOL
    activation_sigma_j_mol: float = 1e3 * ACTIVATION_SPREAD_KJ_MOL
    known: str = "project"


@dataclass(frozen=True)
class Stay:
    """A stretch of time a joint lay somewhere. `place` names the factor of its temperature."""

    place: str
    hours: float
    temperature_k: float
    sigma_k: float = 0.0
    known: str = "guess"


@dataclass(frozen=True)
class GluedJoint:
    """One glue-up with the data sheet of its glue; None = the sheet or the builder does not say."""

    name: str
    parts: tuple[str, ...]
    glue: str
    stays: tuple[Stay, ...]
    cure_h: float | None = None
    working_s: float | None = None
    work_s: float | None = None
    reference_k: float = LABEL_K
    min_k: float = STOPS_BELOW_K
    activation_j_mol: float = 58.6e3
    activation_sigma_j_mol: float = 4e3
    untold: tuple[str, ...] = ()  # workplaces it lay in whose temperature nobody entered


def joints_of(build: WorkshopTables) -> tuple[GluedJoint, ...]:
    """Every joint of the file, with its glue and places."""
    places = {place.name: place for place in build.workplace}
    glues = {glue.name: glue for glue in build.glue}
    return tuple(_joint(table, glues[table.glue], places) for table in build.joint)


def sheet_of(glue: GlueTable) -> GlueSheet:
    """The sheet of a glue as its table says."""
    return GlueSheet(
        name=glue.name,
        working_s=_value(glue.working_time),
        handling_s=_value(glue.handling),
        cure_s=_value(glue.cure),
        reference_k=LABEL_K if glue.reference is None else glue.reference.value,
        min_k=STOPS_BELOW_K if glue.min_temperature is None else glue.min_temperature.value,
        activation_j_mol=1e3 * glue.activation_kj_mol,
        activation_sigma_j_mol=1e3 * glue.activation_spread_kj_mol,
    )


def _joint(table: GluedTable, glue: GlueTable, places: dict[str, WorkplaceTable]) -> GluedJoint:
    sheet = sheet_of(glue)
    return GluedJoint(
        name=table.name,
        parts=tuple(table.parts),
        glue=glue.name,
        stays=tuple(_stays(table.name, table.stay, places)),
        cure_h=None if sheet.cure_s is None else sheet.cure_s / HOUR_S,
        working_s=sheet.working_s,
        work_s=_value(table.work),
        reference_k=sheet.reference_k,
        min_k=sheet.min_k,
        activation_j_mol=sheet.activation_j_mol,
        activation_sigma_j_mol=sheet.activation_sigma_j_mol,
        untold=tuple(dict.fromkeys(_untold(table.stay, places))),
    )


def _value(quantity: Quantity | None) -> float | None:
    return None if quantity is None else quantity.value


def _untold(tables: Iterable[StayTable], places: dict[str, WorkplaceTable]) -> Iterable[str]:
    for stay in tables:
        place = None if stay.temperature is not None else places.get(stay.workplace or "")
        if place is not None and place.temperature is None:
            yield place.name


def _stays(
    joint: str, tables: Iterable[StayTable], places: dict[str, WorkplaceTable]
) -> Iterable[Stay]:
    for number, table in enumerate(tables):
        where, temperature = f"{joint} {number + 1}", table.temperature
        if temperature is None and table.workplace is not None:
            where, temperature = table.workplace, places[table.workplace].temperature
        if temperature is not None:
            sigma = defaults.sigma_of("temperature", temperature)
            hours = table.time.value / HOUR_S
            yield Stay(where, hours, temperature.value, sigma, temperature.known)
