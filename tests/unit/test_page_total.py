"""The title block's words about the total are sentences that do not run into each other."""

import re
from types import SimpleNamespace

import pytest

from goodflight.page.view import piece


@pytest.mark.parametrize(
    ("unknown", "guessed", "read"),
    [
        ("", "", "800 flights, 3 to confirm"),
        ("a is not known", "", "800 flights, 3 to confirm. A is not known"),
        ("", "4 % rests", "800 flights, 3 to confirm. 4 % rests"),
        ("a is not known", "with b", "800 flights, 3 to confirm. A is not known. With b"),
    ],
)
def test_each_is_a_sentence(unknown: str, guessed: str, read: str) -> None:
    say = SimpleNamespace(
        speak_total=lambda _: "about 4 in 100",
        percent=lambda _: "",
        open_words=lambda _: "3 to confirm",
        not_known=lambda _: unknown,
        guessed_share=lambda _: guessed,
    )
    ledger = SimpleNamespace(state="fails", chance=0.04, flights=800)
    told = piece("_total.html", {"say": say, "ledger": ledger, "before": None, "full": True})
    words = re.sub(r"<[^>]*>", "", told.replace("\n", " ").replace("\u00a0", " "))
    assert " ".join(words.split()).endswith(read)
