"""What a command is: one question, declared once, with the study that answers and how it is shown.

From the declaration come the command with the options it shares, its help, docs/commands.md, its
line in docs/questions.md, its fields in docs/json.md, the public Python function and the tests.
Nothing of it is loaded before it is asked: a study is named by its place, "module:name".
"""

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from goodflight.cli import DONE, options, progress
from goodflight.cli.shell import BadInputError, no_such, terminal

if TYPE_CHECKING:
    from goodflight.project import Project

Decorate = Callable[[Any], Any]  # what `click.option` hands back


class _Command(click.Command):
    """A command whose further options are worked out when it is asked, not when it is listed."""

    late: tuple[Decorate, ...] = ()

    def get_params(self, ctx: click.Context) -> list[click.Parameter]:
        """All options, the late ones last."""
        late, self.late = self.late, ()
        if late:
            bare = click.Command(None, callback=None)
            for decorate in reversed(late):
                decorate(bare)
            self.params += bare.params[::-1]
        return super().get_params(ctx)


@dataclass(frozen=True)
class Question:
    """One command.

    name : what is typed; place : where it stands in lists, smaller first; help : its first line.
    asks, how : the question and what is typed for it, by whoever reads docs/questions.md; also :
    further pairs that the same command answers; see : a page of the docs with more.
    function : public Python function; public : its name in Python, where it is another; beside :
    further public functions that belong to it.
    text, record : the result as text and as data for JSON, from functions of `outputs`.
    result : dataclass whose fields say what they mean, where the record is made from it; more :
    what is added to them; fields : sections of docs/json.md from `json_fields`, or what stands
    there of the command's own section;
    answers : headings with such dataclasses, where it may answer with one or another.
    project : whether it asks a project, so takes DIR and --plan. flights : flights simulated by
    default, 0 = it flies none; each : "with each motor". options : own options; their values are
    handed to the function. run : what the command does, where asking and showing is not all.
    """

    name: str
    place: int
    help: str
    asks: str
    how: str
    function: str
    public: str = ""
    beside: tuple[str, ...] = ()
    text: str = ""
    record: str = ""
    fields: tuple[str, ...] = ()
    result: str = ""
    more: str = ""
    answers: tuple[tuple[str, str], ...] = ()
    project: bool = True
    flights: int = 0
    each: str = ""
    options: tuple[Decorate, ...] = ()
    also: tuple[tuple[str, str], ...] = ()
    see: str = ""
    run: Callable[..., int] | None = None

    @property
    def python(self) -> str:
        """The name of its function in Python."""
        return self.public or self.name

    def sections(self) -> dict[str, dict[str, str]]:
        """Its part of docs/json.md: section -> field -> meaning."""
        from goodflight.outputs.json_fields import FIELDS

        listed: dict[str, dict[str, str]] = {}
        more = (named(self.more),) if self.more else ()
        if self.result:
            listed = named("outputs.record:sections")(named(self.result), self.name, *more)
        for name in self.fields:
            listed[name] = listed.get(name, {}) | FIELDS[name]
        for heading, result in self.answers:
            listed |= named("outputs.record:sections")(named(result), heading, *more)
        return listed

    def command(self) -> click.Command:
        """The command of the command line."""
        callback = self.run or self._shared()
        made = click.command(self.name, help=self.help, cls=_Command)(callback)
        made.late = self.options
        return made

    def _shared(self) -> Callable[..., Any]:
        """`answer` with the options that most commands have."""
        callback: Callable[..., Any] = partial(self.answer)  # click leaves its marks on it
        shared: list[Decorate] = [options.folder, options.plan] if self.project else []
        if self.flights:
            shared += [options.flights(self.flights), options.seed]
        for decorate in reversed([*shared, options.units, options.as_json]):
            callback = decorate(callback)
        return callback

    def answer(
        self,
        folder: Path | None = None,
        plan: str | None = None,
        units: str = "metric",
        as_json: bool = False,
        **asked: Any,
    ) -> int:
        """Ask the study and show what it says."""
        known: tuple[Any, ...] = ()
        if folder is not None:
            known = (loaded(folder, plan), plan)
        if not self.flights:
            return self.show(named(self.function)(*known, **asked), units, as_json)
        progress.ready_kernel()
        with progress.working(f"flying {asked['flights']} flights {self.each}".rstrip()):
            result = named(self.function)(*known, **asked)
        return self.show(result, units, as_json)

    def show(self, result: Any, units: str, as_json: bool) -> int:
        """Show a result as text or as JSON."""
        if as_json:
            say_json(named(self.record)(result))
        else:
            click.echo(named(self.text)(result, terminal(units)), nl=False)
        return DONE


def say_json(record: dict[str, Any]) -> None:
    """A record on stdout."""
    from goodflight.outputs.json_ import to_json

    click.echo(to_json(record), nl=False)


def named(place: str) -> Any:
    """What stands at a place of the package, "studies.questions.delay:delay"."""
    module, _, name = place.partition(":")
    return getattr(import_module(f"goodflight.{module}"), name)


def loaded(folder: Path, plan: str | None = None, option: str = "--plan") -> "Project":
    """The project, with the plan's name checked before anything is flown."""
    project: Project = named("interface:load")(folder)
    names = [each.name for each in project.plans]
    if plan is not None and plan not in names:
        raise BadInputError(no_such(option, plan, names))
    return project
