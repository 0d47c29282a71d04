"""Habits that hide mistakes: long rows of arguments or parameters, lines the formatter skips."""

import ast
from collections.abc import Iterator
from pathlib import Path

from goodflight.cli import commands

ROOT = Path(__file__).resolve().parents[2]
MOST_UNNAMED = 5
MOST_TAKEN = 7
FEWEST = 5  # names or figures in one line that are worth a table

# Inside a compiled function all arguments are by place: named ones cost compile time, and its
# callers hold the order in one array (`registry`).
COMPILED = "compiled"
BY_PLACE = {
    "fly_runs": "the compiled loop, called from Python",
    "CanopyKind": "a table of the canopies there are, one a row",
    "Sheet": "a table of the sheets cards are printed on, one a row",
    "asked": "advice, and as many entries as it takes",
}


def long_lists(tree: ast.AST) -> Iterator[tuple[str, int]]:
    """Functions that take more than is read without counting; (name, how many by place).

    Left out: what is compiled, and what a command calls with its own options, by name.
    """
    for node in ast.walk(tree):
        if not isinstance(node, ast.FunctionDef):
            continue
        made_by = [ast.unparse(each) for each in node.decorator_list]
        if any(each.startswith((COMPILED, "options.", "click.option")) for each in made_by):
            continue
        places = [a.arg for a in (*node.args.posonlyargs, *node.args.args) if a.arg != "self"]
        if len(places) + len(node.args.kwonlyargs) > MOST_TAKEN:
            yield node.name, len(places)


def long_calls(tree: ast.AST, inside: bool = False) -> Iterator[str]:
    """The names of what is called with more unnamed arguments than are read without counting."""
    for node in ast.iter_child_nodes(tree):
        compiled = inside
        if isinstance(node, ast.FunctionDef):
            compiled |= any(ast.unparse(d).startswith(COMPILED) for d in node.decorator_list)
        if isinstance(node, ast.Call) and not compiled:
            unnamed = [each for each in node.args if not isinstance(each, ast.Starred)]
            if len(unnamed) > MOST_UNNAMED:
                yield ast.unparse(node.func).rpartition(".")[2]
        yield from long_calls(node, compiled)


def is_table(node: ast.expr) -> bool:
    """A literal of rows, or of many names or figures."""
    if isinstance(node, ast.Dict):
        return len(node.keys) > 2
    if not isinstance(node, ast.Tuple | ast.List | ast.Set):
        return False
    rows = sum(isinstance(e, ast.Tuple | ast.List | ast.Call | ast.Dict) for e in node.elts)
    plain = not any(isinstance(e, ast.Call | ast.GeneratorExp | ast.Dict) for e in node.elts)
    return rows >= max(2, len(node.elts) - 1) or (plain and len(node.elts) >= FEWEST)


def skipped(text: str) -> Iterator[tuple[int, bool]]:
    """Every line whose layout is kept by hand, and whether it ends a statement with a table."""
    marked = [i for i, line in enumerate(text.splitlines(), 1) if line.endswith("# fmt: " + "skip")]
    if not marked:
        return
    ends: dict[int, ast.AST] = {}
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.FunctionDef):
            ends |= {each.end_lineno or 0: each for each in node.decorator_list}
        elif isinstance(node, ast.For):
            ends[node.iter.end_lineno or 0] = node.iter
        elif isinstance(node, ast.stmt) and not hasattr(node, "body"):
            ends[node.end_lineno or 0] = node
    for line in marked:
        there = ends.get(line)
        yield line, there is not None and any(map(is_table, _expressions(there)))


def _expressions(node: ast.AST, deep: int = 2) -> Iterator[ast.expr]:
    """What a statement says, down to the arguments of its call: no table deeper in it counts."""
    if isinstance(node, ast.expr):
        yield node
    for each in ast.iter_child_nodes(node) if deep else ():
        if isinstance(each, ast.expr):
            yield from _expressions(each, deep - 1)


def test_long_calls_name_their_arguments() -> None:
    found: dict[str, str] = {}
    for path in sorted((ROOT / "src").rglob("*.py")):
        for name in long_calls(ast.parse(path.read_text(encoding="utf-8"))):
            found.setdefault(name, path.name)
    surplus = {name: file for name, file in found.items() if name not in BY_PLACE}
    assert not surplus, f"name the arguments: {surplus}"
    assert set(found) == set(BY_PLACE), "what no call needs any more is taken off the list"


def test_long_lists_of_parameters_are_a_record() -> None:
    """A question takes its command's options by name, as a user types them; the rest a record."""
    questions = {each.function.partition(":")[2] for each in commands.questions()}
    questions |= {place.partition(":")[2] for q in commands.questions() for place in q.beside}
    found: dict[str, int] = {}
    for path in sorted((ROOT / "src").rglob("*.py")):
        found |= dict(long_lists(ast.parse(path.read_text(encoding="utf-8"))))
    asked = {name: places for name, places in found.items() if name in questions}
    assert all(places <= MOST_UNNAMED for places in asked.values()), asked
    assert set(found) <= set(asked)


def test_only_tables_are_laid_out_by_hand() -> None:
    wrong = [
        f"{path.relative_to(ROOT)}:{line}"
        for place in ("src", "tests", "tools", "docs", "benchmarks", "design")
        for path in sorted((ROOT / place).rglob("*.py"))
        for line, table in skipped(path.read_text(encoding="utf-8"))
        if not table
    ]
    assert not wrong, f"let the formatter lay these out: {wrong}"


def test_both_are_seen() -> None:
    text = (
        "@compiled\ndef f(a):\n    g(1, 2, 3, 4, 5, 6)\nx.h(1, 2, 3, 4, 5, 6)\nk(1, 2, a=3, *c)\n"
    )
    assert list(long_calls(ast.parse(text))) == ["h"]
    text = "def f(a, b, c, d, e, *, g, h, i): ...\n"
    assert list(long_lists(ast.parse(f"{text}@compiled\n{text}@click.option('-a')\n{text}"))) == [
        ("f", 5)
    ]
    mark = "  # fmt: " + "skip"
    assert list(skipped(f"x = f(1,\n      2){mark}\ny = ((1, 2),\n     (3, 4)){mark}\n")) == [
        (2, False),
        (4, True),
    ]
