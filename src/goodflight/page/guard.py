"""What a request must be before a page sees it: from here, by name, small, and expected.

Loopback only by default. The Host header must be this server's (so that no outside name can be
pointed at it), a change must come from our own page (Origin), and nothing larger than a limit is
kept. Another site may link to a page, but not load one behind the reader's back. With `--lan`,
other machines show a one-time code first.
"""

import hmac
import ipaddress
import re
import secrets
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from threading import Event
from typing import Final

from starlette.datastructures import Headers, MutableHeaders
from starlette.requests import Request
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from goodflight.page.body import (
    LARGEST_BODY,
    LARGEST_LOG_BODY,
    BodyRefused,
    read_body,
    replayed,
    too_large,
)

LONGEST_QUERY: Final = 4_000
TRIES: Final = 5  # wrong codes before a new one is made
PAUSE_S: Final = 30.0  # in which no code is taken after that: ten guesses a minute, of 10**8
HTTP_PORT: Final = "80"  # what a browser leaves out
READS: Final = ("GET", "HEAD")
LOGS_AT: Final = "/debrief/log"  # where logs of instruments come in
BESIDE_AT: Final = "/beside/other"  # where another rocket does, perhaps with its logs
COOKIE: Final = "goodflight-access"
POLICY: Final = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; "
    "font-src 'self'; connect-src 'self'; form-action 'self'; base-uri 'none'; "
    "frame-ancestors 'none'"
)
HEADERS: Final = {
    "content-security-policy": POLICY,
    "x-content-type-options": "nosniff",
    "x-frame-options": "DENY",
    "referrer-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "permissions-policy": "camera=(), microphone=(), geolocation=(), payment=()",
}


@dataclass
class Access:
    """Who may come in. Each code lets one browser in; then the next code is said."""

    lan: bool = False
    say: Callable[[str], None] = print
    code: str = ""
    wrong: int = 0
    keys: set[str] = field(default_factory=set)
    clock: Callable[[], float] = time.monotonic
    shut_until_s: float = float("-inf")

    def __post_init__(self) -> None:
        if self.lan:
            self.new_code()

    def new_code(self) -> None:
        """Make and say a new code; the old one no longer opens."""
        self.code, self.wrong = f"{secrets.randbelow(10**8):08d}", 0
        self.say(f"code for one more device: {self.code[:4]} {self.code[4:]}")

    def enter(self, given: str) -> str | None:
        """Return a key for the right code, once; None for a wrong one, and for any in a pause."""
        if self.shut:
            return None
        if not hmac.compare_digest("".join(given.split()).encode(), self.code.encode()):
            self.wrong += 1
            if self.wrong >= TRIES:
                self.shut_until_s = self.clock() + PAUSE_S
                self.new_code()
            return None
        key = secrets.token_urlsafe(32)
        self.keys.add(key)
        self.new_code()
        return key

    @property
    def shut(self) -> bool:
        """Whether no code is taken now, because too many wrong ones came."""
        return self.clock() < self.shut_until_s

    def known(self, request: Request) -> bool:
        """Whether a request comes from this machine or from a browser that showed a code."""
        if not self.lan:
            return True
        return is_loopback(request.client.host if request.client else "") or (
            request.cookies.get(COOKIE, "") in self.keys
        )


def is_loopback(host: str) -> bool:
    """Whether an address is this machine's own."""
    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        return host == "localhost"


def split_host(value: str) -> tuple[str, str]:
    """Host and port of a Host header, brackets of IPv6 taken off."""
    if value.startswith("["):
        host, _, rest = value[1:].partition("]")
        colon, port = rest[:1], rest[1:]
    else:
        host, colon, port = value.partition(":")
    return host, port if colon == ":" else HTTP_PORT if not colon else ""


class Guard:
    """The first thing every request meets."""

    def __init__(self, app: ASGIApp, access: Access, port: int, stopping: Event) -> None:
        self.app, self.access, self.port, self.stopping = app, access, port, stopping

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Refuse, or hand on with the security headers added to the answer."""
        if scope["type"] != "http":
            if scope["type"] == "lifespan":
                await self.app(scope, receive, send)
            return
        send = self.with_headers(scope, send)
        try:
            request = Request(scope)
            refused = self.refusal(request)
            if refused is not None and refused[0] != 413:
                raise BodyRefused(*refused)
            if request.method not in READS:
                receive = replayed(
                    await read_body(receive, self.stopping, most_of(scope["path"])), receive
                )
            if refused is not None:
                raise BodyRefused(*refused)
        except BodyRefused as error:
            await PlainTextResponse(error.words + "\n", error.status)(scope, receive, send)
            return
        await self.app(scope, receive, send)

    def with_headers(self, scope: Scope, send: Send) -> Send:
        """Every answer with the security headers."""

        async def sent(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                for name, value in HEADERS.items():
                    headers[name] = value
                if is_loopback(split_host(Headers(scope=scope).get("host", ""))[0]):
                    headers["cross-origin-opener-policy"] = "same-origin"
                if not scope["path"].startswith("/static/"):
                    headers["cache-control"] = "no-store"
            await send(message)

        return sent

    def refusal(self, request: Request) -> tuple[int, str] | None:
        """Why a request is not served, or None."""
        headers = request.headers
        if not self.is_ours(headers.get("host", "")):
            return 421, "This server answers to its own address only: open the one it printed."
        if len(request.url.query) > LONGEST_QUERY:
            return 414, "This address is too long; start again from the first page."
        if request.method not in READS and not self.from_here(headers):
            return 403, "Changes are taken from this server's own pages only."
        if request.method in READS and loaded_elsewhere(headers):
            return 403, "Another site cannot load this; open the address itself."
        if not self.access.known(request) and not open_to_all(request.url.path):
            return 401, "This page needs a code first: open /code and enter the code printed there."
        length = headers.get("content-length", "0")
        most = most_of(request.url.path)
        if not re.fullmatch("[0-9]{1,12}", length) or int(length) > most:
            return too_large(most)
        return None

    def is_ours(self, value: str) -> bool:
        """Whether a Host header names this server: loopback, or with --lan a bare address."""
        host, port = split_host(value.lower())
        if port != str(self.port):
            return False
        if host == "localhost" or is_loopback(host):
            return True
        if not self.access.lan:
            return False
        try:
            ipaddress.ip_address(host)
        except ValueError:
            return False
        return True

    def from_here(self, headers: Headers) -> bool:
        """Whether a change was sent by one of our own pages."""
        if headers.get("sec-fetch-site", "same-origin") not in ("same-origin", "none"):
            return False
        return headers.get("origin", "") == f"http://{headers.get('host', '')}"


def most_of(path: str) -> int:
    """How many bytes may be sent to an address."""
    return LARGEST_LOG_BODY if path in (LOGS_AT, BESIDE_AT) else LARGEST_BODY


def open_to_all(path: str) -> bool:
    """Whether a path is served before a code is entered: the access, and what it looks like."""
    return path == "/code" or path.startswith("/static/")


def loaded_elsewhere(headers: Headers) -> bool:
    """Whether a page of another site asks for something, other than by a link that is followed."""
    site, mode = headers.get("sec-fetch-site", "none"), headers.get("sec-fetch-mode", "navigate")
    return site not in ("same-origin", "none") and mode != "navigate"
