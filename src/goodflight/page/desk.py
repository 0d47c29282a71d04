"""The project that lies on the desk: loaded, watched, changed, changed back.

The files are the truth. Every look at the desk checks whether they moved; a change is written only
if the files are still what the sheet was drawn from, and can be taken back step by step.
"""

import threading
import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from goodflight.project import (
    Fault,
    Project,
    ProjectErrors,
    SaveRefused,
    load,
    write_files,
)
from goodflight.studies.case import Case
from goodflight.studies.project_case import case_of, inputs_hash

WATCHED = ("*.toml", "motors/*", "sites/*", "flights/*/notes.toml")
MOST_STEPS = 200
BLINK_S = 0.02


class ChangedElsewhereError(Exception):
    """The files are no longer what the sheet was drawn from; nothing was written."""

    def __init__(self, files: tuple[str, ...]) -> None:
        self.files = files
        super().__init__(f"changed elsewhere: {', '.join(files)}")


@dataclass(frozen=True)
class Step:
    """One change: what it was, and the texts before and after by file."""

    words: str
    before: Mapping[str, str]
    after: Mapping[str, str]


@dataclass
class Desk:
    """One project folder, for all browsers that look at it."""

    root: Path
    project: Project | None = None
    faults: tuple[Fault, ...] = ()
    done: list[Step] = field(default_factory=list)
    undone: list[Step] = field(default_factory=list)
    cases: dict[tuple[str, str], Case] = field(default_factory=dict)
    seen: Mapping[str, tuple[int, int]] = field(default_factory=dict)
    known: dict[str, Project] = field(default_factory=dict)
    last: dict[str, tuple[int, int]] = field(default_factory=dict)
    looked_s: float = -1.0
    lock: threading.RLock = field(default_factory=threading.RLock)

    def _moved(self) -> dict[str, tuple[int, int]]:
        """The footprint, taken at most once in a blink: one sheet asks for it many times."""
        now = time.monotonic()
        if now - self.looked_s > BLINK_S:
            self.last, self.looked_s = self.footprint(), now
        return self.last

    def footprint(self) -> dict[str, tuple[int, int]]:
        """Size and time of every file that counts."""
        found = {}
        for pattern in WATCHED:
            for path in self.root.glob(pattern):
                stat = path.stat()
                found[path.relative_to(self.root).as_posix()] = (stat.st_mtime_ns, stat.st_size)
        return found

    def look(self) -> Project | None:
        """Return the project as the files are now; None when they hold faults or nothing yet."""
        with self.lock:
            now = self._moved()
            if now != self.seen or (self.project is None and not self.faults):
                self.seen = now
                self._load()
            return self.project

    def _load(self) -> None:
        if not (self.root / "rocket.toml").exists() and not (self.root / "plans.toml").exists():
            self.project, self.faults = None, ()
            return
        try:
            self._set(load(self.root))
        except ProjectErrors as errors:
            self.project, self.faults = None, errors.faults

    def _set(self, project: Project) -> None:
        self.project, self.faults = project, ()
        self.seen = self.last = self.footprint()
        self.known[inputs_hash(project)] = project
        while len(self.known) > 20:
            self.known.pop(next(iter(self.known)))

    @property
    def hash(self) -> str:
        """One short hash of the files as they are; of their footprint when they hold faults."""
        project = self.look()
        if project is None:
            return f"{hash(frozenset(self.seen.items())) & 0xFFFFFFFF:08x}"
        return inputs_hash(project)

    @property
    def empty(self) -> bool:
        """Whether there is no project here yet."""
        return self.look() is None and not self.faults

    def case(self, plan: str | None) -> Case:
        """Return the resolved case of a plan, kept until a file changes."""
        with self.lock:
            project = self.look()
            if project is None:
                raise ProjectErrors(self.faults)
            key = (self.hash, project.plan(plan).name)
            if key not in self.cases:
                while len(self.cases) > 12:
                    self.cases.pop(next(iter(self.cases)))
                self.cases[key] = case_of(project, plan)
            return self.cases[key]

    def change(self, words: str, drawn_from: str, act: Callable[[Project], Project]) -> None:
        """Do one change to the files, if they are what the sheet was drawn from.

        Raises
        ------
        ChangedElsewhereError - they are not; SaveRefused, ProjectErrors - as `project` says.
        """
        with self.lock:
            before = self._as_drawn(drawn_from)
            self._set(act(before))
            self._note(words, before)
            self.undone.clear()

    def _as_drawn(self, drawn_from: str) -> Project:
        self.looked_s = -1.0
        project = self.look()
        if project is None or drawn_from != self.hash:
            raise ChangedElsewhereError(self.differing(drawn_from))
        return project

    def differing(self, drawn_from: str) -> tuple[str, ...]:
        """Files that differ from those a sheet was drawn from, as far as that is remembered."""
        old = self.known.get(drawn_from)
        now = self.project
        if old is None or now is None:
            return tuple(sorted({fault.file for fault in self.faults})) or ("a file",)
        names = sorted({*old.hashes, *now.hashes})
        return tuple(n for n in names if old.hashes.get(n) != now.hashes.get(n))

    def _note(self, words: str, before: Project) -> None:
        now = self.project
        assert now is not None
        files = [f for f in now.texts if before.texts.get(f) != now.texts[f]]
        step = Step(
            words,
            {f: before.texts[f] for f in files if f in before.texts},
            {f: now.texts[f] for f in files},
        )
        if files:
            self.done = [*self.done[-MOST_STEPS:], step]

    def undo(self, drawn_from: str) -> str:
        """Take the last change back; return what it was."""
        return self._turn(self.done, self.undone, drawn_from, back=True)

    def redo(self, drawn_from: str) -> str:
        """Do the change taken back last once more; return what it was."""
        return self._turn(self.undone, self.done, drawn_from, back=False)

    def _turn(self, here: list[Step], there: list[Step], drawn_from: str, back: bool) -> str:
        with self.lock:
            project = self._as_drawn(drawn_from)
            if not here:
                raise SaveRefused("there is no change left to take back" if back else
                                  "there is no change left to do again")  # fmt: skip
            step = here[-1]
            expected = step.after if back else step.before
            changed = tuple(f for f, text in expected.items() if project.texts.get(f) != text)
            if changed:
                raise ChangedElsewhereError(changed)
            self._set(write_files(project, step.before if back else step.after))
            there.append(here.pop())
            return step.words
