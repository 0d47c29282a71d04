"""What a stranger could send or write: answered in words, kept inside the folder, shown as text."""

import re
import time
from collections.abc import Iterator
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import quote, urlencode

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from starlette.routing import Route
from starlette.testclient import TestClient

from goodflight.page.app import make_app
from goodflight.page.navigation import routes
from goodflight.page.open_project import OpenProject
from goodflight.project import Fault
from goodflight.project.demo import write_demo
from goodflight.project.disk import read_files
from goodflight.project.saving import faults_of
from goodflight.studies.levers.whatif import KEYS

HERE = "http://127.0.0.1:8311"
OURS = {"origin": HERE}
HOSTILE = (
    "", "0", "-1", "1e999", "NaN", "²", "9" * 400, "a" * 3000, "\0", "../../x", "C:\\con", "[[a]]",
    "<img src=x onerror=a()>", "x = 1\ny = 2", "\r\nSet-Cookie: a=b", "nose", "breezy", "38 mm",
    "150 g measured", "up", "write", "tube", "fins", "added_mass", "rocket.toml", "1", "\u202e",
    "{a='x'}", "0,0\n1,5\n2,0", "1979-05-27", "5 ± 2 m/s", '"', "'''", "#", "%00", "%2e%2e%2f",
)  # fmt: skip
LONG_WORK = ("/settled", "/flown", "/watch", "/send/answer.html", "/send/card.html")
VALUES = st.one_of(st.sampled_from(HOSTILE), st.text(st.characters(exclude_categories=["Cs"])))
QUERY = (
    *KEYS, "plan", "number", "tab", "why", "part", "add", "hash", "on", "few", "order", "shut",
    "of", "with",
)  # fmt: skip
ENTRIES = (
    "name", "kind", "mass", "length", "after", "act", "table", "propellant", "diameter", "version",
    "file", "here", "units", "mode", "code", "remedy", "page", "rocket", "way", "motor", "site",
)  # fmt: skip


@pytest.fixture(scope="module")
def held(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[TestClient, OpenProject]]:
    root = tmp_path_factory.mktemp("held") / "inside"
    write_demo(root)
    store = OpenProject(root)
    with TestClient(make_app(root, 8311), base_url=HERE, raise_server_exceptions=False) as client:
        yield client, store


@settings(max_examples=120, deadline=None, suppress_health_check=list(HealthCheck))
@given(
    st.sampled_from([r for r in routes() if r.path not in LONG_WORK]),
    VALUES,
    st.dictionaries(st.sampled_from(QUERY), VALUES, max_size=4),
    st.dictionaries(st.sampled_from(ENTRIES), VALUES, max_size=6),
)
def test_whatever_is_sent_is_answered_in_words(
    held: tuple[TestClient, OpenProject],
    route: Route,
    name: str,
    query: dict[str, str],
    form: dict[str, str],
) -> None:
    client, store = held
    path = route.path.replace("{name:path}", quote(name)).replace("{key}", quote(name))
    for method in (route.methods or set()) - {"HEAD"}:
        sent = {"hash": store.hash, **form} if method == "POST" else None
        answer = client.request(
            method, f"{path}?{urlencode(query)}", data=sent, headers=OURS, follow_redirects=False
        )
        assert answer.status_code < 500, answer.text
        for sign in ("Traceback", "unexpected error", "<img"):
            assert sign not in answer.text
        assert "a=b" not in answer.headers.get("set-cookie", "")
    assert store.look() is not None  # no form leaves the files broken
    assert [path.name for path in store.root.parent.iterdir()] == ["inside"]


class Elements(HTMLParser):
    """The elements of a page, and the attributes that would run something."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found += [tag, *(key for key, _ in attrs if key.startswith("on") or key == "style")]


def test_no_name_becomes_an_element(tmp_path: Path) -> None:
    """Every name of the project that can be is changed into an element; none comes out as one."""
    sign, root = "<img src=x onerror=a()>'&", tmp_path / "demo"
    write_demo(root)
    client = TestClient(make_app(root, 8311), base_url=HERE)
    sound = {path: path.read_text() for path in root.glob("**/*.toml")}
    named = {n for t in sound.values() for n in re.findall(r'^name = "([^"]+)"', t, re.MULTILINE)}
    for name in sorted(named):
        form = re.compile(rf'(?<!kind = )"{re.escape(name)}"')
        trial = {path: form.sub(f'"{sign}{name}"', text) for path, text in sound.items()}
        for path, text in trial.items():
            path.write_text(text)
        sound = sound if faults_of(*_texts(root)) else trial
    for path, text in sound.items():
        path.write_text(text)
    assert sum(text.count(sign) for text in sound.values()) > 60
    time.sleep(0.03)
    seen = 0
    for address in ("/ledger", "/drawing?part=" + quote(sign + "nose"), "/flight", "/moved"):
        answer = client.get(address)
        texts = answer.json()["parts"].values() if address == "/moved" else [answer.text]
        for text in texts:
            reader = Elements()
            reader.feed(text)
            seen += text.count("onerror")
            assert not {"img", "onerror", "style"} & set(reader.found), address
    assert seen > 300  # they do come out, as text


def _texts(root: Path) -> tuple[dict[str, str], Path, list[Fault]]:
    texts, unread = read_files(root)
    return texts, root, unread
