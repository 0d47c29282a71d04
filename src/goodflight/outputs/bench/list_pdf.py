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
    blocks = list_blocks(cuts, paper, units)
    return _sheets(of, paper, foot, "What to cut and to buy", blocks=blocks, use=of.subject)


def packing_pdf(of: TemplateSet, paper: str = "a4", foot: Sequence[str] = ()) -> bytes:
    """How the bays are packed, each drawing made smaller than the paper."""
    blocks = [
        packing_block(of.templates, paper),
        *map(text, (*map(str, of.notes), *still_good(foot))),
    ]
    use = f"{of.subject}, scale beside the drawing"
    return _sheets(of, paper, foot, "Packing", blocks=blocks, use=use)


def _sheets(
    of: TemplateSet,
    paper: str,
    foot: Sequence[str],
    subject: str,
    *,
    blocks: Sequence[str],
    use: str,
) -> bytes:
    """Blocks of running text as a document of their own."""
    drawn = flow_sheets(
        of.rocket,
        invented=of.invented,
        paper=paper,
        subject=subject,
        blocks=blocks,
        number=parts.stamped(NUMBER, foot),
        use=use,
    )
    return compiled(document_head(of) + parts.PREAMBLE + drawn)
