"""The public Python interface: load a project, fly it, ask for its ledger, rank its delays.

The same functions stand behind the command line, so the answers agree.
"""

from pathlib import Path
from typing import TYPE_CHECKING

from goodflight.project import Project, ProjectErrors, Refused
from goodflight.project import load as _load

if TYPE_CHECKING:  # each study is loaded by the question that needs it
    from goodflight.studies.results import DelayStudy, FlightReport, Ledger, MotorStudy

__all__ = ["ProjectErrors", "Refused", "delay", "demo", "fly", "ledger", "load", "motors"]


def load(folder: str | Path) -> Project:
    """Read a project folder.

    Parameters
    ----------
    folder : str or Path - holds rocket.toml, plans.toml, motors/, sites/. [-]

    Returns
    -------
    project : Project - everything in it, checked. [-]

    Raises
    ------
    ProjectErrors - something in the files is wrong; `.faults` lists all of it at once.
    """
    return _load(Path(folder))


def demo(folder: str | Path) -> Project:
    """Write the demo project (all of it invented) to a new folder and load it.

    Parameters
    ----------
    folder : str or Path - must not exist yet, or be empty. [-]

    Returns
    -------
    project : Project - the demo. [-]

    Raises
    ------
    SaveRefused - the folder holds something already, or cannot be written.
    """
    from goodflight.project.demo import write_demo

    write_demo(Path(folder))
    return load(folder)


def fly(project: Project, plan: str | None = None, calm: bool = False) -> "FlightReport":
    """One nominal flight of a plan.

    Parameters
    ----------
    project : Project - from `load`. [-]
    plan : str or None - name of the plan; None takes the first. [-]
    calm : bool - no wind and no gusts. [-]

    Returns
    -------
    report : FlightReport - figures with units in their names, events, time history. [SI]

    Raises
    ------
    NoSuchPlan - no plan has this name; StudyRefused - this rocket cannot be flown.
    """
    from goodflight.studies.questions.fly import nominal_flight

    return nominal_flight(project, plan, calm=calm)


def ledger(
    project: Project, plan: str | None = None, flights: int = 2000, seed: int = 1,
    check_next: bool = False, base_rates: bool = False, remedies: bool = True,
) -> "Ledger":  # fmt: skip
    """What can still fail a planned flight, how likely, what drives it, and what helps.

    Parameters
    ----------
    project : Project - from `load`. [-]
    plan : str or None - name of the plan; None takes the first. [-]
    flights : int - flights simulated. [-]
    seed : int - the same seed gives the same answer on one machine. [-]
    check_next : bool - fly again to check what to measure next. [-]
    base_rates : bool - put rates of what is not computed beside it, never into it. [-]
    remedies : bool - fly what the builder can change as well. [-]

    Returns
    -------
    ledger : Ledger - rows in the order of the flight, and the total. [-]

    Raises
    ------
    NoSuchPlan - no plan has this name; StudyRefused - this rocket cannot be flown.
    """
    from goodflight.studies.questions.ledger import ledger as _ledger

    return _ledger(
        project, plan, flights=flights, seed=seed, remedies=remedies, check_next=check_next,
        base_rates=base_rates,
    )  # fmt: skip


def delay(
    project: Project, plan: str | None = None, flights: int = 2000, seed: int = 1
) -> "DelayStudy":
    """Every delay the motor allows, the lowest total chance first.

    Parameters
    ----------
    project : Project - from `load`. [-]
    plan : str or None - name of the plan; None takes the first. [-]
    flights : int - flights simulated for each delay. [-]
    seed : int - the same seed gives the same answer on one machine. [-]

    Returns
    -------
    study : DelayStudy - one row per delay. [-]

    Raises
    ------
    NoSuchPlan - no plan has this name; StudyRefused - the motor has no delay to shorten.
    """
    from goodflight.studies.questions.delay import delay as _delay

    return _delay(project, plan, flights=flights, seed=seed)


def motors(
    project: Project, plan: str | None = None, flights: int = 2000, seed: int = 1
) -> "MotorStudy":
    """Every motor of the folder on this rocket and field: may it fly, how likely to fail, why.

    Parameters
    ----------
    project : Project - from `load`. [-]
    plan : str or None - name of the plan; None takes the first. [-]
    flights : int - flights simulated for each motor. [-]
    seed : int - the same seed gives the same answer on one machine. [-]

    Returns
    -------
    study : MotorStudy - one row per motor, at the best delay it allows. [-]

    Raises
    ------
    NoSuchPlan - no plan has this name; StudyRefused - this rocket cannot be flown.
    """
    from goodflight.studies.questions.motors import motors as _motors

    return _motors(project, plan, flights=flights, seed=seed)
