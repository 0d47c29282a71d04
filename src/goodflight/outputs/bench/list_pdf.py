"""Cut list, what to buy and reduced cut sheets as a short PDF."""

from collections.abc import Sequence

from goodflight.outputs.bench import book as b
from goodflight.outputs.bench import sheet_parts as parts
from goodflight.outputs.bench.pdf import compiled, document_head
from goodflight.studies.bench.cutlist import CutList
from goodflight.studies.bench.shapes import TemplateSet


def list_pdf(
    cuts: CutList, paper: str = "a4", foot: Sequence[str] = (), units: str = "metric"
) -> bytes:
    """Lists and overviews; the sheets at 1:1 are in the SVG and DXF of the same command."""
    of = TemplateSet(cuts.rocket, "cut list", (), cuts.invented)
    words, number = b.list_blocks(cuts, paper, units), parts.stamped(b.NUMBER, foot)
    drawn = b.flow_sheets(
        cuts.rocket,
        invented=cuts.invented,
        paper=paper,
        subject="Cut list and what to buy",
        blocks=words,
        number=number,
    )
    return compiled(document_head(of) + parts.PREAMBLE + drawn)
