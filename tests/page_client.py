"""The page without a server: sheets as they come, forms as a browser would send them."""

import html
import re
from pathlib import Path
from typing import Any

from starlette.testclient import TestClient

from shared_answers import shared_app

HERE = "http://127.0.0.1:8311"


class Sheet:
    """A page as it came: its status, its text, and its forms as a browser would send them."""

    def __init__(self, answer: Any) -> None:
        self.status, self.text = answer.status_code, html.unescape(answer.text)
        self.raw = answer.text

    def form(self, action: str) -> dict[str, str]:
        """The entries of the form that is sent to `action`."""
        found = re.search(rf'<form[^>]*action="{re.escape(action)}[^"]*".*?</form>', self.raw, re.S)
        assert found, f"no form for {action}"
        entries = {}
        for tag, more in re.findall(r"<(input|select)([^>]*)>", found[0]):
            said = {k: html.unescape(v) for k, v in re.findall(r'([\w-]+)="([^"]*)"', more)}
            if tag == "input" and said.get("type") == "radio" and " checked" not in more:
                continue
            if tag == "input" and "name" in said:
                entries[said["name"]] = said.get("value", "")
        for name, options in re.findall(r'<select[^>]*name="([^"]+)".*?>(.*?)</select>', found[0]):
            chosen = re.search(r'<option(?: value="([^"]*)")?[^>]* selected>([^<]*)', options)
            told = "" if chosen is None else chosen[2] if chosen[1] is None else chosen[1]
            entries[name] = html.unescape(told)
        return entries


class Page:
    """The application of one project folder, spoken to without a server."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        app = shared_app(folder, 8311)
        self.client = TestClient(app, base_url=HERE, headers={"origin": HERE})

    def get(self, path: str) -> Sheet:
        return Sheet(self.client.get(path))

    def post(self, path: str, data: dict[str, str], follow: bool = True) -> Sheet:
        return Sheet(self.client.post(path, data=data, follow_redirects=follow))

    def text(self, file: str = "rocket.toml") -> str:
        return (self.folder / file).read_text("utf-8")

    def elsewhere(self, old: str, new: str, file: str = "rocket.toml") -> str:
        """Change a file as an editor would; return its new text."""
        text = self.text(file)
        assert old in text
        changed = text.replace(old, new)
        (self.folder / file).write_text(changed, "utf-8")
        self.client.app.app.state.room.store.looked_s = -1.0  # type: ignore[attr-defined]
        return changed
