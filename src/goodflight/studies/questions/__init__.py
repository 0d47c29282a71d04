"""One question, one function: inputs to a result."""
