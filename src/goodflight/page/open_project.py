"""The project that is open: loaded, watched, changed, changed back.

The files are the truth. Every look at it checks whether they moved; a change is written only
if the files are still what the page was drawn from, and can be taken back step by step.
"""

import contextlib
import os
import threading
import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from goodflight.project import (
    Fault,
    Project,
    ProjectErrors,
    SavedTwice,
    SaveRefused,
    bring_back,
    load,
    restore,
    write_files,
)
from goodflight.project.differences import Change, changes_between
from goodflight.project.disk import begun, digest, stamps
from goodflight.project.mending import mend
from goodflight.project.saving import keep_text
from goodflight.studies.case.planned import Case
from goodflight.studies.case.project_case import case_of, inputs_hash

MAX_STEPS = 200
FOOTPRINT_KEPT_S = 0.02


class ChangedElsewhereError(Exception):
    """The files are no longer what the page was drawn from; nothing was written.

    `words` is what was to be done, `changes` what changed meanwhile (empty when the state the page
    was drawn from is not remembered), `again` whether it may be done on the present files, `writes`
    which entries it would write.
    """

    def __init__(
        self,
        words: str,
        changes: tuple[Change, ...],
        again: bool = True,
        writes: tuple[tuple[str, str], ...] = (),
    ) -> None:
        self.words, self.changes, self.again, self.writes = words, changes, again, writes
        super().__init__(f"{words}: changed elsewhere: {', '.join(self.files)}")

    @property
    def files(self) -> tuple[str, ...]:
        """The files that changed, as far as that is remembered."""
        return tuple(dict.fromkeys(change.file for change in self.changes))


def _unread(root: Path, error: OSError) -> Fault:
    """A folder or a file that the system does not give, as a fault."""
    place = Path(error.filename) if isinstance(error.filename, str) else root
    name = place.name if place == root else str(place).removeprefix(f"{root}{os.sep}")
    found = error.strerror or str(error)
    return Fault(
        name,
        0,
        "",
        found=found,
        expected="something that can be read",
        advice="let your user read it",
    )


@dataclass(frozen=True)
class Step:
    """One change: what it was, and the texts before and after by file; None where there is none."""

    words: str
    before: Mapping[str, str | None]
    after: Mapping[str, str | None]


@dataclass
class OpenProject:
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
        """The footprint, taken kept for a moment: one page asks for it many times."""
        now = time.monotonic()
        if now - self.looked_s > FOOTPRINT_KEPT_S:
            self.last, self.looked_s = self.footprint(), now
        return self.last

    def footprint(self) -> dict[str, tuple[int, int]]:
        """Size and time of every file that counts."""
        return stamps(self.root)

    def look(self) -> Project | None:
        """Return the project as the files are now; None when they hold faults or nothing yet."""
        with self.lock:
            now = self._moved()
            if now != self.seen or (self.project is None and not self.faults):
                self.seen = now
                self._load()
            return self.project

    def _load(self) -> None:
        if not begun(self.root):
            self.project, self.faults = None, ()
            return
        try:
            self._set(load(self.root))
        except OSError as error:  # e.g. a file taken away between two looks at the folder
            self.project, self.faults = None, (_unread(self.root, error),)
            self.seen = {}
        except ProjectErrors as errors:
            self._keep_sound(errors.faults)
            self.project, self.faults = None, errors.faults

    def _keep_sound(self, faults: tuple[Fault, ...]) -> None:
        """Keep the texts read last without a fault, of the files that have been broken since."""
        if self.project is None:
            return
        for file in {fault.file for fault in faults} & set(self.project.texts):
            with contextlib.suppress(SaveRefused):  # a disk that is full must not hide the faults
                keep_text(self.root, file, self.project.texts[file])

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
            return digest(repr(sorted(self.seen.items())))[:16]  # the same after a new start
        return inputs_hash(project)

    @property
    def empty(self) -> bool:
        """Whether there is no project here yet."""
        return self.look() is None and not self.faults

    def case(self, plan: str | None) -> Case:
        """Return the resolved case of a plan, kept until a file changes."""
        return self.case_now(plan)[1]

    def case_now(self, plan: str | None) -> tuple[str, Case]:
        """Return the case of a plan with the hash of the very files that it was read from."""
        with self.lock:
            project = self.sound()
            key = (inputs_hash(project), project.plan(plan).name)
            if key not in self.cases:
                while len(self.cases) > 12:
                    self.cases.pop(next(iter(self.cases)))
                self.cases[key] = case_of(project, plan)
            return key[0], self.cases[key]

    def sound(self) -> Project:
        """Return the project as the files are now; ProjectErrors when they hold faults."""
        project = self.look()
        if project is None:
            raise ProjectErrors(self.faults)
        return project

    def change(
        self,
        words: str,
        drawn_from: str,
        act: Callable[[Project], Project],
        writes: tuple[tuple[str, str], ...] = (),
    ) -> None:
        """Do one change to the files, if they are what the page was drawn from.

        `writes` tells which entries it writes, for the answer when they are not.

        Raises
        ------
        ChangedElsewhereError - they are not; SaveRefused, ProjectErrors - as `project` says.
        SavedTwice - it is done, and can be taken back.
        """
        with self.lock:
            before = self._as_drawn(words, drawn_from, writes)
            twice = self._written(lambda: act(before))
            self._note(words, before)
            self.undone.clear()
            if twice is not None:
                raise twice

    def _written(self, act: Callable[[], Project]) -> SavedTwice | None:
        """Do a save; what is told of it once it is noted, when another program saved meanwhile."""
        try:
            self._set(act())
        except SavedTwice as twice:
            if twice.project is None:
                raise
            self._set(twice.project)
            return twice
        return None

    def _as_drawn(
        self, words: str, drawn_from: str, writes: tuple[tuple[str, str], ...] = ()
    ) -> Project:
        self.looked_s = -1.0
        project = self.look()
        if project is None or drawn_from != self.hash:
            raise ChangedElsewhereError(words, self.differing(drawn_from), writes=writes)
        return project

    def differing(self, drawn_from: str) -> tuple[Change, ...]:
        """What differs from the files a page was drawn from; empty when not remembered."""
        old, now = self.known.get(drawn_from), self.project
        if old is None or now is None:
            return ()
        return changes_between(old.texts, now.texts)

    def _note(self, words: str, before: Project) -> None:
        now = self.project
        assert now is not None
        files = [
            f for f in {**before.texts, **now.texts} if before.texts.get(f) != now.texts.get(f)
        ]
        step = Step(
            words,
            {f: before.texts.get(f) for f in files},
            {f: now.texts.get(f) for f in files},
        )
        if files:
            self.done = [*self.done[-MAX_STEPS:], step]

    def undo(self, drawn_from: str) -> str:
        """Take the last change back; return what it was."""
        return self._turn(self.done, self.undone, drawn_from, back=True)

    def redo(self, drawn_from: str) -> str:
        """Do the change taken back last once more; return what it was."""
        return self._turn(self.undone, self.done, drawn_from, back=False)

    def _turn(self, here: list[Step], there: list[Step], drawn_from: str, back: bool) -> str:
        with self.lock:
            self.looked_s = -1.0
            project = self.look()
            if not here:
                raise SaveRefused(
                    "there is no change left to take back"
                    if back
                    else "there is no change left to do again"
                )
            step = here[-1]
            words = f"{'take back' if back else 'do again'}: {step.words}"
            if project is not None:
                expected = step.after if back else step.before
                changed = changes_between(expected, project.texts, expected)
                if changed:
                    raise ChangedElsewhereError(words, changed, again=False)
            project = self._as_drawn(words, drawn_from)
            texts = step.before if back else step.after
            twice = self._written(lambda: write_files(project, texts))
            there.append(here.pop())
            if twice is not None:
                raise twice
            return step.words

    def mend(self, changes: Mapping[str, str], drawn_from: str) -> None:
        """Write faulty entries anew; in a project that is sound meanwhile nothing is done.

        Raises
        ------
        ChangedElsewhereError - the files moved; ProjectErrors - faults are left, nothing written.
        """
        with self.lock:
            self.looked_s = -1.0
            if self.look() is not None or drawn_from != self.hash:
                raise ChangedElsewhereError("mend what is faulty", (), again=False)
            twice = self._written(lambda: mend(self.root, changes))
            if twice is not None:
                raise twice

    def bring_back(self, file: str, number: int, drawn_from: str) -> None:
        """Bring an earlier text of a file back; in a sound project as a change that can be undone.

        Raises
        ------
        ChangedElsewhereError - the files moved; SaveRefused - there is no such version.
        ProjectErrors - the project is sound, and would not be with the old text.
        """
        words = f"{file} of version {number} brought back"
        with self.lock:
            self.looked_s = -1.0
            if self.look() is not None:
                self.change(words, drawn_from, lambda project: restore(project, file, number))
                return
            if drawn_from != self.hash:
                raise ChangedElsewhereError(words, ())
            bring_back(self.root, file, number)
            self.looked_s = -1.0
