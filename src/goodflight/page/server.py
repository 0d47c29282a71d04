"""Start and stop the local server."""

import os
import socket
import threading
import webbrowser
from collections.abc import Callable
from pathlib import Path
from typing import Any, Final

import uvicorn

from goodflight.outputs.done import Serving
from goodflight.page.answers import FULL_FLIGHTS
from goodflight.page.app import make_app
from goodflight.page.guard import Guard

FIRST_PORT: Final = 8311
PORTS_TRIED: Final = 20
LAN_WARNING: Final = (
    "Other machines in this network can reach this page now. Who enters the code below can read "
    "and change the project; the connection is not encrypted. Stop with Ctrl-C when you are done."
)


class Server(uvicorn.Server):
    """Ends at once: streams are told to stop before the connections are waited for."""

    def __init__(self, config: uvicorn.Config, stopping: threading.Event) -> None:
        super().__init__(config)
        self.stopping = stopping

    def handle_exit(self, sig: int, frame: Any) -> None:
        """Ctrl-C: stop streams and studies, then the server."""
        self.stopping.set()
        super().handle_exit(sig, frame)


def free_socket(host: str, port: int | None) -> socket.socket:
    """Bind the port asked for, or the first free one.

    Raises
    ------
    OSError - the port asked for (or every one tried) is taken.
    """
    ports = [port] if port is not None else [*range(FIRST_PORT, FIRST_PORT + PORTS_TRIED)]
    for number in ports:
        # the protocol by name: without it asyncio leaves Nagle's delay on, 40 ms of every answer
        found = socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)
        found.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            found.bind((host, number))
            found.listen(128)  # from here on nobody else gets the port, and a browser may knock
            return found
        except OSError:
            found.close()
            if number == ports[-1]:
                raise
    raise OSError("no port to try")


def own_address() -> str:
    """This machine's address in the local network, as far as it can be told without sending."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("10.255.255.255", 1))
            return str(probe.getsockname()[0])
        except OSError:
            return "127.0.0.1"


def server_of(app: Guard) -> Server:
    """The server of an application, its limits set; it runs on a socket of `free_socket`."""
    config = uvicorn.Config(
        app,
        log_level="warning",
        access_log=False,
        server_header=False,
        timeout_graceful_shutdown=1,
        limit_concurrency=100,
        timeout_keep_alive=5,
        h11_max_incomplete_event_size=32_768,
        lifespan="off",
        ws="none",
        proxy_headers=False,  # nobody may say for itself where it comes from
    )
    return Server(config, app.stopping)


def serve(
    root: Path,
    port: int | None = None,
    lan: bool = False,
    opens: bool = True,
    say: Callable[[str], None] = print,
    flights: int = FULL_FLIGHTS,
    listening: Callable[[Serving], None] | None = None,
) -> None:
    """Serve one project folder until Ctrl-C.

    Parameters
    ----------
    root : Path - the project folder; need not exist yet. [-]
    port : int or None - None takes the first free one. [-]
    lan : bool - listen to the local network too; other machines need a code. [-]
    opens : bool - open the browser. [-]
    say : callable - told where it is served, warnings and codes. [-]
    flights : int - simulated for a full answer. [-]
    listening : callable or None - told once, as soon as the page may be asked. [-]

    Raises
    ------
    OSError - the port is taken.
    """
    listener = free_socket("0.0.0.0" if lan else "127.0.0.1", port)
    number = int(listener.getsockname()[1])
    address = f"http://127.0.0.1:{number}/"
    if lan:
        say(LAN_WARNING)
    say(f"{root} is served at {address}   (Ctrl-C ends)")
    others = f"http://{own_address()}:{number}/code" if lan else None
    if others:
        say(f"from other machines: {others}")
    app = make_app(root, number, lan, say, flights)
    server = server_of(app)
    if listening is not None:
        code = app.access.code if lan else None
        listening(Serving(str(root), address, others, code, os.getpid()))
    if opens:
        threading.Timer(0.6, webbrowser.open, (address,)).start()
    try:
        server.run(sockets=[listener])
    except KeyboardInterrupt:
        pass
    finally:
        listener.close()
