"""Ctrl-C ends the program within two seconds, whatever runs: a compiled call, a read, a server.

Python hears of a signal only between two steps of its main thread. The system's own handler
writes into a socket at once; a thread waits there and ends the process when nobody else has.
"""

import os
import signal
import socket
import threading
import time
from typing import Final

from goodflight.cli import STOPPED

PATIENCE_S: Final = 0.8  # for the orderly way: streams told to stop, output flushed


def end_on_interrupt() -> None:
    """Make sure that Ctrl-C ends this process; to be called once, in the main thread.

    A save that is cut off leaves the old file or the new one, as after any kill.
    """
    if threading.current_thread() is not threading.main_thread():
        return
    inner, outer = socket.socketpair()
    outer.setblocking(False)
    signal.set_wakeup_fd(outer.fileno(), warn_on_full_buffer=False)
    threading.Thread(target=_wait, args=(inner, outer), daemon=True).start()


def _wait(inner: socket.socket, outer: socket.socket) -> None:
    """Wait for the signal's number, then for the orderly end, then end; `outer` stays open."""
    while signal.SIGINT not in inner.recv(64):
        continue
    time.sleep(PATIENCE_S)
    os.write(2, b"\n")
    os._exit(STOPPED)
