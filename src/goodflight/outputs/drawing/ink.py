"""Ink, paper, hatchings and type of the workshop print; an SVG sheet that remembers its labels.

Every text goes through `Sheet.text`, which keeps the box it takes, so that labels can be placed
where no other label stands and a test can see that none overlap.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from html import escape
from typing import Final, Literal

Anchor = Literal["start", "middle", "end"]
Point = tuple[float, float]

SANS: Final = "'Source Sans 3','Noto Sans','DejaVu Sans',sans-serif"
MONO: Final = "'Source Code Pro','Noto Sans Mono','DejaVu Sans Mono',monospace"
WIDTH_OF_LETTER: Final = 0.6  # of the type size, the widest of the faces named
STYLE: Final = f"""
.gf{{--paper:#f6f3ea;--ink:#1b2626;--fine:#8a938f;--soft:#56605c;--signal:#d2401f;
 background:var(--paper);font-family:{SANS};color:var(--ink)}}
@media (prefers-color-scheme:dark){{.gf{{--paper:#10283a;--ink:#e8eee9;--fine:#6d8496;
 --soft:#a9bac4;--signal:#ff7a59}}}}
@media print{{.gf{{--paper:#fff;--ink:#000;--fine:#777;--soft:#333}}}}
.gf .paper{{fill:var(--paper)}} .gf .ink{{stroke:var(--ink);fill:none}}
.gf .fine{{stroke:var(--fine);fill:none}} .gf .white{{fill:var(--paper)}}
.gf .solid{{fill:var(--ink)}} .gf text{{fill:var(--ink)}} .gf text.soft{{fill:var(--soft)}}
.gf text.mono{{font-family:{MONO}}} .gf text.strong{{font-weight:600}}
.gf .heavy{{stroke-width:1.8}} .gf .thin{{stroke-width:1}} .gf .hair{{stroke-width:.7}}
.gf .dash{{stroke-dasharray:6 3}} .gf .dots{{stroke-dasharray:1.2 2.6}}
.gf .chain{{stroke-dasharray:12 3 2 3}}
"""
# how a figure is known: the stroke under it (dash pattern); "flight" is drawn double
UNDERLINES: Final[dict[str, str]] = {"guess": "1.2 2.4", "label": "5 2.5", "measured": ""}


@dataclass(frozen=True)
class Box:
    """A rectangle that a label or a line takes."""

    left: float
    top: float
    right: float
    bottom: float

    def meets(self, other: "Box", gap: float = 0.0) -> bool:
        """Whether the two overlap, or come nearer than `gap`."""
        return (
            self.left < other.right + gap
            and other.left < self.right + gap
            and self.top < other.bottom + gap
            and other.top < self.bottom + gap
        )


def text_width(words: str, size: float) -> float:
    """Width that a text may take at most."""
    return len(words) * size * WIDTH_OF_LETTER


def text_box(words: str, at: Point, size: float, anchor: Anchor) -> Box:
    """The box of a text whose base line starts, centres or ends at a point."""
    width = text_width(words, size)
    left = at[0] - {"start": 0.0, "middle": width / 2, "end": width}[anchor]
    return Box(left, at[1] - 0.8 * size, left + width, at[1] + 0.25 * size)


@dataclass
class Sheet:
    """Collects SVG elements and the boxes of all texts."""

    width: float
    height: float = 0.0
    items: list[str] = field(default_factory=list)
    boxes: list[tuple[str, Box]] = field(default_factory=list)
    walls: list[Box] = field(default_factory=list)  # lines that no label may cross

    def text(
        self, words: str, at: Point, size: float = 13, anchor: Anchor = "start", style: str = ""
    ) -> Box:
        """Write a text and remember where it stands."""
        box = text_box(words, at, size, anchor)
        self.boxes.append((words, box))
        kind = f' class="{style}"' if style else ""
        self.items.append(
            f'<text x="{at[0]:.1f}" y="{at[1]:.1f}" font-size="{size:g}" '
            f'text-anchor="{anchor}"{kind}>{escape(words)}</text>'
        )
        return box

    def free_text(
        self, words: str, places: Sequence[Point], size: float = 13, style: str = ""
    ) -> Box:
        """Write a text centred at the first place where it meets nothing, else at the last."""
        for place in places:
            box = text_box(words, place, size, "middle")
            if not self.meets(box):
                return self.text(words, place, size, "middle", style)
        return self.text(words, places[-1], size, "middle", style)

    def meets(self, box: Box, gap: float = 2.0) -> bool:
        """Whether a box would cover a label or a line kept free."""
        return any(box.meets(other, gap) for _, other in self.boxes) or any(
            box.meets(wall, gap) for wall in self.walls
        )

    def line(self, start: Point, end: Point, style: str = "ink thin") -> None:
        """A straight line."""
        self.items.append(
            f'<line x1="{start[0]:.2f}" y1="{start[1]:.2f}" x2="{end[0]:.2f}" '
            f'y2="{end[1]:.2f}" class="{style}"/>'
        )

    def shape(
        self, points: Sequence[Point], style: str = "ink thin", fill: str = "", close: bool = True
    ) -> None:
        """A polygon or an open polyline, perhaps filled with a hatching."""
        path = " ".join(f"{x:.2f},{y:.2f}" for x, y in points)
        look = f' style="fill:{fill}"' if fill else ""
        name = "polygon" if close else "polyline"
        self.items.append(f'<{name} points="{path}" class="{style}"{look}/>')

    def rectangle(self, box: Box, style: str = "ink thin", fill: str = "") -> None:
        """A rectangle, perhaps filled with a hatching."""
        corners = [
            (box.left, box.top),
            (box.right, box.top),
            (box.right, box.bottom),
            (box.left, box.bottom),
        ]
        self.shape(corners, style, fill)

    def circle(self, at: Point, radius: float, style: str = "ink thin", fill: str = "") -> None:
        """A circle."""
        look = f' style="fill:{fill}"' if fill else ""
        self.items.append(
            f'<circle cx="{at[0]:.2f}" cy="{at[1]:.2f}" r="{radius:.2f}" class="{style}"{look}/>'
        )

    def known_line(self, start: Point, width: float, known: str) -> None:
        """The stroke under a figure that says how it is known."""
        x, y = start
        dash = UNDERLINES.get(known, "")
        look = f' stroke-dasharray="{dash}"' if dash else ""
        for shift in (0.0, 2.2) if known == "flight" else (0.0,):
            self.items.append(
                f'<line x1="{x:.1f}" y1="{y + shift:.1f}" x2="{x + width:.1f}" '
                f'y2="{y + shift:.1f}" class="ink" stroke-width="1.1"{look}/>'
            )

    def svg(self, title: str, description: str) -> str:
        """The whole sheet as SVG text."""
        head = (
            f'<svg xmlns="http://www.w3.org/2000/svg" class="gf" role="img" '
            f'viewBox="0 0 {self.width:g} {self.height:.0f}" '
            f'width="{self.width:g}" height="{self.height:.0f}" '
            f'style="max-width:100%;height:auto">'
        )
        about = f"<title>{escape(title)}</title><desc>{escape(description)}</desc>"
        style = f"<style>{STYLE}</style><defs>{hatchings()}</defs>"
        paper = f'<rect class="paper" width="{self.width:g}" height="{self.height:.0f}"/>'
        return "\n".join([head + about, style, paper, *self.items, "</svg>"]) + "\n"


HATCHINGS: Final[dict[str, tuple[float, str]]] = {  # size of the tile, what is drawn in it
    "ply": (6, '<path d="M0,6 L6,0"/>'),
    "card": (5, '<path d="M0,0 L5,5"/>'),
    "cloth": (12, '<path d="M0,6 Q3,1 6,6 T12,6"/>'),
    "rope": (7, '<path d="M0,7 L3.5,0 M3.5,7 L7,0"/>'),
    "added": (8, '<path d="M0,4 L8,4 M4,0 L4,8"/>'),
    "grain": (6, '<path d="M1.4,1.5 h.9 M4.4,4.5 h.9" stroke-width="1.3"/>'),
    "spread": (4, '<path d="M0,4 L4,0"/>'),
}
KIND_HATCHING: Final[dict[str, str]] = {
    "ring": "ply",
    "bulkhead": "ply",
    "coupler": "card",
    "motor_tube": "card",
    "tube": "card",
    "canopy": "cloth",
    "cord": "rope",
    "added_mass": "added",
    "motor": "grain",
}


def hatchings() -> str:
    """The SVG patterns, one per kind of content."""
    return "".join(
        f'<pattern id="gf-{name}" width="{size:g}" height="{size:g}" '
        f'patternUnits="userSpaceOnUse"><g class="fine" stroke-width=".8">{marks}</g></pattern>'
        for name, (size, marks) in HATCHINGS.items()
    )


def hatching(kind: str) -> str:
    """Fill of a part kind."""
    name = KIND_HATCHING.get(kind, "")
    return f"url(#gf-{name})" if name else "none"


def spread_out(wanted: Sequence[float], gap: float, low: float, high: float) -> list[float]:
    """Push sorted positions apart to at least `gap`, as near to where they want to be as can be.

    Neighbours that are too near form a cluster around their common middle; clusters merge until
    none touch. The order is kept, so leaders never cross.
    """
    clusters: list[list[float]] = []  # [sum of (wanted - own offset), count]
    for place in wanted:
        clusters.append([place, 1])
        while len(clusters) > 1:
            last, before = clusters[-1], clusters[-2]
            start_before = before[0] / before[1]
            start_last = last[0] / last[1]
            if start_before + before[1] * gap <= start_last:
                break
            merged = [before[0] + last[0] - last[1] * before[1] * gap, before[1] + last[1]]
            clusters[-2:] = [merged]
    places: list[float] = []
    for total, count in clusters:
        start = total / count
        places += [start + i * gap for i in range(int(count))]
    if not places:
        return places
    places = _pushed(places, gap, low, 1)
    return _pushed(places[::-1], gap, high, -1)[::-1]


def _pushed(places: Sequence[float], gap: float, end: float, sign: int) -> list[float]:
    """Keep positions inside one end without changing their order."""
    kept: list[float] = []
    for place in places:
        limit = end if not kept else kept[-1] + sign * gap
        kept.append(max(place, limit) if sign > 0 else min(place, limit))
    return kept
