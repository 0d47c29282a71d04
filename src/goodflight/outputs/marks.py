"""Marks that small drawings share."""

from html import escape


def lettering(x: float, y: float, words: str, anchor: str = "start") -> str:
    """Return words at a place of an SVG, in its own units; `anchor` start, middle or end."""
    return f'<text x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}">{escape(words)}</text>'
