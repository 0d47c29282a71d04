"""Pages under another country's code: no figure, source or word of the first set is left on them.

The terminal, JSON and papers are searched in `test_project_codes`. What the same figure stands for
elsewhere is let through: rings of the map, limits of rows that no code makes, a set's own clauses.
"""

import html
import re
from pathlib import Path
from typing import Final

import pytest
from starlette.testclient import TestClient

from code_figures import DIMENSIONS, UNITS, figures_in
from goodflight.outputs.field_map.svg import RINGS_M
from goodflight.page.app import make_app
from goodflight.project.demo import write_demo
from goodflight.quantity import brief, show
from goodflight.studies.case.codes import CODE_SETS
from goodflight.studies.rows import LIMIT_STATES

HERE: Final = "http://127.0.0.1:8311"
FIRST: Final = "us"
NAMES: Final = ("14 CFR", "NFPA", "Calif", "United States", "101.25")
WHOLE: Final = ("/ledger", "/field", "/field-answer", "/drawing", "/debrief", "/find", "/calendar")
OF_THE_CODE: Final = {each.key for each in LIMIT_STATES if each.phase == "code"} - {"membership"}
WHY: Final = tuple(f"/why/{key}" for key in sorted(OF_THE_CODE))  # a membership: no code says it
FLIGHTS: Final = 30


def pages_under(folder: Path, key: str) -> dict[tuple[str, str], str]:
    """What a person reads, by address and units."""
    write_demo(folder)
    site = folder / "sites" / "larkrise.toml"
    text = site.read_text("utf-8")
    assert 'code = "us"' in text
    site.write_text(text.replace('code = "us"', f'code = "{key}"'), "utf-8")
    found = {}
    app = make_app(folder, 8311, flights=FLIGHTS)
    with TestClient(app, base_url=HERE, headers={"origin": HERE}) as client:
        for address in (*WHOLE, *WHY):
            for units in UNITS:
                asked = {"cookie": f"goodflight-units={units}"}
                answer = client.get(address, headers=asked)
                assert answer.status_code == 200, address
                found[address, units] = read(answer.text)
    return found


def read(page: str) -> str:
    text = re.sub(r"(?s)<(script|style)\b.*?</\1>|<[^>]+>", " ", page)
    return re.sub(r"\s+", " ", html.unescape(text))


def elsewhere(key: str) -> set[str]:
    """Figures as they are shown that stand for something else than a limit of the first set."""
    lengths = {length for each in RINGS_M.values() for length in each}
    shown = {brief(length, "length", units) for length in lengths for units in UNITS}
    for row in LIMIT_STATES:
        for each in row.constants.values() if row.phase != "code" else ():
            for units in UNITS:
                shown |= {f(each.value, each.dimension, units) for f in (show, brief)}
    clauses = " ".join(each.text for each in (CODE_SETS[key].clauses or {}).values())
    return shown | {words for words in of_first(key) if words in clauses}


def of_first(key: str) -> set[str]:
    """Every figure of the first set that this one has not, as it would be shown."""
    own, first = CODE_SETS[key], CODE_SETS[FIRST]
    return {
        words(value, dimension, units)
        for name, dimension in DIMENSIONS.items()
        if dimension != "ratio"
        for value in figures_in(first, name) - figures_in(own, name)
        for units in UNITS
        for words in (show, brief)
    }


def left_on(pages: dict[tuple[str, str], str], key: str) -> list[tuple[str, str, str]]:
    wanted = of_first(key) - elsewhere(key)
    found = [(*at, name) for at, text in pages.items() for name in NAMES if name in text]
    for at, text in pages.items():
        found += [
            (*at, words)
            for words in wanted
            if re.search(rf"(?<![\d.,]){re.escape(words)}(?!\w)", text)
        ]
    return found


@pytest.mark.parametrize("key", ["canada", "uk", "germany", "australia"])
def test_no_page_shows_the_first_set(tmp_path: Path, key: str) -> None:
    assert left_on(pages_under(tmp_path / "demo", key), key) == []


def test_under_the_first_set_they_are_seen(tmp_path: Path) -> None:
    seen = left_on(pages_under(tmp_path / "demo", FIRST), "germany")
    assert {"14 CFR", "NFPA", "457 m"} <= {words for *_, words in seen}
    assert {"/ledger", "/field", "/why/wind_limit"} <= {address for address, *_ in seen}
