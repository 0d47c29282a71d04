"""The access of the page: who is served, who is refused, and what every answer carries."""

import socket
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from goodflight.page.app import make_app
from goodflight.page.body import LARGEST_BODY
from goodflight.page.guard import PAUSE_S, Access
from goodflight.page.navigation import routes
from goodflight.page.server import free_socket
from goodflight.project.demo import write_demo

HERE = "http://127.0.0.1:8311"
OURS = {"origin": HERE}


@pytest.fixture
def client(folder: Path) -> Iterator[TestClient]:
    with TestClient(make_app(folder, 8311), base_url=HERE) as found:
        yield found


@pytest.mark.parametrize(
    "host", ["elsewhere.example:8311", "127.0.0.1:9999", "192.168.1.7:8311", "127.0.0.1", ""]
)
def test_a_foreign_host_is_refused(client: TestClient, host: str) -> None:
    answer = client.get("/ledger", headers={"host": host})
    assert answer.status_code == 421
    assert "own address only" in answer.text


@pytest.mark.parametrize(
    "headers",
    [
        {},
        {"origin": "http://elsewhere.example"},
        {"origin": "null"},
        {"origin": "https://127.0.0.1:8311"},
        {"origin": HERE, "sec-fetch-site": "cross-site"},
    ],
)
def test_a_change_from_elsewhere_is_refused(client: TestClient, headers: dict[str, str]) -> None:
    answer = client.post("/undo", data={"hash": "x"}, headers=headers)
    assert answer.status_code == 403


def test_a_large_body_is_refused(client: TestClient) -> None:
    answer = client.post("/motor", content=b"x" * (LARGEST_BODY + 1), headers=OURS)
    assert answer.status_code == 413


def test_a_long_address_is_refused(client: TestClient) -> None:
    assert client.get("/ledger?plan=" + "x" * 5000).status_code == 414


@pytest.mark.parametrize(
    "path",
    [
        "/static/../guard.py",
        "/static/%2e%2e/guard.py",
        "/static/..%2f..%2fguard.py",
        "/static//etc/passwd",
        "/rocket.toml",
    ],
)
def test_no_file_outside_is_served(client: TestClient, path: str) -> None:
    assert client.get(path).status_code == 404


def test_every_answer_carries_the_policy(client: TestClient) -> None:
    for path in ("/start", "/static/page.css", "/nothing"):
        headers = client.get(path).headers
        policy = headers["content-security-policy"]
        assert "default-src 'none'" in policy and "unsafe" not in policy
        assert headers["x-content-type-options"] == "nosniff"
        assert headers["referrer-policy"] == "same-origin"


def test_no_inline_script_or_style(client: TestClient) -> None:
    for path in ("/drawing", "/flight", "/ledger"):
        text = client.get(path).text
        assert "<style" not in text and " style=" not in text and " onclick" not in text
        assert text.count("<script") == text.count("<script src=")


def test_a_redirect_stays_here(client: TestClient) -> None:
    for here in ("https://elsewhere.example/", "//elsewhere.example", "/\\elsewhere.example"):
        answer = client.post(
            "/choices",
            data={"here": here, "units": "imperial"},
            headers=OURS,
            follow_redirects=False,
        )
        assert answer.headers["location"] == "/"


def test_each_code_lets_one_in() -> None:
    said: list[str] = []
    access = Access(True, said.append)
    code = access.code
    assert access.enter("nonsense") is None
    assert access.enter(f"{code[:4]} {code[4:]}") in access.keys
    assert access.enter(code) is None
    assert len(said) == 2 and code not in said[1].replace(" ", "")


def test_five_wrong_codes_make_a_new_one() -> None:
    access = Access(True, lambda _words: None)
    code = access.code
    for _ in range(5):
        access.enter("00")
    assert access.enter(code) is None


def test_lan_asks_for_the_code(tmp_path: Path) -> None:
    write_demo(tmp_path / "demo")
    said: list[str] = []
    app = make_app(tmp_path / "demo", 8311, True, said.append)
    outside = "http://192.168.1.7:8311"
    with TestClient(app, base_url=outside, client=("192.168.1.9", 5)) as client:
        assert client.get("/ledger").status_code == 401
        assert client.post("/demo", headers={"origin": outside}).status_code == 401
        assert client.get("/code").status_code == 200
        wrong = client.post("/code", data={"code": "1"}, headers={"origin": outside})
        assert wrong.status_code == 403
        code = said[0].split(":")[1]
        right = client.post("/code", data={"code": code}, headers={"origin": outside})
        assert right.status_code == 200 and "Fieldfare" in right.text
        assert client.get("/ledger", headers={"host": "name.example:8311"}).status_code == 421


def test_a_taken_port_is_said() -> None:
    first = free_socket("127.0.0.1", None)
    with pytest.raises(OSError, match=r"[Aa]ddress"):
        free_socket("127.0.0.1", first.getsockname()[1])
    second = free_socket("127.0.0.1", None)
    assert second.getsockname()[1] != first.getsockname()[1]
    first.close()
    second.close()


def test_answers_are_not_held_back() -> None:
    """Asyncio turns Nagle's delay off only for a socket that names its protocol."""
    listener = free_socket("127.0.0.1", None)
    try:
        assert listener.proto == socket.IPPROTO_TCP
    finally:
        listener.close()


ALMOST = (
    "evil@127.0.0.1:8311", "127.0.0.1.:8311", "[::1]8311", "[::1]x:8311", "127.0.0.1:8311@evil",
    "localhost.evil:8311", "0.0.0.0:8311",
)  # fmt: skip


@pytest.mark.parametrize("host", ALMOST)
def test_a_host_that_looks_like_ours_is_refused(client: TestClient, host: str) -> None:
    assert client.get("/ledger", headers={"host": host}).status_code == 421


@pytest.mark.parametrize("host", ["LOCALHOST:8311", "[::1]:8311"])
def test_our_own_names_are_served(client: TestClient, host: str) -> None:
    assert client.get("/favicon.ico", headers={"host": host}).status_code == 200


def test_port_80_is_not_named_by_a_browser(tmp_path: Path) -> None:
    with TestClient(make_app(tmp_path / "new", 80), base_url="http://127.0.0.1") as client:
        assert client.get("/start", headers={"host": "127.0.0.1"}).status_code == 200


@pytest.mark.parametrize("site", ["cross-site", "same-site"])
def test_another_site_may_link_but_not_load(client: TestClient, site: str) -> None:
    loaded = {"sec-fetch-site": site, "sec-fetch-mode": "no-cors"}
    followed = {"sec-fetch-site": site, "sec-fetch-mode": "navigate"}
    assert client.get("/versions", headers=loaded).status_code == 403
    assert client.get("/versions", headers=followed).status_code == 200


def test_a_body_without_length_is_refused_in_words(client: TestClient) -> None:
    kind = {"content-type": "application/x-www-form-urlencoded"}
    parts = (b"x" * 100_000 for _ in range(11))
    answer = client.post("/motor", content=parts, headers={**OURS, **kind})
    assert (answer.status_code, answer.text) == (
        413,
        "At most 1000000 bytes can be sent at once.\n",
    )


@pytest.mark.parametrize("length", ["-1", "²", "9" * 13])
def test_a_length_that_is_none_is_refused(client: TestClient, length: str) -> None:
    headers: dict[Any, Any] = {**OURS, "content-length": length.encode("latin-1")}
    assert client.post("/undo", content=b"", headers=headers).status_code == 413


def test_many_fields_are_refused_in_words(client: TestClient) -> None:
    kinds = {
        "application/x-www-form-urlencoded": b"&".join(b"f%d=1" % i for i in range(1100)),
        "multipart/form-data": b"",
    }
    for kind, body in kinds.items():
        answer = client.post("/motor", content=body, headers={**OURS, "content-type": kind})
        assert answer.status_code == 400 and "This form could not be read" in answer.text


def test_after_five_wrong_codes_none_is_taken_for_a_while() -> None:
    now, said = [0.0], list[str]()
    access = Access(True, said.append, clock=lambda: now[0])
    for _ in range(1000):
        access.enter("00")
    assert len(said) == 2 and access.shut
    assert access.enter(access.code) is None
    now[0] = PAUSE_S
    assert not access.shut and access.enter(access.code) in access.keys


@pytest.mark.parametrize(
    "path", ["/codes", "/code/", "/static/nothing", "/static/", "/nothing", "//code", "/watch"]
)
def test_without_a_code_nothing_of_the_project_is_told(tmp_path: Path, path: str) -> None:
    write_demo(tmp_path / "demo")
    app = make_app(tmp_path / "demo", 8311, True, lambda _words: None)
    outside = "http://192.168.1.7:8311"
    with TestClient(app, base_url=outside, client=("192.168.1.9", 5)) as client:
        for answer in (client.get(path), client.post(path, headers={"origin": outside})):
            assert answer.status_code in (401, 404, 405)
            assert "Fieldfare" not in answer.text and "<title" not in answer.text
        kind = {"origin": outside, "content-type": "multipart/form-data"}
        bad = client.post("/code", content=b"junk", headers=kind)
        assert bad.status_code == 400 and "demo" not in bad.text


def test_every_route_asks_for_the_code(tmp_path: Path) -> None:
    write_demo(tmp_path / "demo")
    app = make_app(tmp_path / "demo", 8311, True, lambda _words: None)
    outside = "http://192.168.1.7:8311"
    with TestClient(app, base_url=outside, client=("192.168.1.9", 5)) as client:
        for route in routes():
            if route.path == "/code":
                continue
            path = route.path.replace("{name:path}", "nose").replace("{key}", "x")
            for method in route.methods or ():
                answer = client.request(method, path, headers={"origin": outside})
                assert answer.status_code == 401, (method, path)


def test_a_read_writes_nothing(tmp_path: Path) -> None:
    write_demo(tmp_path / "demo")

    def texts() -> dict[str, bytes]:
        files = sorted((tmp_path / "demo").rglob("*"))
        return {str(path): path.read_bytes() for path in files if path.is_file()}

    before = texts()
    with TestClient(make_app(tmp_path / "demo", 8311), base_url=HERE) as client:
        for route in routes():
            path = route.path.replace("{name:path}", "nose").replace("{key}", "x")
            if path not in ("/settled", "/flown", "/send/answer.html", "/send/card.html"):
                client.get(f"{path}?act=write&hash=x&remedy=x&version=1&file=rocket.toml")
    assert texts() == before
