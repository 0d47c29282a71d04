"""Commands that ask one question of a project: ledger, fly, delay, draw."""

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

import click

from goodflight.cli import CHECKED, DONE, INCOMPLETE, options
from goodflight.cli.progress import ready_kernel, working
from goodflight.cli.shell import BadInputError, no_such, terminal, write_file

if TYPE_CHECKING:
    from goodflight.project import Project

Study = TypeVar("Study")


def loaded(folder: Path, plan: str | None) -> "Project":
    """The project, with the plan's name checked before anything is flown."""
    from goodflight.interface import load

    project = load(folder)
    names = [each.name for each in project.plans]
    if plan is not None and plan not in names:
        raise BadInputError(no_such("--plan", plan, names))
    return project


def flown(
    ask: Callable[..., Study], folder: Path, plan: str | None, flights: int, seed: int,
    each: str = "",
) -> Study:  # fmt: skip
    """A study that flies a sample, asked of a project, with its progress line."""
    project = loaded(folder, plan)
    ready_kernel()
    with working(f"flying {flights} flights{each}"):
        return ask(project, plan, flights=flights, seed=seed)


@click.command()
@options.folder
@options.plan
@options.flights(2000)
@options.seed
@options.units
@options.as_json
@click.option("--why", metavar="KEY", help="Open one row: formula, inputs, source, remedies.")
@click.option("--worst-first", is_flag=True, help="Sort by what fails, not by phase of the flight.")
@click.option("--next", "what_next", is_flag=True, help="What to measure next, checked by flights.")
@click.option("--base-rates", is_flag=True, help="Rates of what is not computed, beside it.")
@click.option(
    "--check", is_flag=True, help="Exit 3, 4 or 5 if any row is marginal, fails, unknown."
)
def ledger(
    folder: Path, plan: str | None, flights: int, seed: int, units: str, as_json: bool,
    why: str | None, worst_first: bool, what_next: bool, base_rates: bool, check: bool,
) -> int:  # fmt: skip
    """What can still fail, how likely, what drives it, what helps."""
    from goodflight.interface import ledger as ask
    from goodflight.outputs.json_ import absent_record, ledger_record, row_record, to_json
    from goodflight.outputs.terminal import ledger_text, not_here_words
    from goodflight.outputs.terminal_motors import next_text
    from goodflight.outputs.terminal_why import why_text
    from goodflight.studies.rows import LIMIT_STATES

    project = loaded(folder, plan)
    keys = [limit.key for limit in LIMIT_STATES]
    if why is not None and why not in keys:
        raise BadInputError(no_such("--why", why, keys))
    ready_kernel()
    with working(f"flying {flights} flights"):
        answer = ask(
            project, plan, flights=flights, seed=seed, check_next=what_next, base_rates=base_rates,
            remedies=not what_next,
        )  # fmt: skip
    row = next((row for row in answer.rows if row.key == why), None)
    absent = next((each for each in answer.not_here if each.key == why), None)
    if as_json:
        shown = absent and absent_record(absent)
        text = to_json(shown or (row_record(row) if row else ledger_record(answer)))
    elif absent:
        text = f"Not applicable to this rocket. {not_here_words(absent)}\n"
    elif row:
        text = why_text(answer, row, terminal(units))
    elif what_next:
        text = next_text(answer, terminal(units))
    else:
        text = ledger_text(answer, terminal(units), worst_first)
    click.echo(text, nl=False)
    return CHECKED[answer.state] if check else DONE


@click.command()
@options.folder
@options.plan
@click.option("--calm", is_flag=True, help="No wind and no gusts.")
@click.option("--csv", "csv", metavar="FILE", type=options.FOLDER, help="Save the time history.")
@options.units
@options.as_json
def fly(
    folder: Path, plan: str | None, calm: bool, csv: Path | None, units: str, as_json: bool
) -> int:
    """One nominal flight: figures, events, time history."""
    from goodflight.interface import fly as ask
    from goodflight.outputs.csv_ import history_csv
    from goodflight.outputs.json_ import flight_record, to_json
    from goodflight.outputs.terminal_flight import flight_text

    project = loaded(folder, plan)
    ready_kernel()
    report = ask(project, plan, calm=calm)
    if csv:
        write_file(csv, history_csv(report))
    text = to_json(flight_record(report)) if as_json else flight_text(report, terminal(units))
    click.echo(text, nl=False)
    return INCOMPLETE if report.figures.get("apogee_m") is None else DONE


@click.command()
@options.folder
@options.plan
@options.flights(2000)
@options.seed
@options.units
@options.as_json
def delay(
    folder: Path, plan: str | None, flights: int, seed: int, units: str, as_json: bool
) -> int:
    """Every delay the motor allows, the safest first."""
    from goodflight.interface import delay as ask
    from goodflight.outputs.json_ import delay_record, to_json
    from goodflight.outputs.terminal_flight import delay_text

    study = flown(ask, folder, plan, flights, seed, " for each delay")
    text = to_json(delay_record(study)) if as_json else delay_text(study, terminal(units))
    click.echo(text, nl=False)
    return DONE


@click.command()
@options.folder
@options.plan
@options.flights(2000)
@options.seed
@options.units
@options.as_json
def motors(
    folder: Path, plan: str | None, flights: int, seed: int, units: str, as_json: bool
) -> int:
    """Which of your motors this rocket may fly here, and how likely each is to fail."""
    from goodflight.interface import motors as ask
    from goodflight.outputs.json_ import to_json
    from goodflight.outputs.json_motors import motors_record
    from goodflight.outputs.terminal_motors import motors_text

    study = flown(ask, folder, plan, flights, seed, " with each motor")
    text = to_json(motors_record(study)) if as_json else motors_text(study, terminal(units))
    click.echo(text, nl=False)
    return DONE


@click.command()
@options.folder
@options.plan
@click.option("-o", "--out", metavar="FILE", type=options.FOLDER, help="Where the SVG goes.")
@options.units
@options.as_json
def draw(folder: Path, plan: str | None, out: Path | None, units: str, as_json: bool) -> int:
    """A workshop print of the rocket as SVG: stations, CG, CP, margin."""
    from goodflight.outputs.drawing_svg import drawing_svg
    from goodflight.outputs.json_ import layout_record, to_json
    from goodflight.studies.questions.layout import layout

    sheet = layout(loaded(folder, plan), plan)
    target = out or Path(f"{folder.resolve().name}.svg")
    write_file(target, drawing_svg(sheet, units))
    if as_json:
        click.echo(to_json(layout_record(sheet) | {"file": str(target)}), nl=False)
    else:
        click.echo(f"Drawing of {sheet.rocket} saved in {target}")
    return DONE
