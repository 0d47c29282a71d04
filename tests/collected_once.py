"""Tests run in copies of the process that collected them: `pytest --copies 4`.

Whatever the tests import stands in memory when the process is copied, so nothing is collected,
imported or loaded twice. A copy has fixtures, captured output and a folder for files of its own;
it takes the next file of tests out of a pipe that all copies read, and tells its reports to the
first process, which counts and shows them. A copy that breaks off is a failure.
"""

import contextlib
import itertools
import mmap
import os
import struct
import sys
import traceback
import warnings
from collections.abc import Callable, Iterator, Mapping, Sequence
from multiprocessing.connection import Connection, Pipe, wait
from typing import Any, Final, NamedTuple

import pytest

NUMBER: Final = struct.Struct("=I")
BROKE_OFF: Final = "The process of this test broke off, the rest of its file did not run: {why}"
Place = tuple[str, tuple[str, int | None, str]]  # a test's name, and where it stands


def pytest_addoption(parser: pytest.Parser) -> None:
    """How many copies."""
    parser.addoption(
        "--copies", type=int, default=0, help="run the tests in so many copies of this process"
    )


@pytest.hookimpl(tryfirst=True)
def pytest_runtestloop(session: pytest.Session) -> bool | None:
    """Run what was collected in copies, where they are asked for."""
    option = session.config.option
    if not option.copies or option.collectonly or session.testsfailed or not session.items:
        return None
    if sys.platform != "linux" or option.usepdb:
        raise pytest.UsageError("--copies: only on Linux, and not with --pdb")
    _Copies(session).run(option.copies)
    return True


def by_file(items: Sequence[pytest.Item]) -> list[list[pytest.Item]]:
    """Items of each file in their order, files in the order of their first."""
    files: dict[str, list[pytest.Item]] = {}
    for item in items:
        files.setdefault(item.nodeid.partition("::")[0], []).append(item)
    return list(files.values())


class _Ended(NamedTuple):
    """What a copy tells last: nothing, or why it broke off."""

    why: str = ""


class _Copies:
    """The first process: begins the copies, takes their reports, waits for their end."""

    def __init__(self, session: pytest.Session) -> None:
        self.session, self.hook = session, session.config.hook
        self.files = by_file(session.items)
        self.stop = mmap.mmap(-1, 1)  # shared with the copies: not 0 once they are to end
        self.left, self.broke_off = len(session.items), False
        self.children: list[int] = []
        self.running: dict[Connection, Place | None] = {}  # and the test that each is at

    def run(self, count: int) -> None:
        """All tests; raises as the plain run does when it is to stop."""
        numbers, filled = os.pipe()
        os.set_blocking(filled, False)  # more files than the pipe takes would be an error
        os.write(filled, b"".join(map(NUMBER.pack, range(len(self.files)))))
        os.close(filled)
        self.session.config._tmp_path_factory.getbasetemp()  # type: ignore[attr-defined]
        for stream in (sys.stdout, sys.stderr):
            stream.flush()  # what waits there would be written by each copy
        try:
            for number in range(min(count, len(self.files))):
                self._begin(number, numbers)
            self._listen()
        finally:
            self.stop[0] = 1
            for pipe in self.running:
                pipe.close()  # a copy that waits to be heard ends too
            for child in self.children:
                os.waitpid(child, 0)
            os.close(numbers)
        if self.session.shouldfail:
            raise self.session.Failed(self.session.shouldfail)
        if self.session.shouldstop:
            raise self.session.Interrupted(self.session.shouldstop)
        if self.left and not self.broke_off:
            raise RuntimeError(f"{self.left} tests were not run")

    def _begin(self, number: int, numbers: int) -> None:
        ours, theirs = Pipe(duplex=False)
        if (child := os.fork()) == 0:
            for pipe in (ours, *self.running):
                pipe.close()  # else nobody notices the end of the first process
            _Copy(self.session, number, theirs).run_and_end(numbers, self.files, self.stop)
        theirs.close()
        self.children.append(child)
        self.running[ours] = None

    def _listen(self) -> None:
        while running := self.running:
            for pipe in wait(list(running)):
                assert isinstance(pipe, Connection)
                try:
                    kind, data = pipe.recv()
                except EOFError:
                    kind, data = "ended", _Ended("killed, or ended by a signal")
                if kind == "ended":
                    self._end(running.pop(pipe), data.why)
                elif kind == "begun":
                    running[pipe] = data
                    self.hook.pytest_runtest_logstart(nodeid=data[0], location=data[1])
                elif kind == "done":
                    running[pipe] = None
                    self.left -= 1
                    self.hook.pytest_runtest_logfinish(nodeid=data[0], location=data[1])
                else:
                    self._take(kind, data)
            if self.session.shouldfail or self.session.shouldstop:
                self.stop[0] = 1

    def _take(self, kind: str, data: dict[str, Any]) -> None:
        if kind == "warning":
            self.hook.pytest_warning_recorded.call_historic(kwargs=data)
            return
        config = self.session.config
        report = self.hook.pytest_report_from_serializable(config=config, data=data)
        self.hook.pytest_runtest_logreport(report=report)

    def _end(self, place: Place | None, why: str) -> None:
        if not why:
            return
        self.broke_off = True
        if place is None:
            raise RuntimeError(f"a process broke off between two tests: {why}")
        said = BROKE_OFF.format(why=why)
        name, where = place
        report = pytest.TestReport(name, where, {}, "failed", said, "call")
        self.hook.pytest_runtest_logreport(report=report)


class _Copy:
    """A copy: runs one file after another and tells the first process about each test."""

    def __init__(self, session: pytest.Session, number: int, pipe: Connection) -> None:
        self.session, self.number = session, number
        self._send: Callable[[tuple[str, Any]], None] = pipe.send

    def run_and_end(
        self, numbers: int, files: Sequence[Sequence[pytest.Item]], stop: mmap.mmap
    ) -> None:
        """Never returns: what the first process does at its end is not done here."""
        last, code = _Ended(), 0
        try:
            self._become_own()
            self._run(_taken(numbers, files), stop)
        except BaseException:
            last, code = _Ended(traceback.format_exc()), 1
        with contextlib.suppress(OSError):  # nobody is there to listen
            self._send(("ended", last))
        os._exit(code)

    def _become_own(self) -> None:
        """Apart from the others: name, folder for files, output; shows nothing itself."""
        config = self.session.config
        os.environ["PYTEST_XDIST_WORKER"] = name = f"gw{self.number}"
        config.pluginmanager.unregister(name="terminalreporter")
        if capture := config.pluginmanager.getplugin("capturemanager"):
            capture.stop_global_capturing()
            capture.start_global_capturing()
            capture.suspend_global_capture(in_=False)
        folders = config._tmp_path_factory  # type: ignore[attr-defined]
        folders._basetemp = folders.getbasetemp() / f"popen-{name}"
        folders._basetemp.mkdir(mode=0o700)
        send, self._send = self._send, lambda _told: None  # warnings told already are told anew
        config.pluginmanager.register(self)
        self._send = send

    def _run(self, items: Iterator[pytest.Item], stop: mmap.mmap) -> None:
        session, now = self.session, next(items, None)
        try:
            while now is not None:
                after = next(items, None)  # fixtures that it needs stay
                now.config.hook.pytest_runtest_protocol(item=now, nextitem=after)
                if stop[0] or session.shouldfail or session.shouldstop:
                    return
                now = after
        finally:
            session._setupstate.teardown_exact(None)

    def pytest_runtest_logstart(self, nodeid: str, location: Any) -> None:
        self._send(("begun", (nodeid, location)))

    def pytest_runtest_logfinish(self, nodeid: str, location: Any) -> None:
        self._send(("done", (nodeid, location)))

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        config = self.session.config
        data = config.hook.pytest_report_to_serializable(config=config, report=report)
        self._send(("report", data))

    def pytest_warning_recorded(
        self, warning_message: warnings.WarningMessage, when: str, nodeid: str, location: Any
    ) -> None:
        given = warning_message
        plain = warnings.WarningMessage(
            str(given.message), given.category, given.filename, given.lineno
        )
        told: Mapping[str, Any] = {"when": when, "nodeid": nodeid, "location": location}
        self._send(("warning", {"warning_message": plain, **told}))


def _taken(numbers: int, files: Sequence[Sequence[pytest.Item]]) -> Iterator[pytest.Item]:
    """Whoever is free takes the next file."""
    read = iter(lambda: os.read(numbers, NUMBER.size), b"")
    return itertools.chain.from_iterable(files[NUMBER.unpack(each)[0]] for each in read)
