"""A fault at every system call of a save: old or new, all or none, and the message is true.

Each save is first made with a counting stand-in; then once for each of its calls and each kind of
fault. Checks of the project's content are left out here: they touch no disk.
"""

import errno
import os
import subprocess
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any, ClassVar

import pytest

from goodflight.project import (
    Fault,
    ProjectErrors,
    SaveRefused,
    SaveUnfinished,
    disk,
    folder,
    kept,
    saving,
    together,
)
from goodflight.project.faults import SavedTwice
from goodflight.project.folder import Folder, call

ERRORS = (errno.ENOSPC, errno.EIO, errno.EACCES, errno.EROFS)
FIRST = {
    "rocket.toml": "old rocket\n", "plans.toml": "old plans\n", "motors/H-b.csv": "old curve\n",
}  # fmt: skip


Save = Callable[[], object]
Ready = Callable[[Path], Save]


class KilledError(BaseException):
    """The process ends here: nothing that it would do afterwards happens."""


class Faulty:
    """Stands in for `folder.call`: lets the k-th call fail, that one or all from there on."""

    made: ClassVar[int] = 0

    def __init__(self, at: int, error: int | None, lasting: bool = False) -> None:
        self.at, self.error, self.lasting, self.count, self.dead = at, error, lasting, 0, False

    def __call__(self, act: Callable[..., Any], *args: Any, **more: Any) -> Any:
        if act is os.close:
            return act(*args, **more)
        self.count += 1
        if self.dead or self.count == self.at or (self.lasting and self.count > self.at > 0):
            Faulty.made += self.count == self.at
            if self.error is None:
                self.dead = True
                raise KilledError
            raise OSError(self.error, os.strerror(self.error))
        return None if act is os.fsync else act(*args, **more)  # this disk is not pulled out


class Noting(Faulty):
    """Lets every call through and notes which could fail alike: the same call from the same lines
    of the program, with as many changes of the disk before it."""

    def __init__(self) -> None:
        super().__init__(0, None)
        self.changes, self.notes = 0, list[tuple[Any, ...]]()

    def __call__(self, act: Callable[..., Any], *args: Any, **more: Any) -> Any:
        if act is not os.close:
            frame, lines = sys._getframe(1), []
            while frame.f_back and "project" in Path(frame.f_code.co_filename).parts:
                lines.append((frame.f_code.co_name, frame.f_lineno))
                frame = frame.f_back
            self.notes.append((self.changes, act, *lines))
            makes = act is os.open and args[1] & os.O_CREAT
            self.changes += bool(makes) or act.__name__ not in LOOKS
        return super().__call__(act, *args, **more)

    def worth(self, fault: int | str) -> list[int]:
        """Numbers of the calls to try a fault at: the first of those alike, the last where all
        after it fail too; the first after each change where the process ends, which only leaves
        the disk as it is."""
        notes = [note[0] for note in self.notes] if fault == "killed" else self.notes
        numbers = {note: number for number, note in reversed([*enumerate(notes, 1)])}
        if fault == "lasting":
            numbers = {note: number for number, note in enumerate(notes, 1)}
        return sorted({*numbers.values(), len(notes)})


LOOKS = {"open", "stat", "fstat", "listdir", "read", "fsync", "flock"}  # the disk stays as it is


class Plain:
    """Enough of a project for a save, whose content is not looked at."""

    def __init__(self, root: Path) -> None:
        self.root, (self.texts, _) = root, saving_texts(root)
        self.hashes = {name: disk.digest(text) for name, text in self.texts.items()}


def saving_texts(root: Path) -> tuple[dict[str, str], Any]:
    with Folder(root) as opened:
        return disk.read_in(opened)


@pytest.fixture(autouse=True)
def _unchecked(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(folder, "call", Faulty(0, None))

    def unchecked(texts: object, _root: Path, faults: Sequence[Fault] = ()) -> object:
        if faults:
            raise ProjectErrors(faults)
        return texts

    monkeypatch.setattr(saving, "read_project", unchecked)


def lay(root: Path) -> None:
    for name, text in FIRST.items():
        (root / name).parent.mkdir(parents=True, exist_ok=True)
        (root / name).write_text(text)


def write(changed: dict[str, str | None]) -> Ready:
    def ready(root: Path) -> Save:
        lay(root)
        project: Any = Plain(root)
        return lambda: saving.write_files(project, changed)

    return ready


def bring_back(root: Path) -> Save:
    write({"rocket.toml": "between\n"})(root)()
    return lambda: saving.bring_back(root, "rocket.toml", 1)


def create(root: Path) -> Save:
    files = {"rocket.toml": "a", "plans.toml": "b", "motors/H-b.csv": "c", "sites/f.toml": "d"}
    return lambda: saving.write_project(root, files)


SAVES: dict[str, Ready] = {
    "one file": write({"rocket.toml": "new rocket\n"}),
    "several": write({"rocket.toml": "new\n", "plans.toml": "new\n", "sites/f.toml": "n\n"}),
    "taken out": write({"motors/H-b.csv": None, "plans.toml": "new plans\n"}),
    "restored": bring_back,
    "created": create,
}


def files_in(root: Path) -> dict[str, str]:
    found = {}
    for place, rooms, names in os.walk(root):
        rooms[:] = [room for room in rooms if room != ".versions"]
        above = os.path.relpath(place, root)
        for name in names:
            found[os.path.normpath(f"{above}/{name}")] = Path(place, name).read_text()
    return found


def versions_in(root: Path) -> set[str]:
    hidden = root / ".versions"
    return {p.read_text() for p in hidden.rglob("[0-9]*-*Z-*") if p.parent.name != "scratch"}


WAYS = ("handles", "without exchange", "without handles")


@pytest.fixture
def way(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> str:
    """How the system at hand does it: the best way, and the two lesser ones."""
    if request.param == "without exchange":
        monkeypatch.setattr(folder, "swap_names", no_swap)
    if request.param == "without handles":
        monkeypatch.setattr(folder, "HANDLES", False)
    return str(request.param)


def no_swap(*_: object) -> None:
    raise OSError(errno.ENOSYS, "not here")


def begin(place: Path, kind: str) -> tuple[dict[str, str], dict[str, str], Noting]:
    """The files before and after a save that meets no fault, and the calls it makes."""
    root = place / "whole"
    save = SAVES[kind](root)
    before, counter = files_in(root), Noting()
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(folder, "call", counter)
        save()
    assert list((root / ".versions/scratch").iterdir()) == []
    assert set(before.values()) - set(files_in(root).values()) <= versions_in(root)
    return before, files_in(root), counter


def told_by(save: Save, faulty: Faulty) -> str | None:
    """Make the save with its fault; None: saved; a word for its end, or what it said."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(folder, "call", faulty)
        try:
            save()
        except KilledError:
            return "killed"
        except ProjectErrors as error:  # a file could not be read
            return str(error)
        except SavedTwice as error:
            assert "was written" in str(error) and "rocket.toml version" in str(error)
            return "twice"
        except SaveUnfinished as error:
            assert "finishes this save, or takes it back" in str(error)
            return "unfinished"
        except SaveRefused as error:
            words = str(error)
            assert "the files are as they were" in words or "Nothing was written" in words, words
            return str(error)
    return None


CASES = [
    (way, fault)
    for way in WAYS
    for fault in (*ERRORS, "lasting", "killed")
    if way == "handles" or fault in (errno.ENOSPC, "lasting", "killed")
]


EVERY_CALL = [("handles", fault) for fault in (errno.ENOSPC, "lasting")]


@pytest.mark.slow
@pytest.mark.parametrize(("way", "fault"), CASES, indirect=["way"])
@pytest.mark.parametrize("kind", SAVES)
def test_a_fault_at_every_call_leaves_all_old_or_all_new(
    tmp_path: Path, kind: str, fault: int | str, way: str
) -> None:
    old, new, calls = begin(tmp_path, kind)
    assert calls.count > 20 and calls.changes > 5
    handles = len(os.listdir("/proc/self/fd")) if os.path.isdir("/proc/self/fd") else 0
    worth = calls.worth(fault)
    if fault != "killed" and (way, fault) not in EVERY_CALL:
        # the other errors, and the lesser ways, at every third of them, each case at others
        worth = worth[CASES.index((way, fault)) % 3 :: 3]
    for k in worth:
        root = tmp_path / f"{k}"
        save = SAVES[kind](root)
        error = {"lasting": errno.EIO, "killed": None}.get(str(fault), fault)
        faulty = Faulty(k, error if error is None else int(error), fault == "lasting")
        told = told_by(save, faulty)
        now = files_in(root)
        for name in {**old, **new}:
            assert now.get(name) in (old.get(name), new.get(name)), (k, name)
        if told is None:
            assert now == new, k
        elif told not in ("killed", "unfinished"):
            assert now == old, (k, told)
        with Folder(root) as opened, opened.locked():
            together.recover(opened)
        ended = files_in(root)
        assert ended in (old, new), k
        if told not in ("killed", "unfinished"):
            assert ended == now, k
        if ended == new:
            assert set(old.values()) - set(new.values()) <= versions_in(root), k
        assert list((root / ".versions/scratch").iterdir()) == []
        assert not (root / ".versions/journal").exists()
        if ended == old and kind != "restored" and k % 5 == 0:
            assert told_by(save, Faulty(0, None)) is None, k
            assert files_in(root) == new, k
    if handles:
        assert len(os.listdir("/proc/self/fd")) == handles


@pytest.mark.slow
@pytest.mark.parametrize("way", WAYS, indirect=True)
@pytest.mark.parametrize("kind", ["several", "taken out", "created"])
def test_killed_again_while_it_is_being_ended(tmp_path: Path, kind: str, way: str) -> None:
    """Killed at some twenty calls after the journal stands, then at as many of the recovery."""
    old, new, calls = begin(tmp_path, kind)
    ends = 0
    for k in range(1, calls.count + 1, max(4, calls.count // 20)):
        for again in range(1, 400, max(7, calls.count // 20)):
            root = tmp_path / f"{k}-{again}"
            save = SAVES[kind](root)
            told_by(save, Faulty(k, None))
            if not (root / ".versions/journal").exists():
                break
            if recovered(root, Faulty(again, None)):
                break
            ends += 1
            assert recovered(root, Faulty(0, None))
            assert files_in(root) in (old, new), (k, again)
    assert ends > 20


def recovered(root: Path, faulty: Faulty) -> bool:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(folder, "call", faulty)
        try:
            with Folder(root) as opened, opened.locked():
                together.recover(opened)
        except KilledError:
            return False
    return True


class Meddler(Faulty):
    """Stands in for `folder.call`: another program saves just before the k-th call."""

    def __init__(self, at: int, act: Save) -> None:
        super().__init__(0, None)
        self.when, self.act = at, act

    def __call__(self, act: Callable[..., Any], *args: Any, **more: Any) -> Any:
        if self.count + 1 == self.when and act is not os.close:
            self.when = 0
            self.act()
        return super().__call__(act, *args, **more)


def by_rename(root: Path) -> None:
    (root / "editor").write_text("the editor's\n")
    os.replace(root / "editor", root / "rocket.toml")


def in_place(root: Path) -> None:
    (root / "rocket.toml").write_text("the editor's\n")


@pytest.mark.parametrize("outside", [by_rename, in_place])
@pytest.mark.parametrize("kind", ["one file", "several", "restored"])
def test_an_editor_that_saves_before_any_call_loses_nothing(
    tmp_path: Path, kind: str, outside: Callable[[Path], None]
) -> None:
    """The race with another program, at every place where it can happen."""
    _, new, calls = begin(tmp_path, kind)
    refused = 0
    for k in range(1, calls.count + 1):
        root = tmp_path / f"{k}"
        save = SAVES[kind](root)
        before = files_in(root)
        told = told_by(save, Meddler(k, lambda place=root: outside(place)))  # type: ignore[misc]
        now = files_in(root)
        assert "the editor's\n" in {*now.values(), *versions_in(root)}, k
        if told == "twice":
            assert now == new and "the editor's\n" in versions_in(root), k
        elif told is None:
            assert {**now, "rocket.toml": ""} == {**new, "rocket.toml": ""}
        else:
            refused += 1
            assert now == {**before, "rocket.toml": "the editor's\n"}, (k, told)
        assert not (root / ".versions/journal").exists()
    assert refused > 5 or kind == "restored"


def test_of_two_saves_of_one_text_the_second_is_told(tmp_path: Path) -> None:
    first = write({"rocket.toml": "first\n"})(tmp_path)
    second: Any = Plain(tmp_path)
    first()
    with pytest.raises(SaveRefused, match="was changed by another program"):
        saving.write_files(second, {"rocket.toml": "second\n"})
    assert (tmp_path / "rocket.toml").read_text() == "first\n"


def test_a_held_lock_is_named_after_a_wait(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    save = write({"rocket.toml": "first\n"})(tmp_path)
    monkeypatch.setattr(folder, "LOCK_WAIT_S", 0.1)
    refused = pytest.raises(SaveRefused, match=r"\.versions/lock: held by another goodflight")
    with Folder(tmp_path) as opened, opened.locked(), refused:
        save()
    assert (tmp_path / "rocket.toml").read_text() == FIRST["rocket.toml"]
    assert save()


def test_the_versions_that_stay(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The newest, the last of each day before them, and what is marked."""
    monkeypatch.setattr(kept, "NEWEST", 3)
    place = tmp_path / ".versions/rocket.toml"
    place.mkdir(parents=True)
    for number, day in enumerate((1, 1, 1, 2, 2, 3, 3, 3, 3), 1):
        (place / f"{number:06d}-203001{day:02d}T000000Z-00000000").write_text(f"{number}\n")
    (place / "mine").write_text("")
    saving.keep_version(tmp_path, "rocket.toml", 1)
    write({"rocket.toml": "new\n"})(tmp_path)()
    assert [v.number for v in saving.versions(tmp_path, "rocket.toml")] == [1, 3, 5, 8, 9, 10]
    saving.keep_version(tmp_path, "rocket.toml", 1, keep=False)
    write({"rocket.toml": "newer\n"})(tmp_path)()
    assert [v.number for v in saving.versions(tmp_path, "rocket.toml")] == [3, 5, 9, 10, 11]
    assert (place / "mine").exists()


def test_a_disk_that_is_full_in_truth(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A disk of 64 kB, where it can be mounted; the fault at every call is above."""
    words = ["mount", "-t", "tmpfs", "-o", "size=64k", "tmpfs", str(tmp_path)]
    try:
        if subprocess.run(words, capture_output=True, check=False).returncode:
            pytest.skip("no disk can be mounted here")
    except OSError:
        pytest.skip("no disk can be mounted here")
    monkeypatch.setattr(folder, "call", call)
    try:
        save = write({"plans.toml": "small\n", "rocket.toml": "x" * 100_000})(tmp_path)
        with pytest.raises(SaveRefused, match=r"No space left on device.*files are as they were"):
            save()
        assert files_in(tmp_path) == FIRST
        assert write({"plans.toml": "small\n", "rocket.toml": "x\n"})(tmp_path)()
    finally:
        subprocess.run(["umount", str(tmp_path)], check=True)
