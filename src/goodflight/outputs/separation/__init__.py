"""The window of the pull to separate, as text and as a record."""
