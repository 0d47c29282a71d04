"""Logs of flight instruments: read by what stands in them, never changed."""
