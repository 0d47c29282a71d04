"""The log book as a table, one line a flight, SI."""

import csv
import io
from typing import Final

from goodflight.studies.questions.debrief import DebriefStudy

HEAD: Final = (
    "flight", "date", "plan", "motor", "delay_out_s", "result", "apogee_standard_m",
    "peak_by", "looked_over", "damage", "note",
)  # fmt: skip


def book_csv(study: DebriefStudy) -> str:
    """All flights; damage as `row: what`, one after the other; empty = not noted."""
    text = io.StringIO()
    table = csv.writer(text, lineterminator="\n")
    table.writerow(HEAD)
    for each in study.book:
        damage = "; ".join(f"{found.row}: {found.what}" for found in each.damage)
        looked = "yes" if each.looked_over else "no"
        cells = (
            each.name,
            each.date,
            each.plan,
            each.motor,
            each.delay_out_s,
            each.result,
            None if each.apogee_m is None else round(each.apogee_m, 1),
            "" if each.apogee_m is None else "log" if each.logged else "notes",
            looked,
            damage,
            each.note,
        )
        table.writerow(["" if cell is None else _plain(str(cell)) for cell in cells])
    return text.getvalue()


def _plain(cell: str) -> str:
    """A cell that no spreadsheet takes for a formula."""
    return f"'{cell}" if cell.startswith(("=", "+", "-", "@")) else cell
