"""A text page: title block, rules, paragraphs; with or without colour, wide or narrow.

The frame is a drawing sheet's: thin lines and numbered zones along the upper edge. Roles are
inks, not colours; on a terminal without colour nothing is lost, since state is also a word.
"""

import textwrap
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Final

from goodflight.quantity.said import told

INKS: Final[dict[str, str]] = {  # select graphic rendition, ECMA-48
    "ink": "",
    "strong": "1",
    "fine": "2",
    "signal": "1;38;2;210;64;31",  # bold #d2401f, only for what fails
}
CONTROLS: Final = dict.fromkeys((*range(32), *range(127, 160)), "·")  # may steer a terminal
Line = list[tuple[str, str]]  # (text, ink)
ZONE_WIDTH: Final = 16
NARROW: Final = 80


@dataclass(frozen=True)
class Terminal:
    """Where the text will stand."""

    width: int = 80
    colour: bool = False
    unicode: bool = True
    units: str = "metric"

    @property
    def narrow(self) -> bool:
        """Too narrow for columns side by side."""
        return self.width < NARROW


@dataclass
class TextPage:
    """Collects lines of inked text; `render` hands back one string."""

    terminal: Terminal
    lines: list[Line] = field(default_factory=list)

    def line(self, *pieces: str | tuple[str, str]) -> None:
        """One line of pieces: plain text, or (text, ink)."""
        self.lines.append([(each, "ink") if isinstance(each, str) else each for each in pieces])

    def row(self, *pieces: str | tuple[str, str], indent: int = 4) -> None:
        """One line of pieces, or a wrapped paragraph where they do not fit."""
        words = [piece if isinstance(piece, str) else piece[0] for piece in pieces]
        if sum(map(len, words)) < self.terminal.width:
            self.line(*pieces)
        else:
            self.paragraph(" ".join(" ".join(words).split()), indent)

    def blank(self) -> None:
        """An empty line."""
        self.lines.append([])

    def paragraph(self, words: str, indent: int = 0, ink: str = "ink", first: str = "") -> None:
        """Wrapped text; `first` stands before the first line inside the indent."""
        lead = first.rjust(indent) if first else " " * indent
        for line in textwrap.wrap(
            told(words, self.terminal.units).replace(" %", "\u00a0%"),
            max(20, self.terminal.width - 1),
            initial_indent=lead,
            subsequent_indent=" " * indent,
            break_on_hyphens=False,
        ):
            self.line((line.replace("\u00a0", " "), ink))

    def rule(self, words: str) -> None:
        """A heading with a thin line to the right edge."""
        heading = f"{words} "
        self.line(
            (heading, "strong"), ("─" * max(0, self.terminal.width - len(heading) - 1), "fine")
        )

    def title(self, left: Sequence[str], right: Sequence[tuple[str, str]], room: int = 34) -> None:
        """The title block: what the page says on the left, particulars on the right."""
        if self.terminal.narrow:
            self._title_narrow(left, right)
            return
        width = self.terminal.width - 1
        second = min(max([room, *(len(f"{n}{v}") + 4 for n, v in right)]), 34, width // 2 - 2)
        first = width - second - 3
        label = max((len(name) for name, _ in right), default=0)
        self.line((zones(width), "fine"))
        lines = [
            (line, i == 0)
            for i, words in enumerate(left)
            for line in textwrap.wrap(words, first - 2) or [""]
        ]
        for i in range(max(len(lines), len(right))):
            words, strong = lines[i] if i < len(lines) else ("", False)
            name, value = right[i] if i < len(right) else ("", "")
            cell = f" {name.ljust(label)}  {value}" if name else f" {value}"
            self.line(
                ("│", "fine"),
                (f" {words.ljust(first - 2)} ", "strong" if strong else "ink"),
                ("│", "fine"),
                fit(cell, second),
                ("│", "fine"),
            )
        self.line((f"└{'─' * first}┴{'─' * second}┘", "fine"))

    def _title_narrow(self, left: Sequence[str], right: Sequence[tuple[str, str]]) -> None:
        self.line(("─" * (self.terminal.width - 1), "fine"))
        for i, words in enumerate(left):
            self.paragraph(words, ink="strong" if i == 0 else "ink")
        for name, value in right:
            self.paragraph(f"{name} {value}".strip(), ink="fine")
        self.line(("─" * (self.terminal.width - 1), "fine"))

    def render(self) -> str:
        """The whole page as one string with a line feed at its end."""
        text = "".join("".join(map(self._inked, line)) + "\n" for line in self.lines)
        return text if self.terminal.unicode else to_ascii(text)

    def _inked(self, piece: tuple[str, str]) -> str:
        words, ink = piece
        words = words.translate(CONTROLS)
        code = INKS[ink] if self.terminal.colour and words else ""
        return f"\x1b[{code}m{words}\x1b[0m" if code else words


def zones(width: int) -> str:
    """The upper edge of the page with numbered zones."""
    count = max(1, width // ZONE_WIDTH)
    inner = width - 2 - (count - 1)
    cells = [inner // count + (1 if i < inner % count else 0) for i in range(count)]
    return "┌" + "┬".join(f" {i + 1} ".center(size, "─") for i, size in enumerate(cells)) + "┐"


def fit(words: str, width: int) -> str:
    """The words padded or cut to a width; a cut is seen."""
    return words.ljust(width) if len(words) <= width else words[: width - 1] + "…"


ASCII: Final[dict[str, str]] = {
    "─": "-", "│": "|", "┃": "#", "╷": ":", "·": ".", "┌": "+", "┐": "+", "└": "+", "┘": "+",
    "┬": "+", "┴": "+", "├": "+", "┤": "+", "┼": "+", "▌": "!", "░": "-", "○": "o", "◐": "%",
    "●": "X", "▨": "?", "→": "->", "–": "-", "±": "+/-", "°": " deg", "…": "~", "²": "2",
    "³": "3", "⁻": "-", "×": "x", "β": "beta", "α": "alpha", "μ": "u", "µ": "u", "ρ": "rho",
    "√": "sqrt", "≤": "<=", "≥": ">=", "’": "'", "“": '"', "”": '"', "═": "=", "╌": "-",
    "┈": ".", "−": "-", "Δ": "d", "π": "pi", "½": "1/2",
}  # fmt: skip


def to_ascii(text: str) -> str:
    """For terminals that cannot show the drawing characters."""
    for character, plain in ASCII.items():
        text = text.replace(character, plain)
    return text.encode("ascii", "replace").decode("ascii")
