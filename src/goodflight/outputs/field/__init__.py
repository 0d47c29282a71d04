"""The last hour as words, text and pictures."""
