"""The words of a text with what stands beside them, as they are compared with names."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from evaltrack.paper.note.other_children.name_spellings import flat_words, spelt_out
from evaltrack.rink.plain_text import folded, is_hidden

_BLANKS, _JOINERS = "\n\t\r", "\u200c\u200d"
_WORD = re.compile(
    r"(?:[^\W_]|[\u0300-\u036f\u0591-\u05c7\u064b-\u065f])+"
)  # with marks over and under letters
_INITIALS = re.compile(r"\b([^\W\d_])\.?-([^\W\d_])\b\.?")  # J.-F. for JF
_OWNS = re.compile(r"['’]s\b", re.IGNORECASE)
_SENTENCE_ENDS = re.compile(r"[.!?:\n•«“\"(]")
_NUMBER = re.compile(
    r"(?:#|\bnumber\s|\bno\.?\s|\bjersey\s|\bnum[eé]ro\s|\bn[o°º]\.?\s?|\bchandail\s)\s*(\d{1,2})\b",
    re.IGNORECASE,
)
# as in Benny, Tommie and Sammies, which hardly any other words end like
_DOUBLED = re.compile(r".+([bcdfgklmnprstz])\1(?:y|ys|ie|ies|i|is)")


@dataclass(frozen=True, slots=True)
class Word:
    """A word of a text.

    Attributes
    ----------
    said : as it was written; ``flat`` is without capitals and accents.
    small : whether it begins with a small letter, or stands in a text that is all in capitals.
    begins : whether a sentence begins with it.
    before, after : the words beside it, flat; empty where there is none.
    owns : whether ``'s`` stands after it.
    """

    said: str
    flat: str
    small: bool
    begins: bool
    before: str
    after: str
    owns: bool

    @property
    def flats(self) -> frozenset[str]:
        """Return the flat forms of the word, with ``o`` and with ``oe`` for ``ö``."""
        return frozenset((self.flat, folded(spelt_out(self.said)).casefold()))

    @property
    def is_doubled(self) -> bool:
        """Say whether it ends as short forms do that are written without a capital, too."""
        return bool(_DOUBLED.fullmatch(self.flat))


def words_in_place(text: str) -> list[Word]:
    """Return the words of a text, without characters that show nothing and would part a name."""
    text = _INITIALS.sub(r"\1\2", _shown(text))
    return list(_words(text, text.isupper()))


def _words(text: str, is_shouted: bool) -> Iterator[Word]:
    found = list(_WORD.finditer(text))
    flats = [folded(one[0]).casefold() for one in found]
    starts = [True, *(bool(_SENTENCE_ENDS.search(text[a.end() : b.start()])) for a, b in pairwise(found))]
    for place, one in enumerate(found):
        begins = starts[place]
        yield Word(
            said=one[0],
            flat=flats[place],
            small=is_shouted or one[0][0].islower(),
            begins=begins,
            before="" if begins else flats[place - 1],
            after=flats[place + 1] if place + 1 < len(found) and not starts[place + 1] else "",
            owns=bool(_OWNS.match(text, one.end())),
        )


def flat_texts(text: str) -> set[str]:
    """Return a text as words with a blank around each, in each way that they may be spelt."""
    shown = _shown(text)
    return {f" {' '.join(flat_words(one))} " for one in (shown, spelt_out(shown))}


def numbers_in(text: str) -> list[str]:
    """Return the numbers that stand in a text as jerseys are named, each once."""
    return list(dict.fromkeys(_NUMBER.findall(text)))


def _shown(text: str) -> str:
    if text.isascii() and text.isprintable():
        return text
    return "".join(one for one in text if one in _BLANKS or not (one in _JOINERS or is_hidden(one)))
