"""One person's names as they may stand in a text or a file, so that they can be struck out or looked for."""

import re
import unicodedata
from collections.abc import Callable, Iterable
from functools import cached_property
from itertools import groupby
from math import log2
from urllib.parse import quote

from evaltrack.rink.plain_text import folded

# Goes where a name stood of somebody who was erased. A text with it stays wherever a season meets an older
# copy of the same words.
STRUCK = "\N{FULL BLOCK}" * 3
KEPT_BACK = "\N{MEDIUM SHADE}" * 3  # ... and in a loan, which stays nowhere else
SHORTEST_PART = 3  # letters; shorter words are in too many others
_LONG = 5  # letters; whatever begins with so long a name comes from it, as in "the Quillembrücks"
_ENCODINGS = ("utf-8", "utf-16-le", "utf-16-be", "cp1252")
_BLANKS = (*" \t\n\xa0+_-", "%20", "&nbsp;")
_QUOTES, _APOSTROPHES = ('"', '\\"', "“", "”"), "'’"
_IN_TWO = {
    "ä": "ae",
    "å": "aa",
    "ö": "oe",
    "ø": "oe",
    "ü": "ue",
}  # on a keyboard without
_BITS_OF_A_LETTER, _BITS_TO_SPARE = 7, 7  # by chance it stands in one of 128 files of random bytes
_LETTER = r"[^\W\d_]"
_END = rf"(?!{_LETTER})"


def words_in(text: str) -> list[str]:
    """Return the words of a text, made of letters and their accents only."""
    runs = groupby(
        unicodedata.normalize("NFC", text), lambda c: c.isalpha() or bool(unicodedata.combining(c))
    )
    return ["".join(run) for is_word, run in runs if is_word]


def folded_words(texts: Iterable[str]) -> set[str]:
    """Return the words of texts, whether they have capitals or not."""
    return {word.casefold() for text in texts for word in words_in(text)}


class NamePattern:
    """Every name that a person ever had, whole and in its parts.

    Parameters
    ----------
    names : all spellings of the name.
    others : whole names of others, in which nothing is this person's.
    usual : words, folded, that others have too or that are no name at all: they are not looked for alone.
    """

    def __init__(self, names: Iterable[str], others: Iterable[str] = (), usual: Iterable[str] = ()):
        others, usual = {name for name in others if name}, set(usual)
        theirs = {unicodedata.normalize("NFC", name).casefold() for name in others}
        known = dict.fromkeys(unicodedata.normalize("NFC", name).strip() for name in names)
        self.whole = [name for name in known if name and name.casefold() not in theirs]
        words = dict.fromkeys(word for name in known for word in words_in(name))
        long = [word for word in words if len(word) >= SHORTEST_PART]
        self.parts = [word for word in long if word.casefold() not in usual]
        self.passed_over = [word for word in long if word.casefold() in usual]
        self._others = sorted(others, key=len, reverse=True)
        # an Ines is not struck out for an Inès, though somebody may have typed her so
        self._taken = {_plain(text) for text in (*theirs, *usual)}

    @property
    def needles(self) -> list[str]:
        """Return all that is looked for, the longest first."""
        return sorted(dict.fromkeys([*self.whole, *self.parts]), key=len, reverse=True)

    @cached_property
    def _in_text(self) -> re.Pattern:
        kept = [f"(?P<kept>{'|'.join(map(_any_form, self._others))})"] if self._others else []
        own = (_as_word(needle, self._plainly(needle)) for needle in self.needles)
        wanted = "|".join([*(f"{one}{_END}" for one in kept), *own])
        return re.compile(rf"(?<!{_LETTER})(?:{wanted})")

    def _plainly(self, needle: str) -> bool:
        """Say whether a name is looked for without its accents too."""
        return _plain(needle) not in self._taken

    def struck(self, text: str, sign: str = STRUCK) -> str:
        """Return a text in which the names are struck out: a ``sign`` stands for each."""
        if not self.needles:
            return text
        return self._in_text.sub(lambda m: m[0] if m.groupdict().get("kept") else sign, text)

    def is_in(self, text: str) -> bool:
        """Say whether one of the names stands in a text, as words of their own."""
        return self.struck(text) != text

    def is_whole(self, text: str) -> bool:
        """Say whether a text is one of the names and nothing else."""
        return unicodedata.normalize("NFC", text).strip() in self.whole

    def in_bytes(self, content, size: int, explained: str = "") -> list[str]:
        """Return which of the names stand in the bytes of a file, in any usual encoding.

        Parameters
        ----------
        content : bytes, or a file that is mapped into memory.
        size : of the file; in a large one a short word stands by chance.
        explained : texts that may be there, folded: what is a part of them, such as of a longer word, is not
            looked for in bytes.
        """
        sought = [one for one in self.needles if _says_something(one, size)]
        sought = [one for one in sought if unicodedata.normalize("NFC", one).casefold() not in explained]
        return [one for one in sought if self._stands_in(one, content, explained)]

    def _stands_in(self, needle: str, content, explained: str) -> bool:
        # in bytes a short plain word is a part of many others
        plainly = len(needle) >= _LONG and self._plainly(needle) and _plain(needle) not in explained
        return any(re.search(pattern, content) for pattern in _in_encodings(needle, plainly))


def _says_something(needle: str, size: int) -> bool:
    return _BITS_OF_A_LETTER * len(needle.encode()) - log2(max(size, 2)) >= _BITS_TO_SPARE


def _plain(text: str) -> str:
    """Return a text, small and without accents."""
    return folded(text).casefold()


def _forms(letter: str, plainly: bool = False) -> set[str]:
    """Return how a letter may be written: large and small, composed and not, escaped; also without accent."""
    if letter in _BLANKS:
        return set(_BLANKS)
    if letter in _QUOTES:
        return set(_QUOTES)
    if letter in _APOSTROPHES:
        return {*_APOSTROPHES, *_escaped("’")}
    cases = {letter, letter.lower(), letter.upper(), letter.title(), letter.casefold()}
    forms = {unicodedata.normalize(form, case) for case in cases for form in ("NFC", "NFD")}
    bare = set(map(folded, cases)) | _in_two(letter) if plainly else set()
    return {*forms, *bare, *(one for form in forms for one in _escaped(form))} - {""}


def _in_two(letter: str) -> set[str]:
    pair = _IN_TWO.get(letter.lower(), "")
    return {pair, pair.title(), pair.upper()}


def _escaped(letter: str) -> list[str]:
    """Return a letter as JSON, web addresses and HTML have it where they escape it."""
    if letter.isascii():
        return []
    from html.entities import codepoint2name  # a large table, for the few who need it

    named = "".join(f"&{codepoint2name[ord(c)]};" if ord(c) in codepoint2name else c for c in letter)
    ways = (
        "".join(map(_in_json, letter)),
        quote(letter),
        "".join(c if c.isascii() else f"&#{ord(c)};" for c in letter),
        "".join(c if c.isascii() else f"&#x{ord(c):x};" for c in letter),
    )
    # no name has one of its own where some letter of it has none
    return [named, *ways, *(_large_digits(way) for way in ways)]


def _large_digits(escape: str) -> str:
    """Return an escape with the other kind of hexadecimal digits."""
    return re.sub(r"(?<=[%ux])[0-9A-Fa-f]{2,5}", lambda digits: digits[0].swapcase(), escape)


def _in_json(letter: str) -> str:
    units = letter.encode("utf-16-be")
    pairs = (units[at : at + 2].hex() for at in range(0, len(units), 2))
    return letter if letter.isascii() else "".join(f"\\u{pair}" for pair in pairs)


def _as_word(name: str, plainly: bool) -> str:
    return _any_form(name, plainly) + ("" if len(name) >= _LONG else _END)


def _any_form(name: str, plainly: bool = False) -> str:
    letters = unicodedata.normalize("NFC", name)
    return "".join(f"(?:{'|'.join(map(re.escape, _sorted(_forms(letter, plainly))))})" for letter in letters)


def _in_encodings(name: str, plainly: bool) -> list[bytes]:
    letters = [_forms(letter, plainly) for letter in unicodedata.normalize("NFC", name)]
    found = []
    for encoding in _ENCODINGS:
        # what an old code page has no letter for, it cannot hold
        written = [[form for form in map(_writer(encoding), _sorted(forms)) if form] for forms in letters]
        if all(written):
            found.append(b"".join(b"(?:" + b"|".join(map(re.escape, forms)) + b")" for forms in written))
    return found


def _writer(encoding: str) -> Callable[[str], bytes]:
    def written(text: str) -> bytes:
        try:
            return text.encode(encoding)
        except UnicodeEncodeError:
            return b""

    return written


def _sorted(forms: set[str]) -> list[str]:
    return sorted(forms, key=lambda form: (-len(form), form))
