"""An HTML file that stands alone: styles, fonts and script inside, nothing asked for outside.

Its own policy says so to the browser: nothing is loaded or sent, only the style and the script
that are in the file, known by their hashes, count.
"""

import base64
import hashlib
import re
from collections.abc import Mapping, Sequence
from functools import cache
from typing import Any, Final

from markupsafe import Markup

from goodflight.page.unparted import unparted_html
from goodflight.page.view import HOME, piece

STATIC: Final = HOME / "static"
OFFLINE: Final = HOME / "offline"  # what such files alone hold; the server does not serve it
_FONT = re.compile(r"url\(vendor/([a-z0-9-]+\.woff2)\)")
_EMPTY = re.compile(r"\n\s*\n+")


def stand_alone(
    template: str, styles: Sequence[str], context: Mapping[str, Any], scripts: Sequence[str] = ()
) -> str:
    """The file as text.

    styles, scripts : names in page/static or page/offline; without scripts none can run.
    """
    style = "\n".join(_style(name) for name in styles)
    code = _tight("\n".join(_text(name) for name in scripts))
    allowed = [
        "default-src 'none'",
        f"style-src '{_hash(style)}'",
        "font-src data:",
        "img-src data:",
        *([f"script-src '{_hash(code)}'"] if code else []),
        "base-uri 'none'",
        "form-action 'none'",
    ]
    inside = {"policy": "; ".join(allowed), "style": Markup(style), "script": Markup(code)}
    return unparted_html(_tight(piece(template, {**context, **inside})))


@cache
def _style(name: str) -> str:
    """A style sheet with its fonts inside."""

    def inside(match: re.Match[str]) -> str:
        font = base64.b64encode((STATIC / "vendor" / match[1]).read_bytes()).decode()
        return f"url(data:font/woff2;base64,{font})"

    return _tight(_FONT.sub(inside, _text(name)))


def _text(name: str) -> str:
    own = OFFLINE / name
    return (own if own.exists() else STATIC / name).read_text(encoding="utf-8")


def _tight(text: str) -> str:
    """Without empty lines: what is hashed before is the same text after."""
    return _EMPTY.sub("\n", text).strip("\n")


def _hash(text: str) -> str:
    return "sha256-" + base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()
