"""Pages and addresses are declared by the modules that answer."""

from pathlib import Path

from goodflight import page
from goodflight.page.navigation import pages, parts_of, routes

TEMPLATES = Path(page.__file__).parent / "templates"
GUIDE = Path(__file__).resolve().parents[2] / "docs" / "page.md"


def test_every_page_of_the_navigation_answers_and_has_a_template_and_words() -> None:
    addresses = {route.path for route in routes() if "GET" in (route.methods or ())}
    words = GUIDE.read_text(encoding="utf-8")
    for each in pages():
        assert f"/{each.key}" in addresses
        assert (TEMPLATES / f"{each.key}.html").exists()
        assert f"| {each.title} |" in words
        for part in each.parts:
            assert (TEMPLATES / f"_{part}.html").exists(), part
    assert len({each.place for each in pages()}) == len(pages())
    assert parts_of("no such page") == pages()[0].parts


def test_no_two_modules_answer_at_one_address() -> None:
    asked = [(route.path, method) for route in routes() for method in route.methods or ()]
    assert len(asked) == len(set(asked)) >= 40


def test_a_part_whose_name_holds_a_slash_reaches_its_own_address() -> None:
    """The address of a part takes any rest, so those that end in a verb come before it."""
    paths = [route.path for route in routes()]
    assert paths.index("/part/{name:path}/remove") < paths.index("/part/{name:path}")
    assert paths.index("/part/{name:path}/move") < paths.index("/part/{name:path}")
