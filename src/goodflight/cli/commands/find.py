"""`goodflight find`: where to look for the rocket, from what was seen of its flight."""

from datetime import date
from pathlib import Path

import click

from goodflight.cli import options, progress
from goodflight.cli.pairs import pairs
from goodflight.cli.question import Question, loaded, named
from goodflight.cli.shell import refused, write_bytes, write_file


@options.folder
@options.plan
@click.option(
    "--seen",
    metavar="EVENT=TIME",
    multiple=True,
    help="After lift-off: apogee, ejection, canopy, last_seen, landing.",
)
@click.option(
    "--bearing",
    "bearings",
    metavar="SIGHT",
    multiple=True,
    help='"pad: 52 deg compass", "hut (-60, 40): 48 deg true", "pad: over 900, 1200".',
)
@click.option(
    "--declination",
    metavar="ANGLE",
    default="",
    help='Of the compass, e.g. "3 deg east": from a map, never guessed.',
)
@click.option("--nothing-opened", is_flag=True, help="Seen to come down without a canopy.")
@click.option("--wind", metavar="SPEED", default="", help='As measured, e.g. "4.5 m/s ± 0.5 m/s".')
@click.option("--wind-from", metavar="BEARING", default="", help='E.g. "240 deg ± 10 deg".')
@click.option(
    "--cover",
    default="short",
    show_default=True,
    type=click.Choice(["short", "knee", "hip", "tall"]),
    help="What stands on the ground.",
)
@click.option(
    "--people", default=1, show_default=True, type=click.IntRange(1, 99), help="How many walk."
)
@click.option("--pad", metavar="LON,LAT", default="", help="Of the pad, degrees; for --gpx.")
@click.option("--at", metavar="TIME", default="", help='Now, e.g. "2026-10-17 14:20".')
@click.option("--zone", metavar="HOURS", default="", help="Of that clock, before UTC, e.g. +2.")
@click.option("--gpx", metavar="FILE", type=options.FOLDER, help="Lanes for a receiver, GPX 1.1.")
@click.option("--pdf", metavar="FILE", type=options.FOLDER, help="Strip map on one sheet.")
@click.option("--svg", metavar="FILE", type=options.FOLDER, help="Map as a drawing.")
@options.flights(2000)
@options.seed
@options.units
@options.as_json
def run(
    folder: Path,
    plan: str | None,
    seen: tuple[str, ...],
    gpx: Path | None,
    pdf: Path | None,
    svg: Path | None,
    units: str,
    as_json: bool,
    **asked: object,
) -> int:
    """Ask where to look, show it, and write the files that were asked for."""
    project = loaded(folder, plan)
    events = pairs(seen)
    progress.ready_kernel()
    with progress.working("flying until enough flights agree with what was seen"):
        study = named(QUESTION.function)(project, plan, seen=events, **asked)
    if gpx and study.pad_lonlat is None:
        raise refused(
            "--gpx",
            "a pad without longitude and latitude",
            '--pad "11.5812, 52.1304"',
            "longitude first; or write the field's outline in degrees",
        )
    shown = QUESTION.show(study, units, as_json)
    if gpx:
        write_file(gpx, named("outputs.find.gpx:find_gpx")(study))
    if svg:
        write_file(svg, named("outputs.find.map_svg:find_svg")(study, units, alone=True))
    if pdf:
        foot = (date.today().isoformat(),)
        write_bytes(pdf, named("outputs.find.sheet:find_pdf")(study, units, foot=foot))
    for each in (gpx, svg, pdf):
        if each and not as_json:
            click.echo(f"Saved in {each}")
    return shown


QUESTION = Question(
    name="find",
    place=66,
    help="Where to look after the flight: patch, lanes to walk, last light.",
    asks="Where did it come down, and how do I search for it?",
    how='find DIR --seen "landing=104 s" --bearing "pad: 52 deg true"',
    function="studies.questions.find:find",
    text="outputs.find.text:find_text",
    record="outputs.record:record",
    result="studies.questions.find:FindStudy",
    flights=2000,
    run=run,
)
