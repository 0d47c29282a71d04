"""Every ink of the page against every ground it stands on, in every mode, as the sheet rules it.

Contrast is the ratio of WCAG 2.2, "relative luminance" and "contrast ratio": 4.5 for text
(1.4.3), 3 for the edges of controls and for marks that carry meaning (1.4.11).
"""

import re
from itertools import product

import pytest

from goodflight.page.view import HOME, MODES

LAID_OUT = "\n".join(path.read_text("utf-8") for path in sorted(HOME.glob("*/*.css")))
CSS = re.sub(r"\s*([{};:,])\s*", r"\1", LAID_OUT)
TEXT = ("ink", "soft", "signal-text", "tried")
MARKS = ("ink", "fine", "signal", "tried")
GROUNDS = ("paper", "raised")
# `faint` is not here: it only rules lines between rows and tints what is also said in words
RULED = {"print": ":root,:root[data-mode]"}
BLOCKS = re.findall(r"(:root[^{}]*)\{([^{}]*)\}", CSS)


def colours(mode: str) -> dict[str, str]:
    """The colours of a mode: those of paper, then what the mode's own rules put over them."""
    found: dict[str, str] = {}
    for selector, body in BLOCKS:
        if selector.strip() in (":root", RULED.get(mode, f":root[data-mode={mode}]")):
            found |= dict(re.findall(r"--([a-z-]+):(#[0-9a-f]{3,6})\b", body))
    return found


def luminance(colour: str) -> float:
    """Relative luminance of WCAG 2.2, of sRGB."""
    digits = colour[1:] if len(colour) == 7 else "".join(2 * each for each in colour[1:])
    shares = [int(digits[i : i + 2], 16) / 255 for i in (0, 2, 4)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in shares]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    """Contrast ratio of WCAG 2.2."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_the_formula_gives_the_ends_of_its_scale() -> None:
    assert contrast("#000", "#fff") == pytest.approx(21, abs=1e-12)
    assert contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.005)  # just misses 4.5


@pytest.mark.parametrize("mode", [*MODES, *RULED])
@pytest.mark.parametrize(("inks", "least"), [(TEXT, 4.5), (MARKS, 3.0)], ids=["text", "marks"])
def test_every_ink_stands_out_from_its_ground(
    mode: str, inks: tuple[str, ...], least: float
) -> None:
    found = colours(mode)
    pairs = {(a, b): contrast(found[a], found[b]) for a, b in product(inks, GROUNDS)}
    poor = {pair: round(ratio, 2) for pair, ratio in pairs.items() if ratio < least}
    assert not poor, f"{mode}: {poor}"


def test_as_the_system_is_paper_by_day_and_blueprint_by_night() -> None:
    night = re.search(r"prefers-color-scheme:dark\)\{:root\[data-mode=auto\]\{([^}]*)\}", CSS)
    assert night is not None
    by_night = dict(re.findall(r"--([a-z-]+):(#[0-9a-f]{3,6})\b", night[1]))
    assert {**colours("light"), **by_night} == colours("dark")


def test_colours_stand_in_the_variables_only() -> None:
    rules = re.sub(r":root[^{}]*\{[^{}]*\}", "", CSS)
    assert re.findall(r"#[0-9a-fA-F]{3,8}\b(?=[;,)}\s])|\brgba?\(|\bhsla?\(", rules) == []


def test_what_a_browser_would_draw_in_its_own_blue_is_drawn_in_ink() -> None:
    """A slider and its thumb: without `appearance: none` the thumb is the system's blue dot."""
    for part in ("input[type=range]", "input[type=range]::-webkit-slider-thumb"):
        (body, *_) = re.findall(re.escape(part) + r"\{([^}]*)\}", CSS)
        assert re.search(r"(^|;)appearance:none(;|$)", body), part
