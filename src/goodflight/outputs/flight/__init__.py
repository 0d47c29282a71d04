"""Flights: one flight as text and CSV, curves of all, the table and drawing of delays."""
