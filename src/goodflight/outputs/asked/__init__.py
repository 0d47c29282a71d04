"""Small drawings of what is asked: the first questions, the ways a canopy is measured."""
