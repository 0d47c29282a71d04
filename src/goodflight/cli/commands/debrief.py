"""`goodflight debrief`: what the flight said, and the log book."""

import textwrap
from datetime import datetime
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

import click

from goodflight.cli import DONE, options, progress
from goodflight.cli.pairs import COLUMN, FILM, pairs
from goodflight.cli.question import Question, loaded, named, say_json
from goodflight.cli.shell import refused, write_file

if TYPE_CHECKING:
    from goodflight.project import Project


@options.folder
@click.argument("flight", required=False)
@options.plan
@click.option("--peak", metavar="HEIGHT", default="", help='The altimeter\'s, e.g. "431 m ± 5 m".')
@click.option(
    "--seen",
    metavar="EVENT=TIME",
    multiple=True,
    help="After lift-off: burnout, apogee, charge, canopy, second_canopy, landing.",
)
@click.option(
    "--film",
    metavar="WHAT=FRAME",
    multiple=True,
    help="Frames of a film: rate (a second), lift_off, and events as in --seen.",
)
@click.option(
    "--keep-prediction",
    "keep",
    is_flag=True,
    help="Before the flight: keep what is predicted in flights/FLIGHT.",
)
@click.option(
    "--with",
    "others",
    metavar="DIR",
    multiple=True,
    type=options.FOLDER,
    help="Judge predictions over the flights of this folder too.",
)
@click.option(
    "--carry-over",
    "carry",
    is_flag=True,
    help="Write what FLIGHT says of the rocket into its readings.",
)
@click.option(
    "--log",
    "log",
    metavar="FILE",
    type=options.FOLDER,
    help="A logger's table; else what lies in flights/FLIGHT.",
)
@click.option(
    "--column",
    metavar="NUMBER=KIND UNIT",
    multiple=True,
    help='Where a column was taken wrongly, e.g. "3=pressure Pa": time, pressure, height, '
    "acceleration, ignore. Kept in the flight's notes.",
)
@click.option(
    "--recording",
    "recording",
    metavar="NUMBER",
    type=click.IntRange(1),
    help="Which flight of a log that holds several. Kept in the flight's notes.",
)
@click.option("--csv", "csv", metavar="FILE", type=options.FOLDER, help="Save the log book.")
@options.units
@options.as_json
def run(
    folder: Path,
    flight: str | None,
    plan: str | None,
    peak: str,
    seen: tuple[str, ...],
    film: tuple[str, ...],
    keep: bool,
    others: tuple[Path, ...],
    carry: bool,
    log: Path | None,
    column: tuple[str, ...],
    recording: int | None,
    csv: Path | None,
    units: str,
    as_json: bool,
) -> int:
    """Ask what the flight said, show it, and write the log book where that was asked for."""
    project, events, columns = loaded(folder, plan), pairs(seen), pairs(column, *COLUMN)
    frames = pairs(film, *FILM)
    progress.ready_kernel()
    if keep:
        return _keep(project, flight, plan, as_json)
    logs = named("project.logs.kept:logs_of")(project, flight or "", log, columns, recording)
    for option, given in (("--column", "".join(column[:1])), ("--recording", recording)):
        if given and not logs:
            wanted = "with --log FILE or a log in flights/FLIGHT"
            raise refused(option, str(given), wanted, "add one")
    more = tuple(loaded(each) for each in others)
    judged = named("project.logs.kept:logs_of_predicted")
    own = {flight: logs[0]} if flight and logs and log is None else {}  # read already
    seen_by = [judged(project, own), *(judged(each) for each in more)]
    with progress.working("flying what was seen"):
        study = named(QUESTION.function)(
            project,
            plan,
            flight,
            peak=peak,
            seen=events,
            others=more,
            logs=logs,
            recorded=seen_by,
            film=frames,
        )
    with progress.working("flying what is next"):
        study = named("studies.questions.debrief:with_next")(project, study)
    carried = named("studies.debriefing.carry:carry_over")(project, study) if carry else None
    if carried is not None:
        project = named("project:write_files")(project, carried.texts)
    if (columns or recording) and flight:
        named("project.logs.kept:remember")(project, flight, logs[0], columns, recording)
    shown = QUESTION.show(study, units, as_json)
    if csv:
        write_file(csv, named("outputs.debrief.table:book_csv")(study))
        if not as_json:
            click.echo(f"Saved in {csv}")
    if carried is not None and not as_json:
        click.echo(textwrap.fill(named("outputs.debrief.words:carried_words")(study, units), 79))
    return shown


def _keep(project: "Project", flight: str | None, plan: str | None, as_json: bool) -> int:
    """Predict a flight and keep that with it."""
    if not flight:
        raise refused("FLIGHT", "nothing", "a name for the flight", "name its folder in flights/")
    now = datetime.now().astimezone().isoformat(timespec="seconds")
    predict = partial(named("studies.debriefing.predicting:prediction"), project, flight, plan, now)
    with progress.working("flying what is planned"):
        kept = named("project.predictions:keep_prediction")(project, flight, predict)
    said = kept.predictions[flight]
    if as_json:
        say_json(said.model_dump())
    else:
        kept_of = named("studies.debriefing.book:kept_of")
        words = named("outputs.debrief.right_words:kept_words")(flight, kept_of(said))
        click.echo(textwrap.fill(words, 79))
    return DONE


QUESTION = Question(
    name="debrief",
    place=68,
    help="After the flight: what it said of the rocket, and the log book of all flights.",
    asks="What did the flight say, and why did the charge come early or late?",
    how='debrief DIR --peak "551 m ± 5 m" --seen "apogee=10.4 s"',
    function="studies.questions.debrief:debrief",
    beside=(
        "studies.debriefing.predicting:prediction",
        "studies.debriefing.next_flight:next_flight",
        "project.logs.kept:logs_of",
        "project.logs.read:read_log",
    ),
    text="outputs.debrief.text:debrief_text",
    record="outputs.record:record",
    result="studies.questions.debrief:DebriefStudy",
    also=(
        (
            "What is predicted of the next flight, kept so that nobody can move it afterwards?",
            "debrief DIR NAME --keep-prediction",
        ),
        (
            "What do the frames of a film say?",
            "debrief DIR --film rate=30 --film lift_off=212 --film charge=551",
        ),
        ("How do I take what a flight said over to the rocket?", "debrief DIR NAME --carry-over"),
        ("Was the ledger right, over all flights?", "debrief DIR --with OTHER"),
        ("Which flights were flown, which passed, and what broke?", "debrief DIR --csv FILE.csv"),
        (
            "Which delay and motor are next, and what does the next level wait for?",
            "debrief DIR NAME",
        ),
        ("What does my altimeter's log say?", "debrief DIR --log FILE.csv"),
        ("What did the flight I noted in flights/NAME say?", "debrief DIR NAME"),
    ),
    run=run,
)
