"""Commands about the project folder itself: demo, versions, restore."""

import shlex
import sys
from pathlib import Path

import click

from goodflight.cli import BAD_INPUT, DONE, options
from goodflight.cli.shell import BadInputError, show_faults


@click.command()
@click.argument("folder", metavar="[DIR]", type=options.FOLDER, default=Path("fieldfare"))
@click.option(
    "--page/--no-page",
    default=None,
    help="Open the page afterwards, or not; without a word, only at a terminal.",
)
@click.pass_context
def demo(context: click.Context, folder: Path, page: bool | None) -> int:
    """Write the demo project (all invented) to DIR, show its ledger and open its page."""
    from goodflight.cli.serve import serve
    from goodflight.cli.study_commands import ledger
    from goodflight.project.demo import write_demo
    from goodflight.project.disk import begun

    if begun(folder):
        click.echo(f"goodflight: {folder} is already there; this is its ledger", err=True)
    else:
        write_demo(folder)
        click.echo(f"goodflight: demo project written to {folder}", err=True)
    code = context.invoke(ledger, folder=folder)
    at_terminal = sys.stdin.isatty() and sys.stdout.isatty()
    if page or (page is None and at_terminal):
        code = context.invoke(serve, folder=folder)
    return code if isinstance(code, int) else DONE


def check_folder(folder: Path) -> None:
    """Refuse a place that is no folder."""
    from goodflight.project.places import kind_of

    kind = kind_of(folder)
    if kind != "a folder":
        raise BadInputError(
            {
                "file": str(folder),
                "found": kind or "no such folder",
                "expected": "a project folder",
                "advice": "name an existing folder, or make one with `goodflight new`",
            }
        )


@click.command()
@options.folder
@click.argument("file", required=False)
@click.option("--keep", metavar="N", type=click.IntRange(min=1),
              help="Mark version N of FILE: it is never pruned.")  # fmt: skip
@click.option("--release", metavar="N", type=click.IntRange(min=1), help="Take the mark away.")
@options.as_json
def versions(
    folder: Path, file: str | None, keep: int | None, release: int | None, as_json: bool
) -> int:
    """Earlier versions of the project's files, or of FILE, the newest last.

    The newest 100 of a file stay, of older ones the last of each day and those marked with --keep.
    """
    from goodflight.outputs.json_ import to_json
    from goodflight.project.history import files_with_versions
    from goodflight.project.saving import keep_version
    from goodflight.project.saving import versions as of_file

    check_folder(folder)
    for number, marked in ((keep, True), (release, False)):
        if number is not None:
            if file is None:
                words = "name the FILE whose version is meant"
                raise click.UsageError(words, click.get_current_context())
            keep_version(folder, file, number, marked)
    files = files_with_versions(folder) if file is None else [file]
    kept = [each for name in files for each in of_file(folder, name)]
    if as_json:
        rows = [
            {"file": v.file, "version": v.number, "saved": v.saved, "kept": v.kept} for v in kept
        ]
        click.echo(to_json({"versions": rows}), nl=False)
    elif not kept:
        click.echo("No earlier versions: no file of this project was changed by goodflight.")
    else:
        for each in kept:
            mark = "  kept" if each.kept else ""
            click.echo(f"{each.file}  version {each.number}  saved {each.saved}{mark}")
        click.echo(f"Bring one back: goodflight restore {shlex.quote(str(folder))} FILE VERSION")
    return DONE


@click.command()
@options.folder
@click.argument("file")
@click.argument("version", type=click.IntRange(min=1))
def restore(folder: Path, file: str, version: int) -> int:
    """Bring back an earlier VERSION of FILE in DIR.

    The text that stands there now becomes a version itself. Works on a project with faults, too.
    """
    from goodflight.project.saving import bring_back

    check_folder(folder)
    left = bring_back(folder, file, version)
    click.echo(f"{file} is version {version} again; what stood there is now the newest version.")
    if left:
        click.echo("The project still has faults:", err=True)
        show_faults([vars(fault) for fault in left], as_json=False)
        return BAD_INPUT
    return DONE
