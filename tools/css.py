"""Lays out style sheets: one selector and one declaration a line. `python tools/css.py FILES`.

It moves white space only: outside quotes, brackets and comments, around braces, semicolons, the
commas of a list of selectors, and behind the colon of a declaration.
"""

import re
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Final

TOKEN: Final = re.compile(
    r'/\*.*?\*/|"[^"]*"|\'[^\']*\'|[{};(),\[\]]|[^{};(),\[\]"\'/]+|/', re.DOTALL
)
INDENT: Final = "  "
WIDTH: Final = 100


def pieces(text: str) -> Iterator[str]:
    """Yield comments, preludes, declarations, and the braces and semicolons that end them."""
    now, depth = "", 0
    for token in TOKEN.findall(text):
        depth += (token in "([") - (token in ")]")
        if depth == 0 and (token in "{};" or (token.startswith("/*") and not now.strip())):
            if now.strip():
                yield " ".join(now.split())
            now = ""
            yield token
        else:
            now += token
    if now.strip():
        yield " ".join(now.split())


def declared(text: str, pad: str) -> list[str]:
    """Return a declaration as a line, or a long list of values as a line each."""
    name, colon, value = text.partition(":")
    line = f"{pad}{name.strip()}: {value.strip()};" if colon else f"{pad}{text};"
    if len(line) <= WIDTH:
        return [line]
    values = ",\n".join(f"{pad}{INDENT}{each}" for each in selectors(value))
    return [f"{pad}{name.strip()}:", f"{values};"]


def selectors(prelude: str) -> list[str]:
    """Split a list of selectors or values at the commas that stand in no brackets."""
    parts, depth = [""], 0
    for token in TOKEN.findall(prelude):
        depth += (token in "([") - (token in ")]")
        if token == "," and depth == 0:
            parts.append("")
        else:
            parts[-1] += token
    return [each.strip() for each in parts]


def laid_out(text: str) -> str:
    """Return a style sheet with one selector and one declaration a line."""
    rows: list[str] = []
    deep, held = 0, ""
    for piece in pieces(text):
        pad = INDENT * deep
        if piece.startswith("/*"):
            rows.append(pad + piece)
        elif piece == "{":
            parts = [held] if held.startswith("@") else selectors(held)
            rows += [f"{pad}{each}," for each in parts[:-1]] + [f"{pad}{parts[-1]} {{"]
            deep, held = deep + 1, ""
        elif piece in ";}":
            if held:
                rows += declared(held, pad)
            held = ""
            if piece == "}":
                deep -= 1
                rows.append(INDENT * deep + "}")
        else:
            held = piece
    return "\n".join(rows) + "\n"


if __name__ == "__main__":
    for name in sys.argv[1:]:
        path = Path(name)
        path.write_text(laid_out(path.read_text("utf-8")), "utf-8")
