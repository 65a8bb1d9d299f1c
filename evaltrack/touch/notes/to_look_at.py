"""What only the coach is told of a page: names of other children, letters that no font has, hard words."""

from collections.abc import Iterable
from dataclasses import replace

from evaltrack.paper.note.concerns import concerns
from evaltrack.rink.player import Player
from evaltrack.touch.notes.notes_in_hand import PageInHand
from evaltrack.words.family.readable import hard_words


def to_look_at(page: PageInHand, everyone: Iterable[Player]) -> list[str]:
    """Return in sentences what to look at before the page is given away, what stops it first."""
    return [*concerned(page, everyone), *page.sheet.doubts, *hard_words(page.sheet)]


def concerned(page: PageInHand, everyone: Iterable[Player]) -> list[str]:
    """Return in sentences which words may be of another child, and which letters no font has."""
    nameless = replace(page.sheet, coach="")  # a coach may have the name of a child
    found = concerns(nameless, page.player, everyone)
    stopping = [one for one in found if one.stops]  # what else there is to ask may be settled with it
    return [_sentence(one.sentence) for one in stopping or found]


def _sentence(words: str) -> str:
    return words[:1].upper() + words[1:] + ("" if "?" in words or words.endswith(".") else ".")
