"""Text that cannot garble a screen, a terminal or a printed line, and names in the order of their letters."""

import re
import unicodedata
from functools import lru_cache

_HIDING = ("Cc", "Cf", "Cs", "Zl", "Zp")  # control, format, lone surrogate, line and paragraph separator
_JOINERS = "\u200c\u200d"  # needed inside words of some scripts
_LAYOUT = "\n\t"
# soft hyphen, zero-width blank, word joiner, byte order mark, marks of direction: pasted with other words
_EMPTY = dict.fromkeys(map(ord, "\u00ad\u200b\u2060\ufeff\u200e\u200f\u061c"))
_REPLACEMENT = "\N{REPLACEMENT CHARACTER}"
# letters that Unicode does not take apart into a plain letter and an accent
_PLAIN = str.maketrans(
    {"ø": "o", "Ø": "O", "ł": "l", "Ł": "L", "đ": "d", "Đ": "D", "ð": "d", "Ð": "D", "þ": "th", "Þ": "Th",
     "æ": "ae", "Æ": "Ae", "œ": "oe", "Œ": "Oe", "ı": "i", "ß": "ss",
     "ħ": "h", "Ħ": "H", "ŋ": "n", "Ŋ": "N", "ŧ": "t", "Ŧ": "T", "ĸ": "k", "ŉ": "n"}
)  # fmt: skip


def is_hidden(character: str) -> bool:
    """Say whether a character shows nothing and acts: it controls a terminal, or turns or breaks a line."""
    return unicodedata.category(character) in _HIDING and character not in _JOINERS


def first_hidden(text: str) -> str | None:
    """Return the first hidden character as ``U+0007``, or None when there is none."""
    if text.isprintable():
        return None
    found = next(filter(is_hidden, text), None)
    return None if found is None else f"U+{ord(found):04X}"


def without_empty(text: str) -> str:
    """Return the text without what is often pasted with words, shows nothing and changes nothing."""
    return text if text.isascii() else text.translate(_EMPTY)


def printable(text: str) -> str:
    """Return the text with each hidden character replaced by U+FFFD; line ends and tabs stay."""
    return _without(text, _LAYOUT)


def one_line(text: str) -> str:
    """Return the text with each hidden character replaced by U+FFFD, line ends and tabs too."""
    return _without(text, "")


def _without(text: str, kept: str) -> str:
    if text.isprintable():
        return text
    hidden = {ord(one): _REPLACEMENT for one in set(text) if one not in kept and is_hidden(one)}
    return text.translate(hidden) if hidden else text


def folded(text: str) -> str:
    """Return the text without accents: ``Łukasik`` becomes ``Lukasik``. Other scripts stay as they are."""
    return text if text.isascii() else _folded(text)


@lru_cache(maxsize=512)  # a page is searched for each name of the roster
def _folded(text: str) -> str:
    apart = unicodedata.normalize("NFKD", text.translate(_PLAIN))
    return "".join(c for c in apart if not unicodedata.combining(c))


def plain_words(text: str) -> str:
    """Return a text for the name of a file, small plain letters and digits only: ``zoe-obrien-12u``."""
    plain = folded(text).casefold().encode("ascii", "ignore").decode()
    return re.sub(r"[^a-z0-9]+", "-", plain.replace("'", "")).strip("-")


def by_letters(name: str) -> tuple[str, str]:
    """Sort key: a name as it is looked for, without accents and capitals; then letter by letter."""
    return folded(name).casefold(), name


def runs_right(text: str) -> bool:
    """Say whether a text runs from right to left: most of its letters are Hebrew, Arabic or the like.

    So a sentence that begins with such a name and goes on in English stays as it is.
    """
    if text.isascii():
        return False
    sides = [unicodedata.bidirectional(one) for one in text]
    return sides.count("R") + sides.count("AL") > sides.count("L")


def capital(words: str) -> str:
    """Return words with a capital, to stand alone: a day has none of its own in French."""
    return words[:1].upper() + words[1:]
