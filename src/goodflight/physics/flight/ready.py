"""The kernel compiled and loaded in one way, so that the same flight is the same to the last digit.

Functions that call each other are compiled each by itself and once more with their callers, and the
two differ in last digits. Of two in one process the first that is there is used, and after a
compile that is another one than after loading. So processes that end compile, and an ensemble and
one flight with its history fly by the same loop.
"""

import contextlib
import sys
import threading
from collections.abc import Iterator
from typing import Final

import numpy as np

from goodflight.physics.flight.burn import burn_curve
from goodflight.physics.flight.compiled import CACHE, kernel_hash
from goodflight.physics.flight.launch import Launch
from goodflight.physics.flight.loop import fly_all
from goodflight.physics.flight.record import blank_record

_COMPILED: Final = CACHE / "compiled"  # stands there when all of the kernel is
_COMPILING: Final = CACHE / "compiling"  # held while one process compiles
_CHILD: Final = (
    "import sys; sys.path[:] = sys.argv[1:]; "
    "from goodflight.physics.flight import ready; ready.{0}()"
)
_FIRST: Final = threading.Lock()
_loaded: Final = threading.Event()


def compiled_before() -> bool:
    """Whether this kernel has been compiled on this machine already."""
    return _COMPILED.exists()


def make_ready() -> None:
    """Load the loop over flights; compile the kernel before that, if need be.

    Where no other process can be started it is compiled in this one.
    """
    if _loaded.is_set():
        return
    with _FIRST:
        if not _loaded.is_set():
            if not compiled_before():
                _compile_apart()
            _fly_all_once()
            _loaded.set()


def _move_once() -> None:
    """What else the ledger's rows ask for: the motion after ejection, and a fall nose first."""
    from goodflight.physics.flight.fall import MeanWind, Start, nose_first_impact
    from goodflight.physics.recovery.parting import PARTING_INPUTS, part_bodies

    part_bodies(np.ones((1, len(PARTING_INPUTS))))
    one = np.ones(1)
    nose_first_impact(
        Start(one, one, one, one, one),
        MeanWind(one, one, one, one),
        drag_area_m2=one,
        mass_kg=one,
        ground_temperature_k=288.0 * one,
        ground_pressure_pa=1e5 * one,
        gravity_m_s2=9.8,
    )


def _compile_apart() -> None:
    """Compile in processes that end, if they can be started and find the same place."""
    if not sys.executable or CACHE.name != f"kernel-{kernel_hash()}":
        return
    import subprocess  # nobody else needs it before the first flight

    with contextlib.suppress(OSError), _one_at_a_time():
        if compiled_before():
            return
        started: list[subprocess.Popen[bytes]] = []
        try:
            for piece in (_fly_all_once, _move_once):  # they share no function
                command = [sys.executable, "-I", "-c", _CHILD.format(piece.__name__), *sys.path]
                quiet = subprocess.DEVNULL
                started.append(subprocess.Popen(command, stdin=quiet, stdout=quiet, stderr=quiet))
            if not any([process.wait() for process in started]):
                _COMPILED.touch()
        finally:
            for process in started:
                process.kill()  # nothing to one that has ended


@contextlib.contextmanager
def _one_at_a_time() -> Iterator[None]:
    """Wait for another process that compiles; where the system has no such lock, both compile."""
    try:
        import fcntl
    except ImportError:
        yield
        return
    with _COMPILING.open("w") as held:
        fcntl.flock(held, fcntl.LOCK_EX)  # falls with the process that holds it
        yield


def _fly_all_once() -> None:
    from goodflight.physics.flight.sample import sample_flight

    p, motor, tables = sample_flight()
    fly_all(
        p[None, :],
        blank_record(burn_curve(motor), tables.mach_table, tables.scalars, 0.06),
        np.ones(1, dtype=np.uint64),
        np.arange(2),
        Launch(motor, tables),
    )
