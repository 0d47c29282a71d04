"""Whole designs for an idea, as words and as text."""
