"""Commands for the workbench: print (templates, guides, lists, book) and order (of assembly)."""

from pathlib import Path
from typing import TYPE_CHECKING

import click

from goodflight.cli import CHECKED, DONE, options
from goodflight.cli.shell import BadInputError, write_bytes

if TYPE_CHECKING:
    from goodflight.outputs.bench.paper import Scale
    from goodflight.project import Project

WHAT = ("templates", "guides", "cutlist", "packing", "book")
FORMATS = ("pdf", "svg", "dxf", "stl", "3mf")


def refused(where: str, found: str, expected: str, advice: str) -> BadInputError:
    """One fault of the command line or of a file named there."""
    return BadInputError({"file": where, "found": found, "expected": expected, "advice": advice})


def _length(option: str, text: str | None) -> float | None:
    from goodflight.quantity import QuantityError, parse

    if text is None:
        return None
    try:
        return parse(text, "length").value
    except QuantityError as error:
        raise refused(option, error.found, error.expected, error.advice) from error


def _scale(across: str | None, down: str | None) -> "Scale":
    from goodflight.outputs.bench.paper import scale_from

    first, second = _length("--measured-check", across), _length("--measured-down", down)
    try:
        return scale_from(first, second)
    except ValueError as error:
        raise refused("--measured-check", across or down or "", "close to 150 mm",
                      str(error)) from error  # fmt: skip


@click.command(name="print")
@options.folder
@options.plan
@click.option("--what", default="templates", show_default=True, type=click.Choice(WHAT),
              help="What to print.")  # fmt: skip
@click.option("--paper", default="a4", show_default=True, type=click.Choice(["a4", "letter"]),
              help="Paper of the PDF.")  # fmt: skip
@click.option("--format", "kind", default="pdf", show_default=True, type=click.Choice(FORMATS),
              help="PDF tiled 1:1; SVG and DXF to cut; STL and 3MF: guide.")  # fmt: skip
@click.option("-o", "--out", metavar="FILE", type=options.FOLDER, help="Where it goes.")
@click.option("--measured-check", metavar="LENGTH",
              help="Bar across on a first print, e.g. 149.6mm.")  # fmt: skip
@click.option("--measured-down", metavar="LENGTH", help="The same of the upright bar.")
@click.option("--cut-lines", is_flag=True, help="SVG, DXF: lines moved out by half the kerf.")
@options.as_json
def print_command(
    folder: Path, plan: str | None, what: str, paper: str, kind: str, out: Path | None,
    measured_check: str | None, measured_down: str | None, cut_lines: bool, as_json: bool,
) -> int:  # fmt: skip
    """True-size templates, fin guides, cut list, packing, build book."""
    from goodflight.interface import load
    from goodflight.outputs.bench import files
    from goodflight.outputs.json_ import to_json
    from goodflight.studies.bench.answers import answer

    if kind not in files.ALLOWED[what]:
        raise refused("--format", kind, f"for {what}: " + ", ".join(files.ALLOWED[what]),
                      "take one of these formats")  # fmt: skip
    request = files.Request(kind, paper, _scale(measured_check, measured_down), cut_lines)
    made = files.make(answer(load(folder), what, kind in files.SOLIDS, plan), request)
    target = out or Path(f"{folder.resolve().name}-{what}.{kind}")
    write_bytes(target, made.content)
    if as_json:
        click.echo(to_json({"file": str(target), "what": what, **made.record}), nl=False)
    else:
        click.echo(f"{made.summary}\nSaved in {target}")
    return DONE


@click.command()
@options.folder
@options.plan
@click.option("--check", metavar="FILE", type=options.FOLDER,
              help="Check your own order: one step a line, by key or title.")  # fmt: skip
@click.option("--tick", metavar="STEP", help="Mark a step as done, in build.toml.")
@click.option("--untick", metavar="STEP", help="Mark a step as not done.")
@click.option("--mass", metavar="MASS", help="With --tick: weight at this state, e.g. 212 g.")
@click.option("--photo", metavar="FILE", help="With --tick: file name of a photo.")
@options.as_json
def order(
    folder: Path, plan: str | None, check: Path | None, tick: str | None, untick: str | None,
    mass: str | None, photo: str | None, as_json: bool,
) -> int:  # fmt: skip
    """Order of assembly: no step blocks access to a later one."""
    from goodflight.interface import load
    from goodflight.outputs.bench.order_text import order_record, order_text
    from goodflight.outputs.json_ import to_json
    from goodflight.studies.bench.steps import assembly_order

    project = load(folder)
    if check is not None:
        return _check(project, plan, check, as_json)
    if tick or untick:
        project = _tick(project, tick or untick or "", bool(tick), mass, photo)
    found = assembly_order(project, plan)
    click.echo(to_json(order_record(found)) if as_json else order_text(found), nl=False)
    return DONE


def _check(project: "Project", plan: str | None, file: Path, as_json: bool) -> int:
    from goodflight.outputs.bench.order_text import keys_in, refusal_record, refusal_text
    from goodflight.outputs.json_ import to_json
    from goodflight.studies.bench.order import check_order
    from goodflight.studies.bench.steps import steps_of

    try:
        text = file.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError) as error:
        raise refused(str(file), str(error), "a text file with one step a line",
                      "see `goodflight order DIR` for the steps' keys") from error  # fmt: skip
    steps = steps_of(project, plan)
    refusals = check_order(steps, keys_in(text, steps))
    words = to_json(refusal_record(refusals)) if as_json else refusal_text(refusals)
    click.echo(words, nl=False)
    return CHECKED["fails" if refusals else "ok"]


def _tick(
    project: "Project", key: str, done: bool, mass: str | None, photo: str | None
) -> "Project":
    from goodflight.quantity import QuantityError, parse
    from goodflight.studies.bench.steps import steps_of
    from goodflight.studies.bench.ticking import tick as save

    keys = [step.key for step in steps_of(project)]
    if key not in keys:
        from goodflight.cli.shell import no_such

        raise BadInputError(no_such("--tick" if done else "--untick", key, keys))
    if mass is not None:
        try:
            parse(mass, "mass")
        except QuantityError as error:
            raise refused("--mass", error.found, error.expected, error.advice) from error
    return save(project, key, done, mass, photo)
