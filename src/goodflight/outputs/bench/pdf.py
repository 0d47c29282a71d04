"""Templates as a true-size PDF: a first page that says how to use it, then the sheets."""

from collections.abc import Sequence
from dataclasses import replace
from importlib.resources import files
from typing import Final

from goodflight.outputs.bench import sheet_parts as parts
from goodflight.outputs.bench.dimension_lines import dimensioned, sized_words
from goodflight.outputs.bench.marks import mm, shapes, text
from goodflight.outputs.bench.pages import figure, pages_for
from goodflight.outputs.bench.paper import FRAME_MM, PAPERS, Page, Placed, Scale
from goodflight.studies.bench.shapes import Template, TemplateSet

JOINS: Final = (
    "Sheets that join: cut one along the dashed line, lay it on its neighbour, crosses matched, "
    "tape, and check a length across the seam."
)


def compiled(markup: str) -> bytes:
    """Typst markup as PDF, with the project's own typefaces and no clock: same input, same file."""
    import typst

    home = str(files("goodflight.outputs.bench") / "fonts")
    fonts = typst.Fonts(include_system_fonts=False, font_paths=[home])
    return typst.compile(markup.encode("utf-8"), font_paths=fonts, format="pdf")


def template_pdf(
    of: TemplateSet,
    paper: str = "a4",
    scale: Scale | None = None,
    foot: Sequence[str] = (),
    units: str = "metric",
) -> bytes:
    """All templates of a set at 1:1.

    Parameters
        of : TemplateSet - what to print. [m]
        paper : str - one of PAPERS. [-]
        scale : Scale or None - printer correction from the measured check bars. [-]
        foot : sequence of str - lines for the foot of every sheet: day, stamp. [-]
        units : str - of the sizes written on the templates. [-]
    Returns
        pdf : bytes - the file. [-]
    Raises
        KeyError - no such paper
    Validity
        Lines lie within 0.001 mm of where they belong in the file; the printer is checked by bar.
    Source
        Own layout.
    Example
        >>> template_pdf(TemplateSet("r", "s", ()))[:5]
        b'%PDF-'
    """
    scale = scale or Scale()
    of = sized(of, units)
    pages = pages_for(of.templates, paper, scale)
    sheets = [cover(of, pages, paper=paper, scale=scale, foot=foot, units=units)]
    for number, page in enumerate(pages, 2):
        words = parts.stamped(f"sheet {number} of {len(pages) + 1}", foot)
        sheets.append(sheet(of, page, scale, number=words, units=units))
    return compiled(f"{document_head(of)}{parts.PREAMBLE}" + "\n#pagebreak()\n".join(sheets))


def sized(of: TemplateSet, units: str) -> TemplateSet:
    """A set with the sizes drawn on its templates."""
    return replace(of, templates=tuple(dimensioned(each, units) for each in of.templates))


def document_head(of: TemplateSet) -> str:
    """Title of the file, no date."""
    return f"#set document(title: [{text(f'{of.rocket}: {of.subject}')}], date: none)\n"


def sheet(
    of: TemplateSet,
    page: Page,
    scale: Scale | None,
    *,
    number: str,
    units: str = "metric",
    above: str = "",
    how: str = "",
) -> str:
    """One page with its drawing in the window; an overview without check bars has no scale.

    number : markup of the sheet's number. above : markup at the head of the page. how : markup
    behind the name of each template.
    """
    windows = [_clipped(page, each.clip_mm or page.window, each) for each in page.placed]
    names = [
        parts.at(
            each.name_at_mm[0],
            each.name_at_mm[1] - 2.2,
            f"#box(width: 90mm)[#text(size: 7pt)[{text(_name(each, units))}{how}]]",
        )
        for each in page.placed
        if each.name_at_mm
    ]
    subject = f"{page.title}, tile {page.tile}" if page.tile else page.title
    reduced = bool(page.placed) and all(each.template.reduced for each in page.placed)
    true = "scale beside the drawing" if reduced else "1:1" if scale else "overview"
    use = f"{of.subject}, {true}{', invented' if of.invented else ''}"
    low_frame = (page.width_mm - FRAME_MM, page.height_mm - FRAME_MM)
    return "\n".join(
        [
            f"#page(width: {mm(page.width_mm)}, height: {mm(page.height_mm)})[",
            above,
            parts.border(page.width_mm, page.height_mm),
            *windows,
            *names,
            *(parts.seam(page, each) for each in page.seams),
            parts.check_bars(page, scale) if scale and not reduced else "",
            parts.title_block(page.width_mm, page.height_mm, (of.rocket, subject, use), number),
            parts.page_map(page, *low_frame),
            "]",
        ]
    )


def _clipped(page: Page, clip_mm: tuple[float, float, float, float], of: Placed) -> str:
    """What is seen of a template through its window."""
    left, top, right, low = clip_mm
    return (
        f"#place(dx: {mm(left)}, dy: {mm(top)}, box(width: {mm(right - left)}, "
        f"height: {mm(low - top)}, clip: true)[#place(dx: {mm(-left)}, dy: {mm(-top)})"
        f"[#box(width: {mm(page.width_mm)}, height: {mm(page.height_mm)})[\n"
        f"{shapes(of.shapes)}\n]]])"
    )


def _name(of: Placed, units: str) -> str:
    return label(of.template, units) + (f", {of.piece}" if of.piece else "")


def figures(templates: Sequence[Template], columns: int) -> str:
    """Drawings in running text, each over its name; not to be measured."""
    cells = []
    for each in templates:
        b = each.bounds
        box = f"box(width: {mm(1e3 * b.width_m)}, height: {mm(1e3 * b.height_m)})"
        name = f"#text(size: 7pt)[{text(each.title)}]"
        cells.append(f"[#block(breakable: false)[#{box}[\n{shapes(figure(each))}\n] \\ {name}]]")
    grid = f"columns: {columns}, column-gutter: 6mm, row-gutter: 4mm"
    return f"#grid({grid}, {', '.join(cells)})" if cells else ""


def label(template: Template, units: str = "metric") -> str:
    """Name, number, material of a template in one line."""
    words = template.title + (f", make {template.count}" if template.count > 1 else "")
    words += f", {template.seen}" if template.seen else ""
    if template.thickness_m:
        words += f", {sized_words(template.thickness_m, units)}"
    return words + (f", {template.material}" if template.material else "")


def _where(template: Template, pages: tuple[Page, ...]) -> str:
    """On which sheets a template is."""
    at = [n for n, page in enumerate(pages, 2) if any(x.template is template for x in page.placed)]
    return str(at[0]) if len(at) == 1 else f"{at[0]}–{at[-1]}" if at else "none"


def table_of(templates: Sequence[Template], where: Sequence[str], units: str) -> str:
    """Templates on which sheets (markup), sizes to check on paper, how to use them; a column that
    says nothing is left out."""
    columns = (
        ("sheet", "auto", list(where)),
        ("template", "2fr", [text(label(each, units)) for each in templates]),
        ("check on paper", "1.6fr", [text(_checks(each, units)) for each in templates]),
        ("how", "3fr", [_small(" ".join(map(str, each.notes))) for each in templates]),
    )
    shown = [column for column in columns if any(column[2])]
    cells = [
        f"[{cell}]" for row in zip(*(cells for _, _, cells in shown), strict=True) for cell in row
    ]
    heads = ", ".join(f"[#soft[{name}]]" for name, _, _ in shown)
    return (
        "#[#set table.cell(breakable: false)\n"
        f"#table(columns: ({', '.join(wide for _, wide, _ in shown)}), "
        f"stroke: (x: none, y: hair), inset: 1.2mm, table.header({heads}),\n"
        + ", ".join(cells)
        + ")]"
    )


def _checks(template: Template, units: str) -> str:
    return "; ".join(f"{name} {sized_words(value, units)}" for name, value in template.sizes)


def _small(words: str) -> str:
    return f"#text(size: 7.5pt)[{text(words)}]" if words else ""


def still_good(foot: Sequence[str]) -> tuple[str, ...]:
    """How to ask whether a stamped sheet still holds."""
    if not foot:
        return ()
    return (
        "The stamp in the foot marks the figures these sheets were made from. When the rocket was "
        "weighed or changed since, ask: goodflight stamp DIR, or the page Scale.",
    )


def cover(
    of: TemplateSet,
    pages: tuple[Page, ...],
    *,
    paper: str,
    scale: Scale,
    foot: Sequence[str],
    units: str,
) -> str:
    """First page: print at 100 %, measure the bars, what is on which sheet."""
    width, height = PAPERS[paper]
    first = Page(width, height, of.subject, ())
    joins = (JOINS,) if any(page.seams for page in pages) else ()
    told = (_use(first, scale), *joins, *still_good(foot), *of.notes)
    body = "\n".join(
        [
            f"#text(size: 14pt, weight: 600)[{text(of.rocket)}: {text(of.subject)}]\n",
            *(f"{text(each)}\n" for each in told),
            "#v(2mm)",
            table_of(of.templates, [_where(each, pages) for each in of.templates], units),
        ]
    )
    return "\n".join(
        [
            f"#page(width: {mm(width)}, height: {mm(height)})[",
            parts.border(width, height),
            f"#place(dx: 18mm, dy: 14mm, box(width: {mm(width - 32)})[{body}])",
            parts.check_bars(first, scale),
            parts.title_block(
                width,
                height,
                (of.rocket, of.subject, "how to use these sheets"),
                parts.stamped(f"sheet 1 of {len(pages) + 1}", foot),
            ),
            "]",
        ]
    )


def _use(first: Page, scale: Scale) -> str:
    """How to print true to size, and what this file is stretched by."""
    corrected = ""
    if scale != Scale():
        corrected = (
            f" This file is stretched by {100 * (scale.across - 1):+.3f} % across and "
            f"{100 * (scale.down - 1):+.3f} % down for the printer that was measured."
        )
    return (
        'Print at 100 % ("actual size", no fit to page). Measure both bars with a steel '
        f"rule: {parts.bar_words(first.check_mm)}. If they are off, print again with what you "
        "measured: --measured-check and --measured-down." + corrected
    )
