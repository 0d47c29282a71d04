"""Names and words that go into a sentence with figures as they are, braces and all."""


def literal(text: str) -> str:
    """The text as part of a `Said`, whose figures stand in braces."""
    return text.replace("{", "{{").replace("}", "}}")
