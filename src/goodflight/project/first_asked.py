"""How the first form asks for a key of a file: said on the key, as all else of it is."""

from dataclasses import dataclass


@dataclass(frozen=True)
class First:
    """What the first form asks for a key, and where among its questions.

    place : its place in the form, smaller first; of questions with a default and of those without
    each by itself. key : what the answer is called, else as the key is; keys of one question share
    what is said here, and its answer is written to each. words : choices with their words, else
    those of the key's type as they are. instead : a word that is taken in place of a figure, with a
    key of the same table and what it says then. default : what is taken while nothing is answered,
    so that it counts as assumed; imperial : that of a project in inches, where it is another.
    """

    place: int
    prompt: str
    why: str
    key: str = ""
    words: tuple[tuple[str, str], ...] = ()
    instead: tuple[str, str, str] | None = None
    default: str = ""
    imperial: str = ""
