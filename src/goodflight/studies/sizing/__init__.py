"""Whole designs from what is at hand: tried on flights, searched, chosen so that they differ."""
