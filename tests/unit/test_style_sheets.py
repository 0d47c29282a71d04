"""Style sheets are laid out by `tools/css.py`, one declaration a line, and say what they said."""

import importlib.util
from pathlib import Path
from types import ModuleType

import pytest

HOME = Path(__file__).resolve().parents[2]
SHEETS = sorted((HOME / "src" / "goodflight" / "page").glob("*/*.css"))
WIDEST = 120


def tool() -> ModuleType:
    spec = importlib.util.spec_from_file_location("css", HOME / "tools" / "css.py")
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.mark.parametrize("sheet", SHEETS, ids=lambda sheet: sheet.name)
def test_a_sheet_is_laid_out(sheet: Path) -> None:
    text = sheet.read_text("utf-8")
    assert text == tool().laid_out(text), f"run: python tools/css.py {sheet}"
    assert max(map(len, text.splitlines())) <= WIDEST
    assert all(row.count(";") <= 1 for row in text.splitlines() if "url(" not in row)


def test_the_layout_moves_white_space_only() -> None:
    """By hand: quotes, brackets, comments and nested rules stay as they are written."""
    text = '/* a; b */@media (min-width:9px){.a::after,.b:is(i,b){content:"a;{b";margin:0 auto}}'
    assert tool().laid_out(text) == (
        "/* a; b */\n@media (min-width:9px) {\n  .a::after,\n  .b:is(i,b) {\n"
        '    content: "a;{b";\n    margin: 0 auto;\n  }\n}\n'
    )
