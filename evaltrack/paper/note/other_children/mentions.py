"""Which players the coach's words name: a family's page must not name another child."""

from collections.abc import Container, Iterable, Iterator

from evaltrack.paper.note.other_children.name_spellings import NamesOf, in_other_script, stems, whole_names
from evaltrack.paper.note.other_children.ordinary_words import (
    ENGLISH,
    FRENCH,
    MONTHS,
    WITH_MONTHS,
    WITHOUT_NAMES,
)
from evaltrack.paper.note.other_children.words_in_place import Word, flat_texts, numbers_in, words_in_place
from evaltrack.rink.player import Player

_ORDINARY = ENGLISH | FRENCH  # a coach may write in either, whatever the page speaks
_LEAST_OF_MANY = 4  # letters of a name that may have an s after it and no capital


def full_names_in(text: str, own: Player, others: Iterable[Player]) -> list[Player]:
    """Return the other players whose whole name stands in the text, however it is spelt or accented.

    A name of one word may be an ordinary word, as may one like ``Will Power`` in small letters, and a
    namesake cannot be told apart: those are left out.
    """
    named = _named_whole(text, own, others)
    return [player for player, is_phrase in named if not is_phrase]


def _named_whole(text: str, own: Player, others: Iterable[Player]) -> Iterator[tuple[Player, bool]]:
    """Yield whose whole names stand in a text, and whether it is but a phrase of ordinary words."""
    mine, texts = whole_names(own.name), flat_texts(text)
    for player in others:
        for words in whole_names(player.name) - mine:
            if len(words) > 1 and any(f" {' '.join(words)} " in one for one in texts):
                yield player, _ORDINARY.issuperset(words) and _all_small(words, text)
                break


def _all_small(words: Iterable[str], text: str) -> bool:
    return {word.flat for word in words_in_place(text) if not word.small}.isdisjoint(words)


def parts_of_names_in(
    text: str, own: Player, others: Iterable[Player], known: Container[str] = frozenset()
) -> list[str]:
    """Return words of the text by which another player may be called, and numbers that another one wears.

    A first or last name, a nickname that stands in the roster, or a short form of one of these (``Ben`` and
    ``Benny`` for Benjamin, ``Kate`` for Katherine, ``Brandter`` for Brandt). It may be an ordinary word
    ("Will ..."), so this is a question to the coach and no more.

    Parameters
    ----------
    known : words in small letters that are no short forms, as those of the page's own sentences.
    """
    others = list(others)
    theirs, mine = NamesOf([p.name for p in others]), NamesOf([own.name])
    called = dict.fromkeys(w.said for w in words_in_place(text) if _may_call(w, theirs, mine, known))
    called |= dict.fromkeys(player.name for player, is_phrase in _named_whole(text, own, others) if is_phrase)
    numbers = {p.number for p in others} - {own.number}
    return [*called, *(f"#{worn}" for worn in numbers_in(text) if worn in numbers)]


def _may_call(word: Word, theirs: NamesOf, mine: NamesOf, known: Container[str]) -> bool:
    if word.flats & mine.parts:
        return False
    if word.flats & theirs.parts or (word.flat in theirs.nicknames and word.flat not in mine.nicknames):
        return word.flat not in _ORDINARY or word.owns or not (word.small or _is_plain(word, theirs))
    if word.flat in theirs.initials:
        return word.said.isupper()
    if in_other_script(word.flat):
        return not word.small and theirs.inflect(word.flat) and not mine.inflect(word.flat)
    return _is_short_form(word, theirs, mine, known)


def _is_plain(word: Word, theirs: NamesOf) -> bool:
    """Say whether an ordinary word with a capital is no name, as in ``Will you help?`` and ``In May``."""
    if word.begins and (word.after in WITHOUT_NAMES or word.flat not in theirs.first):
        return True
    beside = (word.before, word.after)
    return word.flat in MONTHS and (word.before in WITH_MONTHS or any(map(str.isdigit, beside)))


def _is_short_form(word: Word, theirs: NamesOf, mine: NamesOf, known: Container[str]) -> bool:
    bare = word.flat.removesuffix("s")
    if word.flat in _ORDINARY or word.flat in known:
        return False
    if word.begins and bare in _ORDINARY:
        return False  # "Hopes are high." of which only the s is too much for an ordinary word
    if word.small:
        of_many = len(bare) >= _LEAST_OF_MANY and bare not in _ORDINARY and bare in theirs.parts - mine.parts
        return of_many or (word.is_doubled and _begun_by(word, theirs, mine))
    return _begun_by(word, theirs, mine)


def _begun_by(word: Word, theirs: NamesOf, mine: NamesOf) -> bool:
    begun = stems(word.flat)
    return theirs.begin_with(begun) and not mine.begin_with(begun)
