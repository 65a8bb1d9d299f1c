"""Which players the coach's words name: a family's page must not name another child."""

import re
from collections.abc import Container, Iterable

from evaltrack.rink.plain_text import folded
from evaltrack.rink.player import Player

_LEAST = 3  # letters of a name by which a child may be called
_WORD = re.compile(r"[\w\u0300-\u036f\u0591-\u05c7\u064b-\u065f]+")  # with marks over and under letters
_NUMBER = re.compile(r"(?:#|\bnumber\s|\bno\.?\s|\bjersey\s)\s*(\d{1,2})\b", re.IGNORECASE)
_ENDINGS = ("sie", "sy", "zer", "ers", "er", "ies", "ie", "ys", "y", "o", "s")  # Ben-ny, Brandt-er, Hol-sy
# words that begin sentences, and ordinary words that are also names: asked about only where they are whole
# names with a capital
_ORDINARY = frozenset(
    """a about after again all also always an and april are art as ask asks at august away back be
    because been before ben best big bill both brave but buy by call calls can chance chase come
    comes could dad dale day de december del den der do does done dos down drew drive each early end
    even every everyone example february few find first for friday from game games gene gives glen
    go goes good got grace grant great had hand hands hard has have he head help helps her here high
    him his hope how hunter i ice if in is it its jack january joy july june just keep keeps kind
    know las last late learn let like line long look looks los made make makes many march mark may
    me miles mom monday more most mother much mum my never new next nice no not november now october
    of off often on once one only or other our out over page pass passes passing pat play played
    player players playing plays practice practices puck ready rest rich rob rose run said san
    saturday save see sees september she short shot shots should shows since skate skater skates
    skating skill skills sky so some soon start starts stay stays still stop stops strong such
    sunday support take takes talk team tell than thank thanks that the their them then there these
    they thing this those thursday time to today together too train try trying tuesday turn turns
    under until up us use van very von walk wants was watch we wednesday well were what when where
    which while who why will win with wonderful work worked working works would year yes you young
    your""".split()
)


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
