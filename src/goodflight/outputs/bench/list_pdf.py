"""Lists and sketches that are not to be measured, as a short PDF: cut list, packing."""

from collections.abc import Sequence

from goodflight.outputs.bench import sheet_parts as parts
from goodflight.outputs.bench.book import list_blocks
from goodflight.outputs.bench.flow import NUMBER, flow_sheets, packing_block
from goodflight.outputs.bench.marks import text
from goodflight.outputs.bench.pdf import compiled, document_head, still_good
from goodflight.studies.bench.cutlist import CutList
from goodflight.studies.bench.shapes import TemplateSet


def list_pdf(
    cuts: CutList, paper: str = "a4", foot: Sequence[str] = (), units: str = "metric"
) -> bytes:
    """Lists and overviews; the sheets at 1:1 are in the SVG and DXF of the same command."""
    of = TemplateSet(cuts.rocket, "cut list", (), cuts.invented)
    words, number = list_blocks(cuts, paper, units), parts.stamped(NUMBER, foot)
    drawn = flow_sheets(
        cuts.rocket,
        invented=cuts.invented,
        paper=paper,
        subject="What to cut and to buy",
        blocks=words,
        number=number,
        use=of.subject,
    )
    return compiled(document_head(of) + parts.PREAMBLE + drawn)


def packing_pdf(of: TemplateSet, paper: str = "a4", foot: Sequence[str] = ()) -> bytes:
    """How the bays are packed, each drawing made smaller than the paper."""
    words = [packing_block(of.templates, paper), *map(text, (*of.notes, *still_good(foot)))]
    number = parts.stamped(NUMBER, foot)
    drawn = flow_sheets(
        of.rocket,
        invented=of.invented,
        paper=paper,
        subject="Packing",
        blocks=words,
        number=number,
        use=f"{of.subject}, scale beside the drawing",
    )
    return compiled(document_head(of) + parts.PREAMBLE + drawn)
