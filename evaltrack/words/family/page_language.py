"""In which language a family's page speaks, whatever the language of the screens is."""

from collections.abc import Iterator
from contextlib import contextmanager

from evaltrack.language import Language, language_of, mark, speaking, tr
from evaltrack.words.family.sheet import FamilySheet

_NAMES = {
    Language.ENGLISH: mark("English"),
    Language.FRENCH_CANADA: mark("French (Canada)"),
    Language.FRENCH_FRANCE: mark("French (France)"),
}


def page_language(tag: str) -> Language:
    """Return the language for the tag of a page; English for one that this version does not know."""
    return language_of(tag) or Language.ENGLISH


def language_name(tag: str) -> str:
    """Return what the language of a page is called."""
    return tr(_NAMES[page_language(tag)])


@contextmanager
def in_words_of(page: FamilySheet) -> Iterator[None]:
    """Put the page's language in force within a block: for the words around its sentences."""
    with speaking(page_language(page.language)):
        yield
