"""The answer to one question of the inspector: known, not known, or to be shown by hand."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, Literal

from goodflight.quantity.said import Said, said

How = Literal["known", "unknown", "show"]
NOTHING: Final = Said("")


@dataclass(frozen=True)
class Reply:
    """What the project says to a question.

    said : the answer with its figures; no words where there is none. stands_on : how it is known,
    by which method. show : what to show by hand. do : what to do where it is not known. rows : of
    the ledger that judge the same.
    """

    how: How
    said: Said = NOTHING
    stands_on: str = ""
    show: str = ""
    do: str = ""
    rows: tuple[str, ...] = ()


def known(
    text: str,
    stands_on: str,
    rows: Sequence[str] = (),
    show: str = "",
    **figures: tuple[float, str],
) -> Reply:
    """An answer with its figures."""
    return Reply(
        how="known",
        said=said(text, **figures),
        stands_on=stands_on,
        show=show,
        do="",
        rows=tuple(rows),
    )


def by_hand(
    show: str,
    text: str = "",
    stands_on: str = "",
    rows: Sequence[str] = (),
    **figures: tuple[float, str],
) -> Reply:
    """What no file can know: what to show, after what the project does say."""
    return Reply(
        how="show",
        said=said(text, **figures),
        stands_on=stands_on,
        show=show,
        do="",
        rows=tuple(rows),
    )


def not_known(do: str, text: str = "", stands_on: str = "", **figures: tuple[float, str]) -> Reply:
    """What a measurement or an entry would answer; `text`: what the design says meanwhile."""
    return Reply("unknown", said(text, **figures), stands_on, "", do)
