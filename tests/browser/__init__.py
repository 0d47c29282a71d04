"""Tests that look at the page as a browser draws it; one browser serves those of a worker."""
