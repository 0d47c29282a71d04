"""What to try on the ground, on paper: what to reach, how it is set up, places for readings."""

from collections.abc import Sequence

from goodflight.outputs.bench import flow, sheet_parts
from goodflight.outputs.bench.marks import text
from goodflight.outputs.bench.pdf import compiled, document_head, still_good
from goodflight.outputs.field_sheets import marked as pen
from goodflight.outputs.field_sheets.marked import marked
from goodflight.outputs.ledger.input_words import with_homes
from goodflight.outputs.words import CAUTION, STATES
from goodflight.quantity import DIMENSIONS, show
from goodflight.studies.bench.shapes import TemplateSet
from goodflight.studies.cautions import CAUTIONS
from goodflight.studies.lists.ground import GroundTest, GroundTests
from goodflight.studies.lists.step import BLANK


def ground_pdf(
    found: GroundTests, paper: str = "a4", foot: Sequence[str] = (), units: str = "metric"
) -> bytes:
    """The sheet of ground tests.

    Parameters
        found : GroundTests - the study's answer. [SI]
        paper : str - one of PAPERS. [-]
        foot : sequence of str - lines for the foot: day, stamp. [-]
        units : str - "metric" or "imperial". [-]
    Returns
        pdf : bytes - one test below the other, none of them split. [-]
    Raises
        KeyError - no such paper
    Validity
        As the study.
    Source
        Own layout.
    Example
        none
    """
    of = TemplateSet(found.rocket, "ground tests", (), found.invented)
    said = f"{found.motor}, {found.flights} simulated flights. {found.lead} {CAUTION}"
    blocks = [
        flow.heading("What to try on the ground"),
        text(said),
        *map(text, still_good(foot)),
        *(_test(each, units) for each in found.tests),
    ]
    page = flow.flow_sheets(
        found.rocket,
        invented=found.invented,
        paper=paper,
        subject=f"Ground tests, plan {found.plan}, motor {found.motor}",
        blocks=blocks,
        number=sheet_parts.stamped(flow.NUMBER, foot),
        use=of.subject,
    )
    return compiled(document_head(of) + sheet_parts.PREAMBLE + pen.PREAMBLE + page)


def _test(test: GroundTest, units: str) -> str:
    """One test: box, what it has to reach, how, and where the readings go."""
    state = "" if test.state == "ok" else f" #h(1fr) *{text(STATES[test.state])}*"
    lines = [f"#tick #text(size: 11pt, weight: 600)[{text(test.title)}]{state}"]
    if test.reach.text:
        lines.append(f"*{marked(test.reach.told(units))}*")
    else:
        lines.append(f"*not known:* {text(with_homes(test.do, test.asks))}")
    if test.beside.text:
        lines.append(f"#soft[{marked(test.beside.told(units))}]")
    lines.append(marked(test.how))
    rows = [_row(_readings(test, units), each) for each in test.write or [""]]
    lines = [" \\\n".join(lines), *rows]
    if test.caution:
        caution = CAUTIONS[test.caution]
        words = f"*{text(caution.title)}.* {text(caution.words)}"
        lines.append(f"#block(width: 100%, stroke: 0.25mm, inset: 1mm)[{words}]")
    edge = "hair" if test.state == "ok" else "0.9mm + black"
    body = "\n".join(lines)
    return (
        f"#block(breakable: false, width: 100%, stroke: (left: {edge}), inset: (left: 2mm, "
        f"y: 0.5mm), above: 3mm)[{body}]"
    )


def _row(readings: str, command: str) -> str:
    """Places for readings, and what enters them: beside each other, each in as many lines."""
    words = " ".join(f"#box(raw({_quoted(word)}))" for word in command.split())
    return (
        f"#block(above: 2.5mm, below: 2mm, grid(columns: (auto, 1fr), column-gutter: 4mm, "
        f"align: (left + bottom, right + bottom), [{readings}], [{words}]))"
    )


def _readings(test: GroundTest, units: str) -> str:
    """Places for what is read, with its unit; of a test that is ticked, for day and initials."""
    if test.unit:
        unit = test.unit
        if unit in DIMENSIONS:
            unit = show(1.0, unit, units).partition(" ")[2]
        return marked(f"read {' '.join([BLANK] * test.reads)} {unit}", "1.3em")
    return marked(f"held on {BLANK} seen by {BLANK}", "1.3em")


def _quoted(command: str) -> str:
    return '"' + command.replace("\\", "").replace('"', '\\"') + '"'
