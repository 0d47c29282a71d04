"""The ledger as data: its own fields, and what only words or the list of what is unseen can add."""

from typing import Any, Final

from goodflight.outputs.ledger.basis_words import formula
from goodflight.outputs.ledger.row_words import against, answer
from goodflight.outputs.record import More, Mores, record
from goodflight.outputs.words import headline
from goodflight.quantity.units import dimension_of
from goodflight.studies.cautions import caution
from goodflight.studies.results import Entry, Input, Ledger, Remedy, Row, Way
from goodflight.studies.unseen import UNSEEN, Unseen, second_reader

_SPOKEN: Final = "the chance in words"


def _change(each: Remedy | Way) -> list[dict[str, str]]:
    return [{"path": path, "text": text} for path, text in each.change]


def _unit(each: Input | Entry) -> str:
    return dimension_of(each.dimension).si if each.dimension else ""


def _figures(row: Row) -> list[dict[str, Any]]:
    return [{"name": name, **record(each)} for name, each in row.basis.figures.items()]


def _sources(row: Row) -> list[dict[str, str]]:
    pairs = zip(row.basis.source_keys, row.basis.sources)
    return [{"key": key, "text": text} for key, text in pairs]


MORE: Final[Mores] = {
    Ledger: {
        "spoken": More(_SPOKEN, headline),
        "unseen": More("what no calculation sees; not in the chance", lambda _: UNSEEN, Unseen),
        "second_reader": More(
            "what a second person who reads that list is worth, in words", lambda _: second_reader()
        ),
        "stands_on": More(
            "models, versions and the hash of the inputs", lambda ledger: dict(ledger.stands_on)
        ),
    },
    Row: {
        "spoken": More(_SPOKEN, answer),
        "against": More("the middle demand and the limit in words; empty = no figures", against),
        "unit": None,
        "dimension": More(
            "what demand and capacity are, e.g. speed; values are SI", lambda row: row.unit
        ),
        "driver": More(
            "key of the strongest driver; null = none",
            lambda row: row.drivers[0].key if row.drivers else None,
        ),
        "basis": None,
        "formula": More("demand and capacity in words", lambda row: formula(row.basis)),
        "figures": More(
            "name, value [SI], dimension, source of every figure in the formula", _figures
        ),
        "sources": More(
            "key in docs/bibliography.md, and text, of what the formula comes from", _sources
        ),
        "failing": None,
    },
    Input: {"unit": More("of value and sigma [SI]", _unit)},
    Entry: {"unit": More("SI unit of the dimension; empty = no figure", _unit)},
    Remedy: {
        "change": More("path in the project and text that would be written", _change),
        "settings": None,
        "caution": More(
            "the caution that goes with it; empty = none",
            lambda remedy: caution(remedy.caution) if remedy.caution else "",
        ),
        "unknown": None,
        "not_known": More(
            "keys of rows that it acts on and that are not known with it",
            lambda remedy: remedy.unknown,
        ),
    },
    Way: {
        "change": More("path in the project and text that keeping all of it would write", _change),
        "settings": None,
    },
}


def ledger_record(ledger: Ledger) -> dict[str, Any]:
    """The ledger with all its rows."""
    return record(ledger, MORE)


def row_record(row: Row) -> dict[str, Any]:
    """One limit state, with the 5, 50 and 95 % points of demand and capacity."""
    return record(row, MORE)
