"""Every sheet in every state for everybody: axe-core, keyboard, narrow windows, enlarged text.

axe-core comes with axe-playwright-python (tests only); what it cannot judge counts as a fault here
too, unless it stands below with a reason. The ratios of the colours are in test_page_colours.
"""

from collections.abc import Callable, Iterator
from itertools import product
from pathlib import Path
from typing import Any, Final

import pytest

from browser.conftest import PATIENCE_MS, SIZES, Inside, Served
from goodflight.project.demo import write_demo
from made_logs import made, table

axe_api = pytest.importorskip("axe_playwright_python.sync_playwright", reason="no axe-core")
AT_REST: Final = "body:not(.busy)"
RULES: Final = ("wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice")
COLOURED: Final = ("dark", "auto", "sun")  # beside light: inks; sun's sizes are larger than light's
COLOUR_RULES: Final = ("color-contrast", "link-in-text-block")
# What axe-core leaves undecided about a contrast, and why that is no fault here. Writing inside a
# drawing (<text>) it never decides: it stands in ink or soft on paper, which is judged there too.
DECIDED: Final = {
    "bgGradient": "the arrow of a select is a picture; ink on raised is in test_page_colours",
    "nonBmp": "one sign in ink (an arrow of a button); ink on paper as above",
    "shortTextContent": "one sign in ink, as above",
}


def at_rest(page: Any) -> None:
    page.wait_for_selector(AT_REST, timeout=90_000)


def row_opened(page: Any) -> None:
    at_rest(page)
    page.locator("[data-why=zipper]").click()
    page.wait_for_selector("#why-zipper .formula")


def wind_tried(page: Any) -> None:
    open_what_if(page)
    for _ in range(6):
        page.locator("#try-wind").press("ArrowRight")
    page.wait_for_selector("#total .old")
    page.wait_for_selector(".columns[data-full=yes]")
    at_rest(page)


def part_refused(page: Any) -> None:
    at_rest(page)
    page.locator("#f-span").fill("80")
    page.locator(".partform button.keep").click()
    page.wait_for_selector(".wrong")
    at_rest(page)


def motor_read(page: Any) -> None:
    at_rest(page)
    page.locator("#m-table").fill("time\tthrust\n0.05\t120\n0.9\t110\n1.5\t0")
    page.get_by_role("button", name="preview").click()
    page.wait_for_selector(".told-table")
    at_rest(page)


def log_read(page: Any) -> None:
    at_rest(page)
    columns = {name: made(0.1)[name] for name in ("time", "pressure")}
    log = {"name": "log.csv", "mimeType": "text/csv", "buffer": table(columns).encode()}
    page.locator("input[type=file]").set_input_files(log)
    page.get_by_role("button", name="read it", exact=True).click()
    page.wait_for_selector("#log .overlay")
    at_rest(page)


def curves_drawn(page: Any) -> None:
    page.wait_for_selector("#curves[data-drawn]", timeout=90_000)
    page.wait_for_selector("#field svg", state="attached", timeout=90_000)
    page.wait_for_selector("#delays svg", state="attached", timeout=90_000)
    at_rest(page)


def one_flight_opened(page: Any) -> None:
    curves_drawn(page)
    page.locator("#number").fill("7")
    page.locator("#number").press("Enter")
    page.wait_for_selector("#one_flight:not([hidden])", timeout=60_000)
    at_rest(page)


def save_the_nose(page: Any, mass: str) -> None:
    page.locator("#f-mass").fill(mass)
    page.get_by_role("button", name="save", exact=True).click()
    page.wait_for_selector("#undo:not([disabled])")


def versions_listed(page: Any) -> None:
    before = page.locator("#f-mass").input_value()
    save_the_nose(page, "151 g measured" if before.startswith("150") else "150 g measured")
    page.get_by_role("link", name="earlier versions of the files").click()
    page.wait_for_selector(".versions")


def open_what_if(page: Any) -> None:
    at_rest(page)
    details = page.locator("details.what-if")
    if details.get_attribute("open") is None:
        details.locator("> summary").click()


def kept_too_late(page: Any) -> None:
    """Keep what is tried after the nose was weighed again in another window."""
    open_what_if(page)
    other = page.context.new_page()
    other.goto(page.url.split("/drawing")[0] + "/drawing?plan=midday&part=nose")
    before = other.locator("#f-mass").input_value()
    save_the_nose(other, "149 g measured" if before.startswith("148") else "148 g measured")
    other.close()
    page.wait_for_selector("#elsewhere:not([hidden])")
    page.get_by_role("button", name="keep", exact=True).first.click()
    page.wait_for_selector(".sides")


def plan_named_twice(page: Any) -> None:
    open_what_if(page)
    page.locator("#newplan").fill("midday")
    page.get_by_role("button", name="keep as new").click()
    page.wait_for_selector(".refused .wrong")


def answers_wrong(page: Any) -> None:
    page.locator("#q-mass").fill("1,31 kg")
    page.locator("#q-wind").fill("lots")
    page.get_by_role("button", name="show what can fail").click()
    page.wait_for_selector(".wrong")


def code_wrong(page: Any) -> None:
    page.locator("#code").fill("00000000")
    page.get_by_role("button", name="enter").click()
    page.wait_for_selector(".wrong")


# A server whose every row is judged to stand: no project of ours reaches that state by itself.
ALL_STAND: Final = """
import sys
from dataclasses import replace
from importlib import import_module
import numpy as np
study = import_module("goodflight.studies.questions.ledger")
judged = study.ledger_row
study.any_failing = lambda rows: np.zeros(len(rows[0].failing), dtype=bool)
study.effects_of = lambda *_: ()
study.way_of = lambda *_: None
study.ledger_row = lambda *given: replace(
    judged(*given), state="ok", failed=0, chance=0.0, low=0.0, high=0.002, remedies=())
from goodflight.cli import main
main()
"""


class AllStand(Served):
    """`goodflight serve` with every row standing."""

    command = ("-c", ALL_STAND)


STATES: Final[dict[str, tuple[str, str, Callable[[Any], None]]]] = {
    "ledger": ("demo", "/ledger?plan=midday", at_rest),
    "ledger, row opened": ("demo", "/ledger?plan=midday", row_opened),
    "ledger, wind tried": ("demo", "/ledger?plan=midday", wind_tried),
    "ledger, all stands": ("standing", "/ledger?plan=midday", at_rest),
    "drawing": ("demo", "/drawing?plan=midday", at_rest),
    "drawing, part opened": ("demo", "/drawing?plan=midday&part=fins", at_rest),
    "drawing, part added": ("demo", "/drawing?plan=midday&add=added_mass", at_rest),
    "drawing, part refused": ("demo", "/drawing?plan=midday&part=fins", part_refused),
    "drawing, motor read": ("demo", "/drawing?plan=midday", motor_read),
    "flight": ("demo", "/flight?plan=midday", curves_drawn),
    "flight, one of the sample opened": ("demo", "/flight?plan=midday", one_flight_opened),
    "versions": ("edited", "/drawing?plan=midday&part=nose", versions_listed),
    "changed meanwhile": ("edited", "/drawing?plan=midday&delay_out=3", kept_too_late),
    "plan named twice": ("demo", "/drawing?plan=midday&delay_out=3", plan_named_twice),
    "bench": ("demo", "/bench?plan=midday", at_rest),
    "calendar": ("demo", "/calendar?plan=midday", at_rest),
    "debrief, log read": ("demo", "/debrief?plan=midday", log_read),
    "faults": ("broken", "/ledger", at_rest),
    "refused": ("demo", "/nowhere", at_rest),
    "start": ("empty", "/start", at_rest),
    "start, answers wrong": ("empty", "/start", answers_wrong),
    "code": ("demo", "/code", at_rest),
    "code, wrong": ("lan", "/code", code_wrong),
}


@pytest.fixture(scope="module")
def served(
    shown: Inside, demo_folder: Path, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Callable[[str], Served | Inside]]:
    """A whole project, one with faults, an empty folder, and the whole one for other devices."""
    home: Path = tmp_path_factory.mktemp("access")
    for name in ("edited", "broken"):
        write_demo(home / name)
    rocket = home / "broken" / "rocket.toml"
    rocket.write_text(rocket.read_text("utf-8").replace('"240 mm"', '"240 parsec"'), "utf-8")
    starts: dict[str, Callable[[], Served | Inside]] = {
        "standing": lambda: AllStand(demo_folder),
        "lan": lambda: Served(demo_folder, "--lan"),
    }
    running: dict[str, Served | Inside] = {"demo": shown}

    def of(project: str) -> Served | Inside:
        if project not in running:
            running[project] = starts.get(project, lambda: Inside(home / project))()
        return running[project]

    yield of
    for name in running.keys() - {"demo"}:
        running[name].stop()


@pytest.fixture(scope="module")
def sheets(browser: Any, served: Callable[[str], Served | Inside]) -> Iterator[Callable[..., Any]]:
    """A sheet in a state and a window, opened once for the tests of that state."""
    found: dict[tuple[str, tuple[int, int], str], Any] = {}

    def close_all() -> None:
        for page in found.values():
            page.context.close()
        found.clear()

    def of(state: str, size: tuple[int, int], scheme: str, fresh: bool) -> Any:
        if fresh or any(other != state for other, _, _ in found):
            close_all()
        if (state, size, scheme) not in found:
            project, path, act = STATES[state]
            context = browser.new_context(
                viewport={"width": size[0], "height": size[1]},
                has_touch=size[0] < 820,
                color_scheme=scheme or "light",
                bypass_csp=True,  # axe-core is put in from outside
            )
            context.set_default_timeout(PATIENCE_MS)
            page = context.new_page()
            page.goto(served(project).url + path)
            act(page)
            page.wait_for_load_state()  # what was waited for may stand above the rest
            found[state, size, scheme] = page
        return found[state, size, scheme]

    yield of
    close_all()


@pytest.fixture
def at(sheets: Callable[..., Any]) -> Iterator[Callable[..., Any]]:
    """A sheet in one of its states, in a window of some size, put back when the test is over."""
    used: list[tuple[Any, tuple[int, int], str, Any]] = []

    def opened(
        state: str, size: tuple[int, int], color_scheme: str = "", fresh: bool = False
    ) -> Any:
        page = sheets(state, size, color_scheme, fresh)
        mode = page.evaluate("() => document.documentElement.dataset.mode ?? null")
        used.append((page, size, color_scheme, mode))
        return page

    yield opened
    for page, (width, height), scheme, mode in used:
        page.set_viewport_size({"width": width, "height": height})
        page.emulate_media(media="null", color_scheme=scheme or "light")
        page.evaluate(
            "mode => { const all = document.documentElement; scrollTo(0, 0);"
            " document.activeElement.blur();"
            " if (mode === null) delete all.dataset.mode; else all.dataset.mode = mode; }",
            mode,
        )


# half of a drawing's time, for no answer: see DECIDED
NO_DRAWINGS: Final = """() => axe.configure({ rules: [
  { id: "color-contrast", selector: "*:not(svg text, svg text *)" }] })"""
# what passed is not carried over
FOUND: Final = """async (options) => {
  const { violations, incomplete } = await axe.run(options);
  return { violations, incomplete };
}"""


def found_by_axe(page: Any, colours_only: bool) -> list[str]:
    """What axe-core objects to, and what it leaves undecided without a reason above."""
    only: dict[str, Any] = {"type": "tag", "values": list(RULES)}
    if colours_only:
        only = {"type": "rule", "values": list(COLOUR_RULES)}
    options = {
        "runOnly": only,
        "rules": {"target-size": {"enabled": True}},
        "resultTypes": ["violations", "incomplete"],
        "selectors": False,  # a quarter of the time, and wanted only where there is a fault
    }
    if page.evaluate("() => !window.axe"):
        page.evaluate(axe_api.Axe().axe_script)
        page.evaluate(NO_DRAWINGS)
    faults = faults_of(page.evaluate(FOUND, options))
    if faults:
        faults = faults_of(page.evaluate(FOUND, options | {"selectors": True})) or faults
    return [
        f"{rule['id']} {undecided(node)}: {node.get('target')} {node['html'][:90]}"
        for rule, node in faults
    ]


def faults_of(response: dict[str, Any]) -> list[tuple[dict[str, Any], dict[str, Any]]]:
    """Rule and element of every fault."""
    faults = [(rule, node) for rule in response["violations"] for node in rule["nodes"]]
    faults += [
        (rule, node)
        for rule in response["incomplete"]
        for node in rule["nodes"]
        if undecided(node) not in DECIDED
    ]
    return faults


def undecided(node: dict[str, Any]) -> str:
    """The key of the reason axe-core gives for leaving a contrast undecided."""
    data = [check["data"] for check in node["any"]]
    return next((str(each.get("messageKey")) for each in data if isinstance(each, dict)), "")


@pytest.mark.parametrize("state", STATES)
def test_axe_core_finds_nothing(at: Callable[..., Any], state: str, size: str) -> None:
    page = at(state, SIZES[size])
    tall = page.evaluate("() => document.documentElement.scrollHeight")
    page.set_viewport_size({"width": SIZES[size][0], "height": tall})  # nothing slides under
    slid_out = "wrap => document.querySelector('.tabs nav')?.style.setProperty('flex-wrap', wrap)"
    page.evaluate(slid_out, "wrap")  # a page half out of the sliding row has the inks of the others
    modes = ["light", "dark" if size == "desktop" else "sun"]  # inks are those of any window
    if state in ("ledger", "flight") and size == "desktop":
        modes.append("auto")  # the inks of light or dark, as the system asks
    for mode in modes:
        page.emulate_media(color_scheme="dark" if mode == "auto" else "light")
        page.evaluate("mode => { document.documentElement.dataset.mode = mode }", mode)
        found = found_by_axe(page, colours_only=mode in COLOURED)
        assert not found, f"{mode}: {len(found)}\n" + "\n".join(found[:20])
    page.evaluate(slid_out, "")


# WCAG 2.2 1.4.10: 320 px wide; 1.4.4: 200 % of a window of 1440 x 900
NARROW: Final = {"320 px": (320, 640), "phone": SIZES["phone"], "200 %": (720, 450)}


# Curves take the new width a frame later.
LAID_OUT: Final = """() => new Promise(done => requestAnimationFrame(() =>
  requestAnimationFrame(() => requestAnimationFrame(done))))"""


@pytest.mark.parametrize("state", STATES)
def test_no_sheet_scrolls_sideways(at: Callable[..., Any], state: str) -> None:
    page = at(state, SIZES["phone"])
    for (window, (width, height)), mode in product(NARROW.items(), ("light", "sun")):
        page.set_viewport_size({"width": width, "height": height})
        page.evaluate(LAID_OUT)
        page.evaluate("mode => { document.documentElement.dataset.mode = mode }", mode)
        beyond = page.evaluate(
            "() => [document.documentElement.scrollWidth - innerWidth, ...[...document."
            "querySelectorAll('main *')].filter(e => !e.closest('svg, .u-wrap') && e.scrollWidth >"
            " e.clientWidth + 1 && /auto|scroll/.test(getComputedStyle(e).overflowX))"
            ".map(e => e.id || e.className)]"
        )
        assert beyond[0] <= 0 and not beyond[1:], f"{window}, {mode}: {beyond}"


PRINTED: Final = {
    "ledger": "chance that anything fails",
    "ledger, row opened": "how it is judged",
    "ledger, wind tried": "what if, not saved",
    "drawing": "parts list",
    "drawing, part opened": "parts list",
    "flight": "where it comes down",
    "faults": "240 parsec",
}


@pytest.mark.parametrize("state", PRINTED)
def test_a_sheet_prints_with_its_title_block_and_without_controls(
    at: Callable[..., Any], state: str
) -> None:
    pdfium = pytest.importorskip("pypdfium2", reason="no reader of PDF files")
    page = at(state, SIZES["desktop"])
    printed = pdfium.PdfDocument(page.pdf(prefer_css_page_size=True))
    words = [" ".join(sheet.get_textpage().get_text_range().lower().split()) for sheet in printed]
    assert len(words) >= 1 and all(words), "an empty page"
    whole = " ".join(words)
    assert PRINTED[state] in whole
    assert len(words) <= 2 or state != "ledger"  # both sides of one paper
    whole = whole.replace("what if, not saved", "")  # belongs on paper; its controls do not
    # the reader of PDF takes columns of axis figures for upright writing and spaces letters out
    first = words[0].replace(" ", "")
    assert f"sheet1of{len(words)}" in first
    if state != "faults":
        assert "fieldfare" in first and "in100;" in first
    for control in ("undo", "redo", "what if", "delete", "save the plan", "single flight"):
        assert control not in whole, control
    assert "not saved" not in whole or state == "ledger, wind tried"
    widths = [sheet.get_size() for sheet in printed]
    assert all(width == pytest.approx(595, abs=2) for width, _ in widths)  # A4, upright


# Where the keyboard is, as a reader of the sheet and as a screen reader have it
FOCUSED: Final = """() => {
  const e = document.activeElement, box = (e.closest(".entry") || e).getBoundingClientRect();
  if (e === document.body) return null;
  const line = getComputedStyle(e.closest(".entry") || e);
  const at = (x, y) => { const top = document.elementFromPoint(x, y);
    return top && (e.contains(top) || top.contains(e)); };
  const lines = [...e.getClientRects()].map(r => at(r.left + r.width / 2, r.top + r.height / 2));
  return {
    ring: line.outlineStyle !== "none" && parseFloat(line.outlineWidth) >= 2,
    seen: box.bottom > 0 && box.right > 0 && box.top < innerHeight && box.left < innerWidth
      && lines.some(line => line),
    names: [e.getAttribute("aria-label"), [...(e.labels || [])].map(l => l.textContent).join(),
      e.textContent, e.title].map(t => (t || "").trim()).filter(Boolean),
    path: e.outerHTML.slice(0, 110),
    order: [...document.querySelectorAll("*")].indexOf(e),
  };
}"""


@pytest.mark.parametrize("state", STATES)
def test_the_keyboard_reaches_everything_in_order(
    at: Callable[..., Any], state: str, size: str
) -> None:
    page = at(state, SIZES[size])
    page.evaluate("() => { document.activeElement.blur(); scrollTo(0, 0); }")
    stops: list[dict[str, Any]] = []
    for _ in range(400):
        page.keyboard.press("Tab")
        stop = page.evaluate(FOCUSED)
        if stop is None or (stops and stop["order"] == stops[0]["order"]):
            break
        stops.append(stop)
    else:
        raise AssertionError(f"no way out after {stops[-1]}")
    assert stops, "nothing can be reached"
    assert not [s["path"] for s in stops if not s["names"]], "without a name"
    assert not [s["path"] for s in stops if not s["ring"]], "focus not drawn"
    assert not [s["path"] for s in stops if not s["seen"]], "focus hidden"
    orders = [s["order"] for s in stops]
    begins = orders.index(min(orders))  # the tab key goes on from where the page was last touched
    assert orders[begins:] + orders[:begins] == sorted(orders)


def test_a_page_half_under_the_edge_slides_in_at_its_stop(
    at: Callable[..., Any],
) -> None:
    """Chromium leaves what is seen in part where it is: ten of its pixels stand out of the edge."""
    page = at("ledger", SIZES["phone"])
    page.evaluate("""() => {
      const row = document.querySelector(".tabs nav"), links = row.querySelectorAll("a");
      row.scrollLeft = links[4].offsetLeft + 10 - row.offsetLeft - row.clientWidth;
      links[3].focus({ preventScroll: true });
    }""")
    page.keyboard.press("Tab")
    assert "Calendar" in page.evaluate(FOCUSED)["names"]
    assert page.evaluate(FOCUSED)["seen"]


@pytest.mark.parametrize("state", ["ledger", "drawing", "flight", "faults", "refused", "start"])
def test_the_first_stop_leads_past_the_head(at: Callable[..., Any], state: str, size: str) -> None:
    page = at(state, SIZES[size])
    page.evaluate("() => { document.activeElement.blur(); scrollTo(0, 0); }")
    page.keyboard.press("Tab")
    assert page.evaluate("() => document.activeElement.className") == "skip"
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    inside = page.evaluate(
        "() => !!document.activeElement.closest('main') || !document.querySelector('main '"
        "+ ':is(a, button, input, select)') && !!document.activeElement.closest('.foot')"
    )
    assert inside


def test_a_total_is_read_aloud_once_when_all_draws_are_in(at: Callable[..., Any]) -> None:
    page = at("ledger", SIZES["desktop"], fresh=True)
    live = "[aria-live]:not([aria-live=off]), [role=status], [role=alert], output:not([aria-live])"
    page.evaluate(
        """live => { window.heard = []; for (const e of document.querySelectorAll(live))
        new MutationObserver(() => { const t = e.innerText.trim(); if (t) heard.push(t) })
        .observe(e, {childList: true, characterData: true, subtree: true}) }""",
        live,
    )
    for _ in range(8):
        page.locator("#try-wind").press("ArrowRight")
        page.wait_for_timeout(60)
    page.wait_for_selector("#total .old")
    page.wait_for_function("() => document.querySelector('.columns').dataset.full === 'yes'")
    page.wait_for_timeout(300)
    heard = page.evaluate("() => heard")
    assert sum("chance that anything fails" in each for each in heard) == 1
    assert "what if, not saved" in heard[-1] and "so far" not in heard[-1]
    assert not [each for each in heard if "%" in each and "chance" not in each], heard
    assert len(heard) <= 6, heard


def test_a_ledger_where_all_stands_says_so(at: Callable[..., Any]) -> None:
    page = at("ledger, all stands", SIZES["desktop"])
    first = page.locator("#first").inner_text()
    assert "every row is ok" in first
    assert page.locator(".canfail li, .row.fails, .row.marginal, .row.unknown").count() == 0


def test_what_a_what_if_moves_stands_in_sight(at: Callable[..., Any]) -> None:
    """Each control is one line, and neither it nor the title block grows when it is moved."""
    page = at("ledger", SIZES["desktop"], fresh=True)
    tall = """() => [...document.querySelectorAll('.control, .titleblock')]
        .filter(e => e.checkVisibility()).map(e => Math.round(e.getBoundingClientRect().height))"""
    before = page.evaluate(tall)
    assert len(before) > 6 and all(24 <= each <= 36 for each in before[1:]), before
    assert page.evaluate(
        "() => document.querySelector('#side').getBoundingClientRect().bottom < innerHeight"
    )
    wind_tried(page)
    assert page.evaluate(tall) == before
    assert "was 3.5 m/s" in page.locator(".control.changed").inner_text().replace("\u00a0", " ")


def test_a_strip_names_what_is_allowed(at: Callable[..., Any]) -> None:
    page = at("ledger, row opened", SIZES["desktop"])
    allowed = page.locator("#row-zipper .histogram text").first.text_content().split(": ")[1]
    said = page.locator("#row-zipper .strip").get_attribute("aria-label")
    assert f"; allowed at most {allowed}, right of that line fails" in said


def test_no_percent_sign_stands_alone_on_a_line(at: Callable[..., Any]) -> None:
    said = at("ledger, row opened", SIZES["desktop"]).evaluate("() => document.body.textContent")
    assert said.count("\u00a0%") > 5
    assert " %" not in said


def test_how_a_mass_is_known_is_read_aloud(at: Callable[..., Any]) -> None:
    page = at("drawing", SIZES["desktop"])
    cells = page.locator(".partslist tbody td:nth-child(4)").all_text_contents()
    last = {cell.split()[-1] for cell in cells}
    assert last == {"guess", "label", "measured", "shape"}


@pytest.mark.parametrize("mode", ["dark", "auto"])
def test_curves_of_a_dark_sheet_are_printed_in_the_inks_of_paper(
    at: Callable[..., Any], mode: str
) -> None:
    page = at("flight", SIZES["desktop"], color_scheme="dark", fresh=True)
    page.evaluate("mode => { document.documentElement.dataset.mode = mode }", mode)
    darkest = """() => { const c = document.querySelector('.u-wrap canvas'), least = [];
        const d = c.getContext('2d').getImageData(0, 0, c.width, c.height).data;
        for (let i = 0; i < d.length; i += 4)
          if (d[i + 3] > 250) least.push(d[i] + d[i + 1] + d[i + 2]);
        return Math.min(...new Set(least)); }"""
    page.wait_for_function(f"() => ({darkest})() > 120")
    page.emulate_media(media="print", color_scheme="dark")
    page.wait_for_function(f"() => ({darkest})() < 30")
