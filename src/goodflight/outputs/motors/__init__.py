"""The motors of a folder, what to measure next, a thrust curve."""
