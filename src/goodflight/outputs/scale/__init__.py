"""The weighings as text."""
