"""What can still fail this flight, how likely is it, and what is the cheapest thing to do about it."""

__version__ = "0.1.0"
