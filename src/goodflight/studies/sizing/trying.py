"""One design tried: its files made in memory, its flights flown in every wind of the season.

While searching few flights are flown, and the effect of small errors in its lengths is that of the
first design built, which is much like it; the last ones are flown as their projects would be.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.air import Day
from goodflight.physics.motor import thrust_to_weight
from goodflight.project import ProjectErrors, read_project
from goodflight.project.idea import IDEA, Idea, weight_of
from goodflight.project.idea_design import Design, DoesNotFit, Laid, lay_out
from goodflight.project.idea_texts import motor_heads, texts_of, wind_name
from goodflight.project.motor_files import MotorFile
from goodflight.quantity import Refused
from goodflight.studies.case.planned import Case, Sensitivity
from goodflight.studies.case.project_case import case_of
from goodflight.studies.field.together import flown_together
from goodflight.studies.judging.evaluate import Evaluated, any_failing
from goodflight.studies.levers.motor import nearest_delay_out_s
from goodflight.studies.rows import LIMIT_STATES

Mask = NDArray[np.bool_]
COUNTED: Final = tuple(
    each for each in LIMIT_STATES if each.kind in ("failure", "rule") and not each.thumb
)
SEARCH_FLIGHTS: Final = 96  # over all winds, for each design tried
FEWEST: Final = 16  # in one wind
LEAST_THRUST: Final = 3.0  # mean thrust to weight below which nothing is flown
CANNOT: Final = 4.0  # worse than any flight
PER_ROW: Final = 0.05  # how much each further row that fails counts, so that a search sees a slope
PER_KG: Final = 0.01  # of two that do alike, the lighter


@dataclass(frozen=True)
class Tried:
    """A design that was flown while searching. worse : what the search makes least.

    failing : flights that fail, in each wind that blows, the same flights for every design.
    """

    design: Design
    laid: Laid
    worse: float
    chance: float
    mass_kg: float
    failing: tuple[Mask, ...]


def effort(one: Tried, best: Tried) -> float:
    """What a design asks of its builder: mass, length and evenings, each over the best one's.

    The three count alike, our judgement: mass is what is bought and carried aloft, length what is
    cut, glued and taken along.
    """
    return (
        one.mass_kg / best.mass_kg
        + one.laid.length_m / best.laid.length_m
        + one.laid.evenings / best.laid.evenings
    )


class Trying:
    """Designs of one idea tried, each once; the same seed gives the same flights to all."""

    def __init__(self, idea: Idea, seed: int) -> None:
        self.idea, self.seed = idea, seed
        self.heads: dict[str, MotorFile] = motor_heads(idea)
        self.flown = 0
        self.why: dict[str, str] = {}  # last reason why a design of a motor could not be
        self._like: dict[str, tuple[Sensitivity, ...]] = {}
        self._days: list[Day] = []  # of every wind; no design changes them
        total = sum(weight_of(each) for each in idea.winds)
        self.shares = tuple(weight_of(each) / total for each in idea.winds)
        self.names = tuple(wind_name(each, idea.winds) for each in idea.winds)

    def laid(self, design: Design) -> Laid | DoesNotFit:
        """Where everything of a design lies."""
        length_m = self.heads[design.motor].length.value
        return lay_out(self.idea, design, length_m, self.across_m(design.motor))

    def across_m(self, motor: str) -> float:
        """Outside of what goes into the motor tube, an adapter included [m]."""
        head = self.heads[motor]
        across = head.diameter if head.adapter is None else head.adapter.outer_diameter
        return across.value

    def tried(self, design: Design, shift: int = 0) -> Tried | float:
        """A design flown in every wind, or how far it is from one that can be.

        shift : the delay after (positive) or before the one nearest to the coast.
        """
        laid = self.laid(design)
        if isinstance(laid, DoesNotFit):
            self.why[design.motor] = laid.why
            return CANNOT + laid.by
        try:
            case, days = self._case(design, laid)
            if _thrust_to_weight(case) < LEAST_THRUST:
                self.why[design.motor] = "it lifts less than three times the weight of this rocket"
                return CANNOT - _thrust_to_weight(case) / LEAST_THRUST
            design, case = _with_delay(design, case, shift)
            return self._fly(design, laid, case, days)
        except Refused as error:
            if isinstance(error, ProjectErrors) and _theirs(error):
                raise
            self.why[design.motor] = str(error).splitlines()[-1]
            return CANNOT + 1.0

    def _case(self, design: Design, laid: Laid) -> tuple[Case, list[Day]]:
        """The case of a design, and the day of every wind of the season.

        All files are read once; for the designs that follow only those that they change or use.
        """
        texts = texts_of(self.idea, design, laid, 1 if self._days else None)
        if self._days:
            others = {f"motors/{name}" for name in self.heads if name != design.motor}
            texts = {
                file: text
                for file, text in texts.items()
                if file != IDEA and file.rpartition(".")[0] not in others
            }
        project = read_project(texts)
        case = case_of(project, like=self._like.get(design.motor))
        self._like.setdefault(design.motor, case.uncertainty.sensitivities)
        if not self._days:
            days = {plan.name: plan.day for plan in project.plans}
            self._days = [days[name] for name in self.names]
        return case, self._days

    def _fly(self, design: Design, laid: Laid, case: Case, days: list[Day]) -> Tried:
        chance, slope, failing = 0.0, 0.0, []
        winds = [(s, d) for s, d in zip(self.shares, days, strict=True) if s > 0.0]
        counts = [max(FEWEST, round(SEARCH_FLIGHTS * share)) for share, _ in winds]
        windy = [replace(case, day=day) for _, day in winds]
        found = flown_together(windy, counts, self.seed, limits=COUNTED)
        self.flown += sum(counts)
        for (share, _), judged in zip(winds, found, strict=True):
            failing.append(any_failing(judged.rows))
            chance += share * float(failing[-1].mean())
            slope += share * _slope(judged.rows)
        mass = case.uncertainty.features["mass_kg"]
        worse = chance + slope + PER_KG * mass
        return Tried(
            design=design,
            laid=laid,
            worse=worse,
            chance=chance,
            mass_kg=mass,
            failing=tuple(failing),
        )

    def tied(self, one: Tried, best: Tried) -> bool:
        """Whether the flights cannot tell a design from a better one, and it breaks no more rules.

        Within one standard error of the difference on the same flights.
        """
        shares = [share for share in self.shares if share > 0.0]
        apart = [a.astype(float) - b for a, b in zip(one.failing, best.failing, strict=True)]
        error = paired_share_error(shares, apart)
        gap = one.worse - best.worse - PER_KG * (one.mass_kg - best.mass_kg)
        return gap <= error + PER_ROW * error


def paired_share_error(shares: Sequence[float], apart: Sequence[NDArray[np.float64]]) -> float:
    """Standard error of a difference over a season, flight by flight in every wind."""
    winds = zip(shares, apart, strict=True)
    return math.sqrt(sum(s**2 * float(d.var()) / d.size for s, d in winds))


def _slope(rows: Sequence[Evaluated]) -> float:
    """What guides a search besides the chance: rows failing at once, and rules that are broken."""
    failures = [row.failing.mean() for row in rows if row.limit.kind == "failure"]
    rules = [row.failing.mean() for row in rows if row.limit.kind == "rule"]
    return PER_ROW * float(np.sum(failures)) + float(np.sum(rules))


def _thrust_to_weight(case: Case) -> float:
    mass_kg = case.uncertainty.features["mass_kg"] + case.motor.loaded_kg
    return thrust_to_weight(case.motor, mass_kg, case.site.gravity_m_s2)


def _with_delay(design: Design, case: Case, shift: int) -> tuple[Design, Case]:
    """The allowed delay nearest to the coast, or its neighbour."""
    allowed = sorted(case.motor.delay_out_allowed_s)
    if not allowed or case.motor.delay_s is None:
        return replace(design, delay_out_s=0.0), case
    place = allowed.index(nearest_delay_out_s(case)) + shift
    out = allowed[min(max(place, 0), len(allowed) - 1)]
    return replace(design, delay_out_s=out), case.with_delay_out(out)


def _theirs(error: ProjectErrors) -> bool:
    """Whether a fault stands in a file that the reader wrote, not in one made here."""
    return any(fault.file.startswith(("motors/", "sites/", "codes/")) for fault in error.faults)
