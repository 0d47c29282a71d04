"""`goodflight ledger`: everything that can still fail, or one row of it."""

from pathlib import Path
from typing import TYPE_CHECKING

import click

from goodflight.cli import CHECKED, DONE, options, progress
from goodflight.cli.question import Question, loaded, named, say_json
from goodflight.cli.shell import BadInputError, no_such, terminal

if TYPE_CHECKING:
    from goodflight.studies.results import Ledger


@options.folder
@options.plan
@options.flights(2000)
@options.seed
@options.units
@options.as_json
@click.option("--why", metavar="KEY", help="Open one row: formula, inputs, source, remedies.")
@click.option("--all", "every", is_flag=True, help="Every row with its strip, pad to ground.")
@click.option("--worst-first", is_flag=True, help="Every row, sorted by what fails.")
@click.option("--next", "what_next", is_flag=True, help="What to measure next, checked by flights.")
@click.option("--base-rates", is_flag=True, help="What no calculation sees: checks and rates.")
@click.option(
    "--check", is_flag=True, help="Exit 3, 4 or 5 if any row is marginal, fails, unknown."
)
def run(
    folder: Path,
    plan: str | None,
    flights: int,
    seed: int,
    units: str,
    as_json: bool,
    why: str | None,
    every: bool,
    worst_first: bool,
    what_next: bool,
    base_rates: bool,
    check: bool,
) -> int:
    """Ask for the ledger and show it, what to measure next, or one row."""
    project = loaded(folder, plan)
    if why is not None:
        keys = [limit.key for limit in named("studies.rows:LIMIT_STATES")]
        if why not in keys:
            raise BadInputError(no_such("--why", why, keys))
    progress.ready_kernel()
    with progress.working(f"simulating {flights} flights", patience_s=0.0):  # always takes long
        answer = named(QUESTION.function)(
            project,
            plan,
            flights=flights,
            seed=seed,
            check_next=what_next,
            base_rates=base_rates,
            remedies=not what_next,
        )
    if why is not None:
        _show_why(answer, why, units, as_json)
    elif as_json:
        QUESTION.show(answer, units, as_json)
    elif what_next:
        text = named("outputs.motors.text:next_text")(answer, terminal(units))
        click.echo(text, nl=False)
    elif every or worst_first:
        text = named("outputs.ledger.text:ledger_text")(answer, terminal(units), worst_first)
        click.echo(text, nl=False)
    else:
        click.echo(named(QUESTION.text)(answer, terminal(units)), nl=False)
    return CHECKED[answer.state] if check else DONE


def _show_why(answer: "Ledger", key: str, units: str, as_json: bool) -> None:
    from goodflight.outputs.ledger.json_ import row_record
    from goodflight.outputs.ledger.text import not_here_words
    from goodflight.outputs.ledger.why import why_text
    from goodflight.outputs.record import record

    absent = next((each for each in answer.not_here if each.key == key), None)
    row = next((row for row in answer.rows if row.key == key), None)
    if absent is not None:
        words = f"Not applicable to this rocket. {not_here_words(absent)}\n"
        say_json(record(absent)) if as_json else click.echo(words, nl=False)
    elif row is not None and as_json:
        say_json(row_record(row))
    elif row is not None:
        click.echo(why_text(answer, row, terminal(units)), nl=False)


QUESTION = Question(
    name="ledger",
    place=30,
    help="What can still fail, how likely, what drives it, what helps.",
    asks="What can still fail this flight, how likely, and what helps?",
    how="ledger DIR",
    function="studies.questions.ledger:ledger",
    text="outputs.ledger.short:short_text",
    record="outputs.ledger.json_:ledger_record",
    result="studies.results:Ledger",
    more="outputs.ledger.json_:MORE",
    flights=2000,
    also=(
        ("Why does a row say what it says?", "ledger DIR --why KEY"),
        ("Every row with its strip, pad to ground?", "ledger DIR --all"),
        ("What do I measure next?", "ledger DIR --next"),
        ("How often do things go wrong that are not computed?", "ledger DIR --base-rates"),
        (
            "Which rules hold at this field, and which are not stated?",
            "ledger DIR, rows of the code; `code` in the site file names the set",
        ),
    ),
    run=run,
)
