"""The field card: words of its cells, and its paper."""
