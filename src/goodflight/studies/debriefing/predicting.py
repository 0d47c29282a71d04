"""What is predicted of a flight before it is flown, to be kept with it."""

from collections.abc import Mapping
from typing import Final

import numpy as np
from numpy.typing import NDArray

from goodflight.project import Project
from goodflight.project.bench_files import NotesFile
from goodflight.project.predictions import POINTS, PredictionFile
from goodflight.studies.case.project_case import case_of
from goodflight.studies.debriefing.predicted import FIGURES, Did
from goodflight.studies.judging.counting import counted
from goodflight.studies.judging.evaluate import evaluate
from goodflight.studies.judging.plan import judged_alone
from goodflight.studies.refusal import StudyRefused
from goodflight.studies.sampling.flights import fly_trials
from goodflight.studies.stands_on import stands_on

Array = NDArray[np.float64]

DRIFT: Final = "drift_m"  # from the pad to where it lands


def prediction(
    project: Project,
    flight: str,
    plan: str | None = None,
    made: str = "",
    logged: bool = False,
    flights: int = 2000,
    seed: int = 1,
) -> PredictionFile:
    """Predict a flight: chance of every way to fail, bands of its figures, to be kept with it.

    Parameters
        project : Project - as loaded from its folder. [-]
        flight : str - its folder in flights/, there or not yet. [-]
        plan : str or None - which plan; None = as the flight's notes say, else the first. [-]
        made : str - local time now, "2026-10-17T09:30:00+02:00". [-]
        logged : bool - whether a log lies in the flight's folder. [-]
        flights : int - size of the ensemble. [-]
        seed : int - same seed, same answer on one machine. [-]
    Returns
        said : PredictionFile - as it is written to flights/NAME/prediction.json. [SI]
    Raises
        StudyRefused - the flight has happened and a prediction is kept already; no such plan.
    Validity
        The rows' and the total's own; what is not computed is not part of it.
    Source
        The ledger's flights.
    Example
        >>> said = goodflight.prediction(
        ...     goodflight.load("fieldfare"), "first", made="2026-10-16T20:00:00", flights=50)
        >>> said.afterwards, len(said.bands["apogee_standard_m"])
        (False, 7)
    """
    notes = project.notes.get(flight, NotesFile())
    after = logged or happened(notes, made[:10])
    if after and flight in project.predictions:
        raise StudyRefused(
            f"flights/{flight} has flown and its prediction is kept",
            "one prediction, made before the flight",
            "leave it as it is; a prediction is never rewritten afterwards",
            "flight",
        )
    case = case_of(project, plan or notes.plan)
    view = fly_trials(case, flights, seed)
    rows = evaluate(view)
    whole = judged_alone(rows, flights, margins=False)
    chances = {
        row.limit.key: counted(row, flights, margins=False)["chance"]
        for row in rows
        if row.limit.kind == "failure" and not row.not_here
    }
    return PredictionFile(
        made=made,
        afterwards=after,
        program=dict(stands_on(case))["goodflight"],
        inputs=case.origin.inputs_hash,
        plan=case.plan,
        motor=case.motor.name,
        delay_out_s=project.plan(case.plan).delay_out_s,
        flights=flights,
        seed=seed,
        chance=whole.total.chance,
        unknown=list(whole.unknown),
        rows={key: float(chance) for key, chance in chances.items() if chance is not None},
        bands=bands(Did(case, view.trials, view.outcomes)),
    )


def happened(notes: NotesFile, today: str) -> bool:
    """Whether something of the flight is known already, or its day has passed."""
    past = bool(notes.date) and notes.date < today
    seen = notes.seen_of_it or bool(notes.damage) or notes.looked_over
    return past or seen or notes.result in ("passed", "failed")


def bands(did: Did) -> dict[str, list[float]]:
    """The points of every figure that most of the flights have."""
    figures: Mapping[str, Array] = {
        **{name: each[1](did) for name, each in FIGURES.items()},
        DRIFT: np.hypot(did.of("landing_east_m"), did.of("landing_north_m")),
    }
    return {
        name: [float(point) for point in np.nanpercentile(values, POINTS)]
        for name, values in figures.items()
        if np.isfinite(values).mean() > 0.5
    }
