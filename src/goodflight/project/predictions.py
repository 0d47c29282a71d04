"""What was predicted of a flight, kept beside its notes in `flights/NAME/prediction.json`.

Written by the program before the flight and left as it is afterwards, so that what happened can be
laid beside it. One that was made after the flight says so.
"""

import json
import re
from collections.abc import Callable
from typing import TYPE_CHECKING, Annotated, Any, Final

from pydantic import Field, StringConstraints

from goodflight.project.disk import FLIGHTS, PREDICTION, is_log, is_project_file
from goodflight.project.faults import Fault, SaveRefused
from goodflight.project.fields import Table
from goodflight.project.sheets import Sheet

if TYPE_CHECKING:
    from goodflight.project.records import Project

NOT_A_NAME: Final = re.compile(r'[<>:"|?*\[\]\x00-\x1f]')  # in the name of a folder, on any system
POINTS: Final = (5.0, 10.0, 25.0, 50.0, 75.0, 90.0, 95.0)  # % of the flights that lie below
BANDS: Final = {50: (2, 4), 80: (1, 5), 90: (0, 6)}  # % of the flights: places of its edges
AGAIN: Final = "a prediction as `goodflight debrief --keep-prediction` wrote it"
MEND: Final = "bring an earlier version back (`goodflight versions`), or take the file away"

Words = Annotated[str, StringConstraints(max_length=200)]
Chance = Annotated[float, Field(ge=0.0, le=1.0)]
Figure = Annotated[float, Field(allow_inf_nan=False)]


class PredictionFile(Table):
    """A prediction. chance : of any failure, that the rows of `unknown` are not part of.

    made : local time with its distance from UTC. afterwards : something of the flight was known.
    rows : chance by failure row. bands : figure -> the points of `POINTS` [SI].
    """

    made: Annotated[str, StringConstraints(pattern=r"^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d")]
    afterwards: bool
    program: Words
    inputs: Words
    plan: Words
    motor: Words
    delay_out_s: Figure
    flights: Annotated[int, Field(ge=1)]
    seed: int
    chance: Chance
    unknown: Annotated[list[Words], Field(max_length=200)]
    rows: Annotated[dict[str, Chance], Field(max_length=200)]
    bands: dict[str, Annotated[list[Figure], Field(min_length=len(POINTS), max_length=len(POINTS))]]

    @property
    def day(self) -> str:
        """The day it was made."""
        return self.made[:10]


def read_prediction(file: str, text: str) -> tuple[Sheet, PredictionFile | None]:
    """A kept prediction; None where it has faults, which are in the sheet."""
    sheet = Sheet(file, text)
    try:
        data: Any = json.loads(text)
    except (ValueError, RecursionError) as error:
        line = getattr(error, "lineno", 1)
        sheet.faults.append(
            Fault(file, line, "", found="a text that is no JSON", expected=AGAIN, advice=MEND)
        )
        sheet.readable = False
        return sheet, None
    if isinstance(data, dict):
        sheet.data = data
    found = sheet.check((), data, PredictionFile)
    sheet.faults = [
        Fault(e.file, e.line, e.key, found=e.found, expected=e.expected, advice=MEND)
        for e in sheet.faults
    ]
    return sheet, found


def prediction_text(said: PredictionFile) -> str:
    """The file's text."""
    return json.dumps(said.model_dump(), indent=1, ensure_ascii=False) + "\n"


def keep_prediction(
    project: "Project", flight: str, predict: Callable[[bool], PredictionFile]
) -> "Project":
    """Write what is predicted of a flight beside its notes; the project anew.

    Parameters
    ----------
    project : Project - as loaded from its folder. [-]
    flight : str - its folder in flights/; made when it is not there. [-]
    predict : callable - whether a log lies there -> the prediction, or a refusal. [-]

    Raises
    ------
    SaveRefused - the name cannot be one of a folder, or nothing can be written there.
    """
    from goodflight.project.saving import opened, write_files

    place = f"{FLIGHTS}/{flight}"
    file = f"{place}/{PREDICTION}"
    if not is_project_file(file) or NOT_A_NAME.search(flight):
        raise SaveRefused(f'"{flight}"', "a name of a folder", "take letters, digits and hyphens")
    if project.root is None:
        raise SaveRefused("this project was not read from a folder; load it from one to save it")
    with opened(project.root) as folder:
        logged = any(is_log(f"{place}/{name}") for name in folder.names(place))
    return write_files(project, {file: prediction_text(predict(logged))})
