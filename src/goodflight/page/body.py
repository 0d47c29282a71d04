"""The body of a change, read whole before a page sees it: no larger and no slower than allowed."""

import asyncio
from threading import Event
from typing import Any, Final

from starlette.types import Message, Receive

from goodflight.project.folder import LARGEST_LOG

LARGEST_BODY: Final = 1_000_000  # bytes
LARGEST_LOG_BODY: Final = LARGEST_LOG + 100_000  # bytes: the log and the form around it
MAX_DRAINED: Final = 60_000_000  # bytes read and thrown away, so that the refusal can be read
LONGEST_S: Final = 20.0  # for one body
LOOK_EVERY_S: Final = 0.1
TOO_SLOW: Final = (408, "This took too long to arrive; nothing was written. Send it once more.")
ENDED: Final = (503, "The server has stopped.")


def too_large(most: int) -> tuple[int, str]:
    """The refusal of a body that is larger than it may be."""
    return 413, f"At most {most} bytes can be sent at once."


class BodyRefused(Exception):  # noqa: N818
    """A body that is not taken: the status, and the sentence for who sent it."""

    def __init__(self, status: int, words: str) -> None:
        self.status, self.words = status, words
        super().__init__(words)


async def read_body(receive: Receive, stopping: Event, most: int = LARGEST_BODY) -> bytes:
    """Return a whole body; what is too much is read to its end and thrown away.

    Raises
    ------
    BodyRefused - it is too large or too slow, its sender has gone, or the server stops.
    """
    deadline = asyncio.get_running_loop().time() + LONGEST_S
    body, seen, more = bytearray(), 0, True
    while more:
        message = await _next(receive(), deadline, stopping)
        if message["type"] == "http.disconnect":
            raise BodyRefused(*TOO_SLOW)  # nobody is there to read it
        part = message.get("body", b"")
        seen += len(part)
        if seen <= most:
            body += part
        else:
            body.clear()
        if seen > MAX_DRAINED:
            raise BodyRefused(*too_large(most))
        more = message.get("more_body", False)
    if seen > most:
        raise BodyRefused(*too_large(most))
    return bytes(body)


async def _next(coming: Any, deadline: float, stopping: Event) -> Message:
    """The next message of a connection, unless the time is over or the server ends before."""
    task: asyncio.Future[Message] = asyncio.ensure_future(coming)
    try:
        while not task.done():
            if stopping.is_set():
                raise BodyRefused(*ENDED)
            if asyncio.get_running_loop().time() > deadline:
                raise BodyRefused(*TOO_SLOW)
            await asyncio.wait({task}, timeout=LOOK_EVERY_S)
        return task.result()
    finally:
        task.cancel()


def replayed(body: bytes, receive: Receive) -> Receive:
    """A connection that gives the body at once, and then what still comes."""
    given = False

    async def read() -> Message:
        nonlocal given
        if given:
            return await receive()
        given = True
        return {"type": "http.request", "body": body, "more_body": False}

    return read
