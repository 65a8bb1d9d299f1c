"""The words of the user's language: every sentence that a person reads goes through here.

The sentences in the code are English and are their own keys. French stands in ``assets/languages/fr/*.po``,
compiled when evaltrack is installed. A sentence is whole, with its values named, since no other language
puts the pieces in the order of English:

    tr("{name} came to {number} practices", name=..., number=...)
    tr_many("{number} try", "{number} tries", number)

A constant of a module is made before the language is known: it is marked, and looked up where it is shown:

    TITLE = mark("Your practice")          ...          tr(TITLE)
"""

import os
import re
from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from enum import StrEnum
from typing import Protocol

from evaltrack.errors import EvaltrackError
from evaltrack.places import assets

THIN, NO_BREAK = "\u202f", "\u00a0"


class Language(StrEnum):
    """A language with the manners of writing of one country; its value is a BCP 47 tag."""

    ENGLISH = "en"
    FRENCH_CANADA = "fr-CA"
    FRENCH_FRANCE = "fr-FR"

    @property
    def is_french(self) -> bool:
        """Say whether the words are French, of whichever country."""
        return self.value.startswith("fr")


THOUSANDS = {Language.ENGLISH: ",", Language.FRENCH_CANADA: NO_BREAK, Language.FRENCH_FRANCE: THIN}


class Whole(int):
    """A count that is written with a mark between its thousands: ``5,506``, ``5 506``."""

    def __format__(self, spec: str) -> str:
        """Return it as the language in force writes it."""
        return f"{int(self):,}".replace(",", THOUSANDS[language()])

    def __str__(self) -> str:
        return f"{self}"


class Catalogue(Protocol):
    """What a language knows: the sentence for a key, and the one of its forms that goes with a number."""

    def gettext(self, message: str) -> str:
        """Return the sentence, or the key where there is none."""

    def ngettext(self, one: str, many: str, number: int) -> str:
        """Return the form that the number asks for."""


class _English:
    def gettext(self, message: str) -> str:
        return message

    def ngettext(self, one: str, many: str, number: int) -> str:
        return one if number == 1 else many


# by language: those that have been asked for, since the first board must not wait for French
catalogues: dict[Language, Catalogue] = {Language.ENGLISH: _English()}
_usual = Language.ENGLISH
_for_now: ContextVar[Language | None] = ContextVar("language", default=None)


def tr(message: str, /, **values: object) -> str:
    """Return a sentence in the language in force, its ``{values}`` filled in."""
    words = _catalogue().gettext(message) if message else ""
    return words.format(**_grouped(message, values)) if values else words


def tr_many(one: str, many: str, number: int, /, **values: object) -> str:
    """Return the sentence for so many, ``{number}`` and the other values filled in.

    English has one form for 1 and one for all others; French takes the first for 0 as well.
    """
    values = _grouped(many, {"number": number, **values})
    return _catalogue().ngettext(one, many, number).format(**values)


def _grouped(message: str, values: dict[str, object]) -> dict[str, object]:
    """Return the values with marks between the thousands of those that English writes so: ``{number:,}``."""
    if ":,}" not in message:
        return values
    return {
        name: Whole(value) if isinstance(value, int) and f"{{{name}:,}}" in message else value
        for name, value in values.items()
    }


def mark(message: str) -> str:
    """Return the message as it is, to be looked up by ``tr`` where it is shown."""
    return message


def language() -> Language:
    """Return the language in force here."""
    return _for_now.get() or _usual


def speak(wanted: Language) -> None:
    """Put a language in force for the whole program."""
    global _usual
    _usual = wanted


@contextmanager
def speaking(wanted: Language) -> Iterator[None]:
    """Put a language in force within a block, in this thread only: a page in the family's language."""
    before = _for_now.set(wanted)
    try:
        yield
    finally:
        _for_now.reset(before)


def language_of(tag: str) -> Language | None:
    """Return the language for ``fr``, ``fr_CA.UTF-8`` or ``en-GB``; None for one that there is not.

    French without a country, or of another than France, is written as in Canada, whose words these are.
    """
    parts = re.split(r"[-_.@]", tag.strip().lower())
    if parts[0] == "fr":
        return Language.FRENCH_FRANCE if parts[1:2] == ["fr"] else Language.FRENCH_CANADA
    return Language.ENGLISH if parts[0] in ("en", "c", "posix") else None


def language_of_system() -> Language:
    """Return the language that the environment asks for, in the order of the POSIX standard; else English."""
    for name in ("EVALTRACK_LANGUAGE", "LC_ALL", "LC_MESSAGES", "LANG"):
        if tag := os.environ.get(name):
            return language_of(tag) or Language.ENGLISH
    return Language.ENGLISH


def _catalogue() -> Catalogue:
    wanted = language()
    if wanted not in catalogues:
        catalogues[wanted] = _french(wanted)
    return catalogues[wanted]


def _french(wanted: Language) -> Catalogue:
    from gettext import GNUTranslations

    try:
        with (assets() / "languages" / "fr" / "evaltrack.mo").open("rb") as file:
            words = GNUTranslations(file)
    except FileNotFoundError as fault:
        raise EvaltrackError("The French words are missing here. Install evaltrack again.") from fault
    return _OfFrance(words) if wanted is Language.FRENCH_FRANCE else words


class _OfFrance:
    """French with the spacing of France: a thin space before ; ! and ?, where Canada has none."""

    def __init__(self, words: Catalogue):
        self._words = words

    def gettext(self, message: str) -> str:
        return spaced_for_france(self._words.gettext(message))

    def ngettext(self, one: str, many: str, number: int) -> str:
        return spaced_for_france(self._words.ngettext(one, many, number))


def spaced_for_france(words: str) -> str:
    """Return a sentence with a thin no-break space before each ; ! and ? that ends a word."""
    return re.sub(r"(?<=[^\s!?;&])([!?;])", THIN + r"\1", words)
