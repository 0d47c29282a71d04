"""No line of a page ends between a figure and its unit; what is copied or sent stays as it is."""

import pytest

from goodflight.page.unparted import unparted, unparted_html


@pytest.mark.parametrize(
    ("words", "kept"),
    [
        ("cloud at 950 m, 12 °C", "cloud at 950~m, 12~°C"),
        ("about 5 in 100, fewer than 1 in 700", "about 5~in~100, fewer than 1~in~700"),
        ("20 min ± 6 min", "20~min ±~6~min"),
        ("gusts 5.1 m/s at 2 m", "gusts 5.1~m/s at 2~m"),
        ("11 million, 3 motors, 2 so far", "11 million, 3 motors, 2 so far"),
    ],
)
def test_a_figure_stays_with_its_unit(words: str, kept: str) -> None:
    assert unparted(words) == kept.replace("~", "\u00a0")
    assert unparted(unparted(words)) == unparted(words)


def test_only_what_is_read_is_changed() -> None:
    kept = (
        '<input value="3 m"><option>2.4 m</option><code>5 m</code>'
        '<script>"6 m"</script><textarea>7 m</textarea>'
    )
    assert unparted_html(f"{kept}<p>8 m</p>") == f"{kept}<p>8\u00a0m</p>"
