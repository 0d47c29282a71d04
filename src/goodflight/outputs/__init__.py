"""A result goes in, text comes out: terminal, JSON, CSV, SVG. One package per kind of result.

Nothing here computes a figure, writes a file or prints; the command line and the page do that.
"""
