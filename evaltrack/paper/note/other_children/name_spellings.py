"""The ways in which a name may be written, and the short forms by which its owner may be called."""

import re
from collections.abc import Iterable
from functools import cached_property, lru_cache

from evaltrack.paper.note.other_children.nicknames import nicknames_of
from evaltrack.rink.first_name import first_name
from evaltrack.rink.plain_text import folded

_LEAST = 3  # letters of a name by which a child may be called
_LEAST_INFLECTED = 4
_MOST_ADDED = 2  # letters before or after a name, as in Arabic, Hebrew and Russian
_ENDINGS = ("sie", "sy", "zer", "ers", "er", "ies", "ie", "is", "i", "ys", "y", "o", "s")  # Ben-ny, Brandt-er
_SPELT = str.maketrans(
    {"ö": "oe", "ø": "oe", "ä": "ae", "æ": "ae", "ü": "ue", "å": "aa",
     "Ö": "Oe", "Ø": "Oe", "Ä": "Ae", "Æ": "Ae", "Ü": "Ue", "Å": "Aa"}
)  # fmt: skip
_APOSTROPHES, _HYPHENS = "'’", "-‐"
_NAMES_AT_HAND = 256  # of a roster, while its pages are looked through one by one
_LATIN_ENDS = "\u036f"  # the last of the letters and accents of Latin script


def spelt_out(text: str) -> str:
    """Return a text with ``oe`` for ``ö`` and the like, as where a keyboard has no such letter."""
    return text.translate(_SPELT)


def flat_words(text: str) -> list[str]:
    """Return the words of a text without accents and capitals."""
    return re.findall(r"[^\W_]+", folded(text).casefold())


@lru_cache(_NAMES_AT_HAND)
def whole_names(name: str) -> frozenset[tuple[str, ...]]:
    """Return the ways in which a whole name may stand in a text, each as its flat words."""
    last, comma, first = name.partition(",")
    orders = (name, f"{first} {last}") if comma else (name,)
    return frozenset(tuple(flat_words(one)) for order in orders for one in _spellings(order))


def stems(flat: str) -> list[str]:
    """Return what may be left of a name in a short form of it."""
    bare = [flat.removesuffix(ending) for ending in _ENDINGS if flat.endswith(ending)]
    undoubled = [stem[:-1] for stem in bare if stem[-2:-1] == stem[-1:]]  # Benny: Benn, Ben
    return [stem for stem in (flat, *bare, *undoubled) if len(stem) >= _LEAST]


def in_other_script(flat: str) -> bool:
    """Say whether a word is in another script than ours."""
    return flat > _LATIN_ENDS


class NamesOf:
    """All by which some players may be called."""

    def __init__(self, names: Iterable[str]):
        self._names = list(names)

    @cached_property
    def parts(self) -> frozenset[str]:
        """Return the words of the names, also with what a hyphen or an apostrophe joins as one word."""
        return frozenset().union(*map(_parts, self._names))

    @cached_property
    def first(self) -> frozenset[str]:
        """Return the words of the first names, and the usual short forms of names."""
        own = (first_name(name) for name in self._names)
        return self.nicknames.union(word for one in own for word in flat_words(one))

    @cached_property
    def nicknames(self) -> frozenset[str]:
        """Return the usual short forms that do not begin like the name: Bill for William."""
        return frozenset().union(*map(nicknames_of, self.parts)) - self.parts

    @cached_property
    def initials(self) -> frozenset[str]:
        """Return the first letters of double names: JF for Jean-François."""
        words = (re.split(f"[{_HYPHENS}]", word) for name in self._names for word in name.split())
        letters = ("".join(half[:1] for half in halves) for halves in words if len(halves) > 1)
        return frozenset(folded(one).casefold() for one in letters)

    def begin_with(self, begun: Iterable[str]) -> bool:
        """Say whether one of the names begins with one of these."""
        begun = tuple(begun)
        return any(name.startswith(begun) for name in self.parts)

    def inflect(self, flat: str) -> bool:
        """Say whether a word is one of the names with a letter or two before it or another ending."""
        return any(_is_inflected(flat, name) for name in self.parts if in_other_script(name))


def _is_inflected(flat: str, name: str) -> bool:
    if not -_MOST_ADDED < len(flat) - len(name) <= _MOST_ADDED:
        return False
    before = len(name) >= _LEAST and flat.endswith(name)
    # letter by letter a name keeps its beginning: Алексей, Алексея
    return before or (len(name) >= _LEAST_INFLECTED and flat.startswith(name[:-1]))


@lru_cache(_NAMES_AT_HAND)
def _parts(name: str) -> frozenset[str]:
    return frozenset(word for way in _spellings(name) for word in flat_words(way) if len(word) > 1)


def _spellings(name: str) -> list[str]:
    without = [_without(name, marks) for marks in (_APOSTROPHES, _HYPHENS, _APOSTROPHES + _HYPHENS)]
    return [name, *without, *(spelt_out(one) for one in (name, *without))]


def _without(name: str, marks: str) -> str:
    return name.translate(dict.fromkeys(map(ord, marks)))
