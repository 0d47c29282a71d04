"""What a request must be before a sheet sees it: from here, by name, small, and expected.

Loopback only by default. The Host header must be this server's (so that no outside name can be
pointed at it), a change must come from our own page (Origin), and nothing larger than a limit is
read. With `--lan`, other machines show a one-time code first.
"""

import hmac
import ipaddress
import secrets
from collections.abc import Callable
from dataclasses import dataclass, field
from threading import Event
from typing import Final

from starlette.datastructures import Headers, MutableHeaders
from starlette.requests import Request
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

LARGEST_BODY: Final = 1_000_000  # bytes
LONGEST_QUERY: Final = 4_000
TRIES: Final = 5  # wrong codes before a new one is made
COOKIE: Final = "goodflight-door"
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
OPEN_PATHS: Final = ("/code", "/static/")


@dataclass
class Door:
    """Who may come in. Each code lets one browser in; then the next code is said."""

    lan: bool = False
    say: Callable[[str], None] = print
    code: str = ""
    wrong: int = 0
    keys: set[str] = field(default_factory=set)

    def __post_init__(self) -> None:
        if self.lan:
            self.new_code()

    def new_code(self) -> None:
        """Make and say a new code; the old one no longer opens."""
        self.code, self.wrong = f"{secrets.randbelow(10**8):08d}", 0
        self.say(f"code for one more device: {self.code[:4]} {self.code[4:]}")

    def enter(self, given: str) -> str | None:
        """Return a key for the right code, once; None for a wrong one."""
        if not hmac.compare_digest("".join(given.split()).encode(), self.code.encode()):
            self.wrong += 1
            if self.wrong >= TRIES:
                self.new_code()
            return None
        key = secrets.token_urlsafe(32)
        self.keys.add(key)
        self.new_code()
        return key

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
        host, _, port = value[1:].partition("]")
        return host, port.removeprefix(":")
    host, _, port = value.partition(":")
    return host, port


class Guard:
    """The first thing every request meets."""

    def __init__(self, app: ASGIApp, door: Door, port: int, stopping: Event) -> None:
        self.app, self.door, self.port, self.stopping = app, door, port, stopping

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Refuse, or hand on with the security headers added to the answer."""
        if scope["type"] != "http":
            if scope["type"] == "lifespan":
                await self.app(scope, receive, send)
            return

        async def with_headers(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                for name, value in HEADERS.items():
                    headers[name] = value
                if is_loopback(split_host(Headers(scope=scope).get("host", ""))[0]):
                    headers["cross-origin-opener-policy"] = "same-origin"
                if not scope["path"].startswith("/static/"):
                    headers["cache-control"] = "no-store"
            await send(message)

        refused = self.refusal(Request(scope))
        if refused is not None:
            status, words = refused
            await PlainTextResponse(words + "\n", status)(scope, receive, with_headers)
            return
        await self.app(scope, limited(receive), with_headers)

    def refusal(self, request: Request) -> tuple[int, str] | None:
        """Why a request is not served, or None."""
        headers = request.headers
        if not self.is_ours(headers.get("host", "")):
            return 421, "This server answers to its own address only: open the one it printed."
        if len(request.url.query) > LONGEST_QUERY:
            return 414, "This address is too long; start again from the first sheet."
        if request.method not in ("GET", "HEAD") and not self.from_here(headers):
            return 403, "Changes are taken from this server's own pages only."
        length = headers.get("content-length", "0")
        if not length.isdigit() or int(length) > LARGEST_BODY:
            return 413, f"At most {LARGEST_BODY} bytes can be sent at once."
        if not self.door.known(request) and not request.url.path.startswith(OPEN_PATHS):
            return 401, "This page needs a code first: open /code and enter the code printed there."
        return None

    def is_ours(self, value: str) -> bool:
        """Whether a Host header names this server: loopback, or with --lan a bare address."""
        host, port = split_host(value.lower())
        if port != str(self.port):
            return False
        if host == "localhost" or is_loopback(host):
            return True
        if not self.door.lan:
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


def limited(receive: Receive) -> Receive:
    """Stop reading a body that says less than it sends."""
    seen = 0

    async def read() -> Message:
        nonlocal seen
        message = await receive()
        seen += len(message.get("body", b""))
        if seen > LARGEST_BODY:
            return {"type": "http.disconnect"}
        return message

    return read
