"""The field card as one HTML file for a phone without a network: all words are made here.

The scripts in it choose what is shown, keep ticks, and put the flights it carries together to a
patch to search; see `search_file`.
"""

import json
from datetime import date
from typing import Any, Final

from markupsafe import Markup

from goodflight.outputs.field_card import words
from goodflight.outputs.field_map.allowed_words import allowed_words
from goodflight.outputs.words import CAUTION
from goodflight.page.alone import stand_alone
from goodflight.page.find_page import BUTTONS
from goodflight.page.search_file import search_data
from goodflight.page.unparted import unparted
from goodflight.page.view import shared
from goodflight.project import Project
from goodflight.quantity import brief
from goodflight.studies.field.card import FieldCard
from goodflight.studies.field.grid import GridCell
from goodflight.studies.finding.asked import GROUND
from goodflight.studies.finding.sightings import EVENTS
from goodflight.studies.questions.find import SAFE

STYLES: Final = ("page.css", "card.css")


def card_html(project: Project, card: FieldCard, units: str = "metric", day: str = "") -> str:
    """The file as text; the same card on the same day gives the same text."""
    return stand_alone(
        "card.html",
        STYLES,
        {
            **shared(project, card.plan, units),
            "card": card,
            "day": day or date.today().isoformat(),
            "top": words.top_lines(card, units),
            "pull_advice": words.pull_advice(card),
            "refuse_why": words.refuse_why(card, units),
            "limits": words.limits_words(card, units),
            "wind_from": words.wind_words(card),
            "stands": words.stands_words(card),
            "rows": words.by_wind(card, units),
            "allowed": allowed_words(card.allowed, units),
            "planned_wind": card.grid.winds_m_s.index(card.planned.wind_m_s),
            "data": Markup(_safe(data_of(card, units))),
            "standing": CAUTION,
            "search": Markup(_safe(search_data(project, card, units))),
            "events": EVENTS,
            "buttons": BUTTONS,
            "covers": GROUND,
            "safe": SAFE,
        },
        ("card.js", "search.js", "seek.js"),
    )


def data_of(card: FieldCard, units: str) -> dict[str, Any]:
    """What the script chooses from: every cell by motor, wind, lean and delay, in words.

    `words` holds each text once, a cell the places of its own in it.
    """
    texts: dict[str, int] = {}

    def place(text: str) -> int:
        return texts.setdefault(unparted(text), len(texts))

    grid, cells = card.grid, {}
    for cell in grid.cells:
        said = words.cell_words(card, cell, units)
        why = [[place(name), place(value)] for name, value in said.why]
        do = [place(each) for each in said.do]
        cells[_key(card, cell)] = [
            do,
            place(said.chance),
            cell.state,
            place(said.state),
            why,
            place(said.refuse),
        ]
    motor, _, lean, out = _key(card, card.planned).split()
    outs = {
        key: sorted({c.delay_out_s for c in grid.cells if c.motor == key}) for key in grid.motors
    }
    return {
        "stamp": card.stamp,
        "winds": [brief(wind, "wind", units) for wind in grid.winds_m_s],
        "leans": [brief(tilt, "angle", units) if tilt else "upright" for tilt in grid.tilts_rad],
        "motors": [motor.name for motor in card.motors],
        "outs": [[brief(out, "time") for out in outs[key]] for key in grid.motors],
        "plan": [int(p) for p in (motor, lean, out)],
        "best": [_key(card, cell) for cell in card.best],
        "cells": cells,
        "words": list(texts),
    }


def _key(card: FieldCard, cell: GridCell) -> str:
    grid = card.grid
    outs = sorted({c.delay_out_s for c in grid.cells if c.motor == cell.motor})
    places = (
        grid.motors.index(cell.motor),
        grid.winds_m_s.index(cell.wind_m_s),
        grid.tilts_rad.index(cell.tilt_rad),
        outs.index(cell.delay_out_s),
    )
    return " ".join(str(place) for place in places)


def _safe(data: dict[str, Any]) -> str:
    """JSON inside HTML: no text of it can end its element."""
    text = json.dumps(data, ensure_ascii=False, separators=(",", ":"))
    return text.replace("<", "\\u003c").replace("&", "\\u0026")
