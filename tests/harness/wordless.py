"""A language without a word: what is looked up leaves nothing behind but the values filled in.

So whatever letters still stand in a text were never looked up, and would stay English in French.
"""

import re
from collections.abc import Iterator
from contextlib import contextmanager
from string import Formatter

from evaltrack import language
from evaltrack.language import Language, speaking


class _Wordless:
    """A catalogue that keeps of each sentence the places of its values."""

    def gettext(self, message: str) -> str:
        """Return ``{name} {number}`` for ``{name} came {number} times``."""
        return " ".join(f"{{{name}}}" for _, name, _, _ in Formatter().parse(message) if name is not None)

    def ngettext(self, one: str, many: str, number: int) -> str:
        """Return the same of the form for many."""
        return self.gettext(many)


@contextmanager
def wordless() -> Iterator[None]:
    """Put the language without a word in force within a block."""
    known = language.catalogues.get(Language.FRENCH_FRANCE)
    language.catalogues[Language.FRENCH_FRANCE] = _Wordless()
    try:
        with speaking(Language.FRENCH_FRANCE):
            yield
    finally:
        del language.catalogues[Language.FRENCH_FRANCE]
        if known is not None:
            language.catalogues[Language.FRENCH_FRANCE] = known


def never_looked_up(texts, *names: str) -> set[str]:
    """Return the words that texts of the language without a word still have, those in names aside."""
    found: set[str] = set()
    for text in texts:
        for name in names:
            text = text.replace(name, "")
        found |= set(re.findall(r"[^\W\d_]{2,}", re.sub(r"\b1er\b", "", text)))
    return found
