"""Which players the coach's words name: a family's page must not name another child."""

import re
from collections.abc import Container, Iterable

from evaltrack.paper.note.ordinary_words import ENGLISH, FRENCH
from evaltrack.rink.plain_text import folded
from evaltrack.rink.player import Player

_LEAST = 3  # letters of a name by which a child may be called
_WORD = re.compile(r"[\w\u0300-\u036f\u0591-\u05c7\u064b-\u065f]+")  # with marks over and under letters
_NUMBER = re.compile(
    r"(?:#|\bnumber\s|\bno\.?\s|\bjersey\s|\bnum[eé]ro\s|\bn[o°º]\.?\s?|\bchandail\s)\s*(\d{1,2})\b",
    re.IGNORECASE,
)
_ENDINGS = ("sie", "sy", "zer", "ers", "er", "ies", "ie", "ys", "y", "o", "s")  # Ben-ny, Brandt-er, Hol-sy
_ORDINARY = ENGLISH | FRENCH  # a coach may write in either, whatever the page speaks


def full_names_in(text: str, own: Player, others: Iterable[Player]) -> list[Player]:
    """Return the other players whose whole name stands in the text, however it is spelt or accented.

    A name of one word may be an ordinary word, and a namesake cannot be told apart: those are left out.
    """
    flat = f" {' '.join(_words(text))} "
    named = ((player, _words(player.name)) for player in others)
    mine = _words(own.name)
    return [p for p, words in named if len(words) > 1 and words != mine and f" {' '.join(words)} " in flat]


def parts_of_names_in(
    text: str, own: Player, others: Iterable[Player], known: Container[str] = frozenset()
) -> list[str]:
    """Return words of the text by which another player may be called, and numbers that another one wears.

    A first or last name, a nickname that stands in the roster, or a short form of one of these (``Ben`` and
    ``Benny`` for Benjamin, ``Brandter`` for Brandt). It may be an ordinary word ("Will ..."), so this is a
    question to the coach and no more.

    Parameters
    ----------
    known : words in small letters that are no short forms, as those of the page's own sentences.
    """
    others, mine = list(others), set(_words(own.name))
    parts = {word for p in others for word in _names(p.name) if len(word) > 1} - mine
    words = dict.fromkeys(_WORD.findall(text))
    called = [word for word in words if _may_call(word, parts, mine, known)]
    numbers = {p.number for p in others} - {own.number}
    return called + [f"#{worn}" for worn in dict.fromkeys(_NUMBER.findall(text)) if worn in numbers]


def _may_call(word: str, parts: set[str], mine: set[str], known: Container[str]) -> bool:
    flat = folded(word).casefold()
    if flat in mine:
        return False
    written_small = word[0].islower()
    if flat in parts:
        return not written_small or (len(flat) >= _LEAST and flat not in _ORDINARY)
    if written_small or flat in _ORDINARY or flat in known:
        return False
    stems = _stems(flat)
    return _begun_by(parts, stems) and not _begun_by(mine, stems)


def _stems(flat: str) -> list[str]:
    bare = [flat.removesuffix(ending) for ending in _ENDINGS if flat.endswith(ending)]
    undoubled = [stem[:-1] for stem in bare if stem[-2:-1] == stem[-1:]]  # Benny: Benn, Ben
    return [stem for stem in (flat, *bare, *undoubled) if len(stem) >= _LEAST]


def _begun_by(names: Iterable[str], stems: Iterable[str]) -> bool:
    return any(name.startswith(stem) for name in names for stem in stems)


def _names(name: str) -> list[str]:
    """Return the words of a name, and those that a hyphen joins also as one: Mei-Lin may be called Meilin."""
    joined = [word for word in _words(name.replace("-", "").replace("'", "").replace("’", ""))]
    return [*_words(name), *joined]


def _words(text: str) -> list[str]:
    return re.findall(r"\w+", folded(text).casefold())
