"""Collects the steps of one rocket; each gets its time at the bench and its glue's times.

Minutes at the bench are guesses for a first build (common practice, no source); `takes` of a
`[[step]]` in build.toml replaces them.
"""

from dataclasses import dataclass, field, replace
from typing import Final

from goodflight.physics.vehicle import parts as p
from goodflight.project import Project, defaults
from goodflight.project.bench_files import BuildFile
from goodflight.project.designed import DesignedRocket
from goodflight.project.workshop_files import StepTable
from goodflight.quantity import Quantity
from goodflight.studies.bench.choices import Choices, choices_of
from goodflight.studies.bench.gluing import MINUTE_S, Glued, glued
from goodflight.studies.bench.order import Step
from goodflight.studies.case.joints import GlueSheet, joints_of

PLACE_S: Final = 4 * MINUTE_S  # to spread glue on one piece and set it; guess
GUESS_SPREAD: Final = 0.3  # of the time a first build takes; guess
FIRST_TIME: Final = "guess: a first build, common practice, no source"
GLOVES: Final = "epoxy"  # keys of the cautions
DUST: Final = "dust"
BLADE: Final = "blade"
PAINT: Final = "paint"


@dataclass(frozen=True)
class Way:
    """A way in through a tube, from its front or its rear end, as deep as a station."""

    tube: p.Tube
    front: bool
    station_m: float
    to: str

    @property
    def door(self) -> str:
        """Its name as a way in."""
        return f"{self.tube.name} from the {'front' if self.front else 'rear'}, down to {self.to}"


@dataclass
class Makes:
    """Collects the steps of one rocket.

    guide : kind of guide that sets the fins: "sheet", "print", "" = none.
    """

    rocket: DesignedRocket
    choices: Choices
    build: BuildFile
    guide: str = ""
    steps: list[Step] = field(default_factory=list)
    ways: list[Way] = field(default_factory=list)

    def ways_in(self, tube: p.Tube, fore_m: float, aft_m: float | None, to: str) -> tuple[str, ...]:
        """Ways through a tube that a hand reaches by, to what lies from one station to another.

        Without an `aft_m` there is none from the rear.
        """
        arm = self.choices.arm_reach_m
        found = []
        if fore_m - tube.station_m <= arm:
            found.append(Way(tube, True, fore_m, to))
        if aft_m is not None and tube.end_m - aft_m <= arm:
            found.append(Way(tube, False, aft_m, to))
        self.ways += found
        return tuple(way.door for way in found)

    def add(
        self,
        step: Step,
        minutes: float,
        glue: GlueSheet | None = None,
        at_once: tuple[int, str] = (1, ""),
        place: str | None = None,
    ) -> None:
        """Take a step in: minutes of a first build, glue by practice, pieces glued at once, place
        where its coat is put on."""
        told = self._told(step.key)
        took = Quantity(minutes * MINUTE_S, GUESS_SPREAD * minutes * MINUTE_S, "guess", "", "")
        because = FIRST_TIME
        if told is not None and told.takes is not None:
            took, because = told.takes, "takes in build.toml"
        sigma = (
            GUESS_SPREAD * took.value
            if took.sigma is None and took.known == "guess"
            else defaults.sigma_of("time", took)
        )
        held = None if glue is None else glued(self.build, glue, step.parts, told, place)
        step = self._placed(step, held, at_once)
        self.steps.append(
            replace(
                step,
                takes_s=took.value,
                takes_sigma_s=sigma,
                takes_known=took.known,
                takes_because=because,
                glued=held,
            )
        )

    def _placed(self, step: Step, held: Glued | None, at_once: tuple[int, str]) -> Step:
        """A step with the time its pieces need, and what is wrong when the glue gives less."""
        count, noun = at_once
        joints = joints_of(self.build)
        work = next((j.work_s for j in joints if set(j.parts) == set(step.parts)), None)
        places_s = work or (count * PLACE_S if count > 1 else 0.0)
        gives_s = None if held is None else held.working_s
        if not places_s or gives_s is None or places_s * (1.0 + GUESS_SPREAD) <= gives_s:
            return replace(step, places_s=places_s)
        late_s = places_s * (1.0 + GUESS_SPREAD)
        warning = (
            f"{noun or 'pieces'} glued at once take {places_s / MINUTE_S:.0f} min to place, up to "
            f"{late_s / MINUTE_S:.0f}; the glue gives {gives_s / MINUTE_S:.0f} min: mix a fresh "
            f"cup for every {max(1, int(count * gives_s / late_s))}, or take a slower glue"
        )
        return replace(step, places_s=places_s, warning=warning)

    def _told(self, key: str) -> StepTable | None:
        """The step of build.toml that is this one: by its name, or the only one that it `does`."""
        return next((t for t in self.build.step if t.name == key or t.does == [key]), None)

    def close(self, key: str, door: str) -> None:
        """Say of a step taken in before that it closes a way in."""
        self.steps = [
            replace(step, closes=(*step.closes, door)) if step.key == key else step
            for step in self.steps
        ]

    def made(self) -> tuple[Step, ...]:
        """All steps; each comes after those that make the parts it works on."""
        maker = {part: step.key for step in self.steps for part in step.makes}
        return tuple(
            replace(
                step,
                after=tuple(
                    dict.fromkeys(
                        [*(maker[x] for x in step.parts if x in maker), *step.after],
                    )
                ),
            )
            for step in self.steps
        )

    def has(self, key: str) -> bool:
        """Whether a step was taken in."""
        return any(step.key == key for step in self.steps)


def makes_of(project: Project, plan: str | None) -> Makes:
    """An empty collection for a plan's rocket."""
    return Makes(project.rocket(plan=plan), choices_of(project), project.build or BuildFile())
