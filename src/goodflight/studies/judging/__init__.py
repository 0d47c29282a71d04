"""How likely, how sure, what drives it, what helps."""
