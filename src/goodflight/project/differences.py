"""What differs between two states of the files, entry by entry, and how three of them are merged.

An entry is named as faults name it, `part[nose].mass`. Comments, blank lines and the order of the
tables hold no entries: a file in which only those differ says so. A text that is no TOML is
compared by lines, and a long one not at all.
"""

import tomllib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from difflib import SequenceMatcher
from typing import Any, Final

from goodflight.project.budgets import MAX_COMPARED, long_text
from goodflight.project.sheets import key_of

THERE: Final = "there"
NO_ENTRY: Final = "comments, blank lines or the order of the tables"


@dataclass(frozen=True)
class Change:
    """One entry that differs. `before` and `after` are empty where it does not stand."""

    file: str
    key: str  # empty when the file differs in something that is no entry
    before: str
    after: str

    @property
    def place(self) -> str:
        """File and entry, as paths name them."""
        return f"{self.file}:{self.key}" if self.key else self.file


@dataclass(frozen=True)
class Clash:
    """One entry that two hands changed; `drawn` is None when that state is not remembered."""

    key: str
    drawn: str | None
    now: str
    yours: str


@dataclass(frozen=True)
class Merged:
    """Entries put together: texts to show, those both changed, those only one side changed."""

    texts: Mapping[str, str]
    clashes: Mapping[str, Clash]
    theirs: tuple[str, ...]
    yours: tuple[str, ...]


def plain(text: str) -> str:
    """Return a text as a form writes it: blanks at its ends and doubled ones do not count."""
    return " ".join(text.split())


def as_text(value: Any) -> str:
    """Return a TOML value as a form shows it: a text without its quotes, all else as written."""
    import tomlkit

    return value if isinstance(value, str) else tomlkit.item(value).as_string().strip()


def entries_in(text: str) -> dict[str, str] | None:
    """Return every entry of a TOML text by its key, None when the text is no TOML."""
    try:
        data = tomllib.loads(text)
    except (ValueError, RecursionError):
        return None
    return {key_of(path, data): as_text(value) for path, value in _leaves((), data)}


def _leaves(path: tuple[str | int, ...], value: Any) -> Iterator[tuple[Any, Any]]:
    rows = isinstance(value, list) and value and all(isinstance(row, dict) for row in value)
    if isinstance(value, dict):
        for key, inner in value.items():
            yield from _leaves((*path, key), inner)
    elif rows:
        for number, row in enumerate(value):
            yield from _leaves((*path, number), row)
    else:
        yield path, value


def changes_between(
    before: Mapping[str, str | None],
    after: Mapping[str, str | None],
    files: Iterable[str] | None = None,
) -> tuple[Change, ...]:
    """Return what differs between two states of the files.

    Parameters
    ----------
    before : mapping - texts by path inside the folder. [-]
    after : mapping - the same, later. [-]
    files : iterable or None - only these; None takes all. [-]

    Returns
    -------
    changes : tuple of Change - in the order of files and of their entries. [-]
    """
    found: list[Change] = []
    for file in sorted({*before, *after} if files is None else files):
        old, new = before.get(file), after.get(file)
        if old != new:
            found += _in_file(file, old, new)
    return tuple(found)


def _in_file(file: str, old: str | None, new: str | None) -> list[Change]:
    if old is None or new is None:
        return [Change(file, "", "" if old is None else THERE, "" if new is None else THERE)]
    if any(long_text(file, text) for text in (old, new)):
        return [Change(file, "", "", _lengths(old, new))]
    one, other = (entries_in(t) if file.endswith(".toml") else None for t in (old, new))
    if one is None or other is None:
        return [Change(file, "", "", lines_that_differ(old, new))]
    keys = [*one, *(key for key in other if key not in one)]
    found = [
        Change(file, key, one.get(key, ""), other.get(key, ""))
        for key in keys
        if one.get(key) != other.get(key)
    ]
    return _whole_tables(found, one, other) or [Change(file, "", "", NO_ENTRY)]


def _whole_tables(
    changes: list[Change], one: Mapping[str, str], other: Mapping[str, str]
) -> list[Change]:
    """Return the changes with each named table that came or went as one of them."""
    gone = {k[: -len(".name")] for k in one if k.endswith("].name") and k not in other}
    come = {k[: -len(".name")] for k in other if k.endswith("].name") and k not in one}
    named = gone | come
    found: dict[Change, None] = {}
    for change in changes:
        dots = (n for n, sign in enumerate(change.key) if sign == ".")
        table = next((change.key[:n] for n in dots if change.key[:n] in named), "")
        whole = Change(
            change.file, table, THERE if table in gone else "", THERE if table in come else ""
        )
        found[whole if table else change] = None
    return list(found)


def lines_that_differ(old: str, new: str) -> str:
    """Return how many lines differ between two texts, in words; of long ones how long they are."""
    if max(old.count("\n"), new.count("\n")) > MAX_COMPARED:
        return _lengths(old, new)
    count = sum(
        max(b - a, d - c)
        for what, a, b, c, d in SequenceMatcher(
            None, old.splitlines(), new.splitlines(), autojunk=False
        ).get_opcodes()
        if what != "equal"
    )
    return f"{count} line{'' if count == 1 else 's'} differ{'s' if count == 1 else ''}"


def _lengths(old: str, new: str) -> str:
    was, now = (f"{len(text.splitlines())} lines" for text in (old, new))
    return f"too long to compare: {now} instead of {was}"


def entry_at(texts: Mapping[str, str], path: str) -> str:
    """Return the text of an entry by its path, `plans.toml:plan[noon].rail`; empty without it."""
    file, _, key = path.partition(":")
    return (entries_in(texts.get(file, "")) or {}).get(key, "")


def merge(
    drawn: Mapping[str, str] | None, now: Mapping[str, str], typed: Mapping[str, str]
) -> Merged:
    """Put together what a form was drawn from, what stands in the file, and what was typed.

    An entry only one side touched keeps that side's text. One that both touched keeps what was
    typed and is named, so that a person decides. Without the state the form was drawn from, every
    entry that differs counts as touched by both.

    Parameters
    ----------
    drawn : mapping or None - entries as the form was drawn; None when not remembered. [-]
    now : mapping - entries as the file has them. [-]
    typed : mapping - entries as they came from the form; others are left alone. [-]

    Returns
    -------
    merged : Merged - texts for the form, and who changed what. [-]
    """
    texts, clashes = {**now, **typed}, {}
    theirs, yours = [], []
    for key, text in typed.items():
        mine, there = plain(text), plain(now.get(key, ""))
        base = None if drawn is None else plain(drawn.get(key, ""))
        if mine == there:
            continue
        if base == mine:
            texts[key] = now.get(key, "")
            theirs.append(key)
        elif base == there:
            yours.append(key)
        else:
            clashes[key] = Clash(key, base, there, mine)
    return Merged(texts, clashes, tuple(theirs), tuple(yours))
