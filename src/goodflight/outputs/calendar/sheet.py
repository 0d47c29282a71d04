"""The calendar on paper: the answer, every sitting with a box to tick, what helps."""

from collections.abc import Sequence

from goodflight.outputs.bench import flow as b
from goodflight.outputs.bench import sheet_parts as parts
from goodflight.outputs.bench.marks import text
from goodflight.outputs.bench.pdf import compiled, document_head
from goodflight.outputs.calendar import words
from goodflight.quantity.said import told
from goodflight.studies.bench.shapes import TemplateSet
from goodflight.studies.calendar.results import CalendarStep, CalendarStudy

BOX = "#box(width: 3.2mm, height: 3.2mm, stroke: 0.2mm)"


def calendar_pdf(
    study: CalendarStudy, units: str = "metric", paper: str = "a4", foot: Sequence[str] = ()
) -> bytes:
    """The plan on as many sheets as it takes."""
    of = TemplateSet(study.rocket, "calendar", (), study.invented)
    blocks = [
        _answer(study, units),
        _steps(study, units),
        _helps(study, units),
        _cuts(study),
        _stands(study),
    ]
    subject = f"Calendar to {words.year_words(study.launch) or 'launch day'}"
    page = b.flow_sheets(
        study.rocket,
        invented=study.invented,
        paper=paper,
        subject=subject,
        blocks=[each for each in blocks if each],
        number=parts.stamped(b.NUMBER, foot),
        use="build",
    )
    return compiled(document_head(of) + parts.PREAMBLE + page)


def _answer(study: CalendarStudy, units: str) -> str:
    said = (
        words.proof(study),
        *words.chance_words(study),
        *(f"{told(w, units)}." for w in study.warnings),
        *(f"{each.label}: {each.key}" for each in study.wanted),
        *(told(each, units) for each in study.clash),
    )
    head = f"#text(size: 13pt, weight: 600)[{text(words.headline(study))}]"
    return "\n\n".join([head, *(text(each) for each in said if each)])


def _steps(study: CalendarStudy, units: str) -> str:
    if not study.steps:
        return ""
    rows = []
    day = ""
    for step in study.steps:
        shown = f"#text(weight: 600)[{text(words.day_words(step.day))}]"
        shown += f" \\ #soft[{text(words.LATE)}]" if step.late else ""
        shown = shown if step.day != day else ""
        day = step.day
        rows.append(_row(step, shown, units))
    names = ", ".join(f"[#soft[{each}]]" for each in ("", "day", "time", "step", "place", "slack"))
    return (
        b.heading("Sittings") + "\n\n#table(columns: (auto, auto, auto, 1fr, auto, auto), "
        "stroke: (x: none, y: hair), inset: (x: 1mm, y: 0.9mm), "
        f"table.header({names}),\n{', '.join(rows)})"
    )


def _row(step: CalendarStep, day: str, units: str) -> str:
    more = [words.cure_words(step)]
    more += ["sets the day"] if step.critical else []
    cured = "; ".join(each for each in more if each)
    strong = f" #text(weight: 600)[{text('No return.')}]" if step.no_return else ""
    body = f"{text(step.title)} ({step.minutes:.0f} min){strong}"
    body += f" \\ #soft[{text(cured)}]" if cured else ""
    cells = (
        BOX,
        day,
        text(step.begins),
        body,
        text(words.place_words(step, units)),
        text(words.days(step.slack_days)),
    )
    return ", ".join(f"[{cell}]" for cell in cells)


def _helps(study: CalendarStudy, units: str) -> str:
    if not study.levers:
        return ""
    rows = [text(told(words.lever_words(study, each), units)) for each in study.levers]
    note = text(f"On the same {study.builds} simulated builds. {words.HEAT}")
    items = "\n".join(f"- {row}" for row in rows)
    return f"{b.heading('What helps most')}\n\n{items}\n\n#soft[{note}]"


def _cuts(study: CalendarStudy) -> str:
    if not study.cuts:
        return ""
    items = "\n".join(f"- {text(words.cut_words(study, each))}" for each in study.cuts)
    return f"{b.heading(words.CUTS)}\n\n{items}"


def _stands(study: CalendarStudy) -> str:
    items = "\n".join(f"- {text(each)}" for each in study.stands_on)
    return f"{b.heading('What this stands on')}\n\n{items}\n\n{text(words.PLAN_ONLY)}"
