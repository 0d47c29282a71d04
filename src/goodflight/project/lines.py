"""On which line of a TOML text each key and each list item stands.

`tomllib` gives values without places, so the text is walked once more. Only text that `tomllib`
has already accepted is given here, so the walk needs no error handling of its own.
"""

import re
from collections.abc import Callable, Iterator, Mapping
from functools import cached_property
from typing import Final, TypeVar

Path = tuple[str | int, ...]
T = TypeVar("T")

_BARE: Final = re.compile(r"[A-Za-z0-9_-]+")
_SPACE: Final = re.compile(r"[ \t]*")
_BLANK: Final = re.compile(r"(?:[ \t\r\n]|#[^\n]*)*")
_SCALAR: Final = re.compile(r"[^,\]}#\n]*")


class _Walk:
    def __init__(self, text: str) -> None:
        self.text = text
        self.at = 0
        self.lines: dict[Path, int] = {(): 1}
        self.counts: dict[Path, int] = {}
        self._line_of, line = [], 1
        for sign in text:
            self._line_of.append(line)
            line += sign == "\n"
        self._line_of.append(line)

    def line(self) -> int:
        return self._line_of[min(self.at, len(self.text))]

    def skip(self, pattern: re.Pattern[str]) -> str:
        match = pattern.match(self.text, self.at)
        if match is None:
            return ""
        self.at = match.end()
        return match[0]

    def run(self) -> dict[Path, int]:
        table: Path = ()
        while True:
            self.skip(_BLANK)
            if self.at >= len(self.text):
                return self.lines
            if self.text.startswith("[[", self.at):
                table = self.header(2)
            elif self.text[self.at] == "[":
                table = self.header(1)
            else:
                self.pair(table)

    def header(self, brackets: int) -> Path:
        line = self.line()
        self.at += brackets
        path = self.resolve(self.keys())
        self.at += brackets
        if brackets == 2:
            self.lines.setdefault(path, line)
            number = self.counts.get(path, -1) + 1
            self.counts[path] = number
            path = (*path, number)
        self.note(path, line)
        return path

    def resolve(self, keys: Path) -> Path:
        path: Path = ()
        for i, key in enumerate(keys):
            path = (*path, key)
            if i < len(keys) - 1 and path in self.counts:
                path = (*path, self.counts[path])
        return path

    def note(self, path: Path, line: int) -> None:
        for end in range(1, len(path) + 1):
            self.lines.setdefault(path[:end], line)

    def keys(self) -> Path:
        found: list[str | int] = []
        while True:
            self.skip(_SPACE)
            if self.text[self.at] in "\"'":
                found.append(self.string())
            else:
                found.append(self.skip(_BARE))
            self.skip(_SPACE)
            if self.text[self.at] != ".":
                return tuple(found)
            self.at += 1

    def string(self) -> str:
        quote = self.text[self.at]
        mark = quote * 3 if self.text.startswith(quote * 3, self.at) else quote
        start = self.at = self.at + len(mark)
        while not self.text.startswith(mark, self.at):
            self.at += 2 if quote == '"' and self.text[self.at] == "\\" else 1
        end = self.at
        self.at += len(mark)
        while len(mark) == 3 and self.text.startswith(quote, self.at):
            self.at += 1  # up to two quotes may end a long string
        return self.text[start:end]

    def pair(self, table: Path) -> None:
        line = self.line()
        path = (*table, *self.keys())
        self.note(path, line)
        self.at += 1  # "="
        self.skip(_SPACE)
        self.value(path)

    def value(self, path: Path) -> None:
        self.note(path, self.line())
        sign = self.text[self.at]
        if sign in "\"'":
            self.string()
        elif sign == "[":
            self.items(path)
        elif sign == "{":
            self.inline(path)
        else:
            self.skip(_SCALAR)

    def items(self, path: Path) -> None:
        self.at += 1
        number = 0
        while True:
            self.skip(_BLANK)
            if self.text[self.at] == "]":
                self.at += 1
                return
            self.value((*path, number))
            number += 1
            self.skip(_BLANK)
            if self.text[self.at] == ",":
                self.at += 1

    def inline(self, path: Path) -> None:
        self.at += 1
        while True:
            self.skip(_BLANK)
            if self.text[self.at] == "}":
                self.at += 1
                return
            self.pair(path)
            self.skip(_BLANK)
            if self.text[self.at] == ",":
                self.at += 1


def lines_of(text: str) -> dict[Path, int]:
    """Return the line of every table, key and list item of a valid TOML text, from 1."""
    return _Walk(text.replace("\r\n", "\n")).run()


class Later(Mapping[T, int]):
    """Lines that are looked for when the first is asked for: most files are without a fault."""

    def __init__(self, look: Callable[[], Mapping[T, int]]) -> None:
        self._look = look

    @cached_property
    def _found(self) -> Mapping[T, int]:
        return self._look()

    def __getitem__(self, key: T) -> int:
        return self._found[key]

    def __iter__(self) -> Iterator[T]:
        return iter(self._found)

    def __len__(self) -> int:
        return len(self._found)

    def __reduce__(self) -> tuple[type, tuple[dict[T, int]]]:
        return dict, (dict(self),)


def line_at(lines: Mapping[Path, int], path: Path) -> int:
    """Return the line of `path`, or of the nearest table around it when it is not there."""
    while path not in lines:
        path = path[:-1]
    return lines[path]
