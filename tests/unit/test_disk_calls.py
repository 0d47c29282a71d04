"""Nothing but `project/folder.py` touches what lies in a project folder.

The source is walked for calls that touch a disk; each other place that has one is listed here
with its reason. `resolve` and `cwd` only make names.
"""

import ast
from collections.abc import Iterator
from pathlib import Path

SOURCE = Path(__file__).resolve().parents[2] / "src" / "goodflight"
TOUCHES = {
    "open", "read_text", "read_bytes", "write_text", "write_bytes", "unlink", "rmdir", "mkdir",
    "makedirs", "rename", "renames", "touch", "symlink_to", "hardlink_to", "link", "symlink",
    "glob", "rglob", "iterdir", "listdir", "scandir", "walk", "exists", "lexists", "is_file",
    "is_dir", "is_symlink", "isfile", "isdir", "islink", "lstat", "chmod", "chown", "rmtree",
    "copyfile", "copytree", "truncate", "ftruncate", "mkfifo", "mkdtemp", "mkstemp", "fdopen",
    "NamedTemporaryFile", "TemporaryDirectory", "loadtxt", "savetxt", "fromfile", "tofile",
}  # fmt: skip
OF_OS = {"replace", "remove", "stat", "access", "read", "write"}
ALLOWED = {
    "project/folder.py": "the one way to the disk",
    "project/places.py": "places that the user named: a new folder, an output",
    "project/schemas.py": "the package's own schemas",
    "project/demo.py": "the package's own demo",
    "project/materials.py": "the package's own table",
    "project/codes.py": "the package's own code sets",
    "project/newcomer.py": "the package's own texts",
    "project/idea.py": "the package's own example",
    "__init__.py": "the package's own list of names",
    "page/alone.py": "the package's own style sheets and fonts",
    "project/archive.py": "an entry of an archive in memory",
    "cli/stopping.py": "a line's end to the terminal",
    "studies/processes.py": "pipes between copies of a process",
    "cli/shell.py": "the trace of an unexpected error, in the user's own state folder",
    "physics/flight/compiled.py": "the folder of compiled kernels, checked there",
    "physics/flight/ready.py": "the folder of compiled kernels",
}


def disk_calls(tree: ast.AST) -> Iterator[tuple[int, str]]:
    """Calls that touch a disk, and such functions handed on to be called."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name):
            if node.value.id == "os" and node.attr in OF_OS | TOUCHES:
                yield node.lineno, f"os.{node.attr}"
                continue
            if node.value.id in ("shutil", "tempfile") and node.attr in TOUCHES:
                yield node.lineno, f"{node.value.id}.{node.attr}"
                continue
        if isinstance(node, ast.Call):
            name = node.func
            if isinstance(name, ast.Name) and name.id == "open":
                yield node.lineno, "open"
            elif isinstance(name, ast.Attribute) and name.attr in TOUCHES | {"stat"}:
                named = name.value.id if isinstance(name.value, ast.Name) else ""
                # a Folder is always called so; a declared quantity may exist
                if named not in ("ast", "folder", "self", "declared"):
                    yield node.lineno, name.attr


def test_only_the_one_place_touches_project_folders() -> None:
    found = {}
    for path in sorted(SOURCE.rglob("*.py")):
        calls = [f"line {n}: {name}" for n, name in disk_calls(ast.parse(path.read_text("utf-8")))]
        found[path.relative_to(SOURCE).as_posix()] = calls
    elsewhere = {place: calls for place, calls in found.items() if calls and place not in ALLOWED}
    assert elsewhere == {}, "go through goodflight.project.folder, or give a reason here"
    idle = [place for place in ALLOWED if place in found and not found[place]]
    assert set(idle) <= {"project/newcomer.py"}, "needs no leave any more"


def test_every_leave_is_for_a_file_that_is_there() -> None:
    assert [place for place in ALLOWED if not (SOURCE / place).is_file()] == []


def test_the_walk_sees_what_it_is_for() -> None:
    text = "import os\nos.replace(a, b)\nopen(a)\np.write_text(b)\nact(os.unlink)\n'a'.replace(b)"
    found = sorted(name for _, name in disk_calls(ast.parse(text)))
    assert found == ["open", "os.replace", "os.unlink", "write_text"]


def test_every_system_call_of_the_one_place_can_be_made_to_fail() -> None:
    """In folder.py a function of `os` that touches the disk is only handed to `call`."""
    tree = ast.parse((SOURCE / "project/folder.py").read_text("utf-8"))
    called = {
        (node.args[0].lineno, node.args[0].col_offset)
        for node in ast.walk(tree)
        if isinstance(node, ast.Call)
        and isinstance(node.func, ast.Name)
        and node.func.id == "call"
        and node.args
    }
    direct = [
        (node.lineno, node.func.attr)
        for node in ast.walk(tree)
        if isinstance(node, ast.Call)
        and isinstance(node.func, ast.Attribute)
        and isinstance(node.func.value, ast.Name)
        and node.func.value.id in ("os", "fcntl")
        and node.func.attr not in ("strerror", "geteuid")
    ]
    assert called and not direct
