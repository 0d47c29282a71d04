"""What a command did rather than worked out, as data: a folder begun, a file saved, a text back."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Annotated, Any, Protocol

from goodflight.outputs.ledger.json_ import MORE
from goodflight.outputs.record import record
from goodflight.studies.results import Ledger


@dataclass(frozen=True)
class Demo:
    """The demo, and what can still fail its flight."""

    folder: Annotated[str, "where the project is"]
    written: Annotated[bool, "false: a project stood there already, and nothing was written"]
    ledger: Annotated[Ledger, "what can still fail its first plan"]


@dataclass(frozen=True)
class Assumption:
    """What was taken for granted, as it stands in the files."""

    key: Annotated[str, "the question it answers, see `new --list`"]
    text: Annotated[str, "what was taken, as it is written"]


@dataclass(frozen=True)
class Begun:
    """A first project from answers."""

    folder: Annotated[str, "where the project is"]
    name: Annotated[str, "the rocket's name"]
    files: Annotated[tuple[str, ...], "what was written, paths inside the folder"]
    motor: Annotated[str | None, "motor of its plan; null: none is chosen, so nothing is flown"]
    assumptions: Annotated[tuple[Assumption, ...], "taken until it is changed"]


@dataclass(frozen=True)
class FormChoice:
    """One of the answers that a question takes."""

    key: Annotated[str, "what is written"]
    words: Annotated[str, "what it means"]


@dataclass(frozen=True)
class AskedFirst:
    """A question of the first form."""

    key: Annotated[str, "its name in a file of answers"]
    group: Annotated[
        str, "asked; assumed: has a default that is told; motor, known: may stay empty"
    ]
    prompt: Annotated[str, "what is asked"]
    dimension: Annotated[str, "kind of quantity, or of text"]
    default: Annotated[str, "what an empty answer gives; empty: it stays unknown"]
    why: Annotated[str, "what it is for, or where it is found"]
    choices: Annotated[tuple[FormChoice, ...], "all that it may be; empty: anything"]


@dataclass(frozen=True)
class FirstForm:
    """Every question of the first form."""

    questions: Annotated[tuple[AskedFirst, ...], "in the order they are asked"]


@dataclass(frozen=True)
class Opened:
    """A project out of an archive."""

    folder: Annotated[str, "where the project is"]
    name: Annotated[str, "the rocket's name"]


@dataclass(frozen=True)
class LeftFault:
    """What is still wrong in a project."""

    file: Annotated[str, "path inside the project"]
    line: Annotated[int, "1 for the first, 0: the file itself"]
    key: Annotated[str, "entry"]
    found: Annotated[str, "what stands there"]
    expected: Annotated[str, "what may stand there"]
    advice: Annotated[str, "what to do"]


@dataclass(frozen=True)
class Restored:
    """An earlier text that stands again."""

    file: Annotated[str, "path inside the project"]
    version: Annotated[int, "its number; what stood there is the newest now"]
    left: Annotated[
        tuple[LeftFault, ...], "what is still wrong in the project, and why the exit code is 2"
    ]


@dataclass(frozen=True)
class Sent:
    """A file to hand on."""

    file: Annotated[str, "where it was saved"]
    what: Annotated[str, "page: to read in a browser; archive: the whole project, for `open`"]
    name: Annotated[str, "the rocket's name"]
    size_bytes: Annotated[int, "its size"]


@dataclass(frozen=True)
class Serving:
    """A page that is being served: one line, as soon as it may be asked."""

    folder: Annotated[str, "whose page it is; need not hold a project yet"]
    address: Annotated[str, "where a browser on this machine finds it"]
    from_others: Annotated[str | None, "the same for other machines, with --lan; null: none may"]
    code: Annotated[
        str | None, "lets one of them in, with --lan; the next codes are said on stderr"
    ]
    process: Annotated[int, "number of the process; SIGINT, as Ctrl-C sends it, ends it with 0"]


class Asking(Protocol):
    """A question of the first form, as the project declares it."""

    @property
    def id(self) -> str: ...
    @property
    def prompt(self) -> str: ...
    @property
    def dimension(self) -> str: ...
    @property
    def default(self) -> str: ...
    @property
    def why(self) -> str: ...
    @property
    def choices(self) -> Sequence[str | tuple[str, str]]: ...


def first_form(groups: Mapping[str, Iterable[Asking]]) -> FirstForm:
    """The questions of the first form, group by group."""

    def choice(each: str | tuple[str, str]) -> FormChoice:
        return FormChoice(each, each) if isinstance(each, str) else FormChoice(*each)

    return FirstForm(
        tuple(
            AskedFirst(
                key=each.id,
                group=group,
                prompt=each.prompt,
                dimension=each.dimension,
                default=each.default,
                why=each.why,
                choices=tuple(map(choice, each.choices)),
            )
            for group, asked in groups.items()
            for each in asked
        )
    )


def demo_record(result: Demo) -> dict[str, Any]:
    """The demo with its ledger as `ledger` has it."""
    return record(result, MORE)
