"""Which players the coach's words name: a family's page must not name another child."""

import re
from collections.abc import Iterable

from evaltrack.rink.plain_text import folded
from evaltrack.rink.player import Player


def full_names_in(text: str, own: Player, others: Iterable[Player]) -> list[Player]:
    """Return the other players whose whole name stands in the text, however it is spelt or accented.

    A name of one word may be an ordinary word, and a namesake cannot be told apart: those are left out.
    """
    flat = f" {' '.join(_words(text))} "
    named = ((player, _words(player.name)) for player in others)
    mine = _words(own.name)
    return [p for p, words in named if len(words) > 1 and words != mine and f" {' '.join(words)} " in flat]


def parts_of_names_in(text: str, own: Player, others: Iterable[Player]) -> list[str]:
    """Return capitalised words of the text that are a first or last name of another player.

    It may be an ordinary word ("Will ..."), so this is a question to the coach and no more.
    """
    parts = {word for p in others for word in _words(p.name) if len(word) > 1} - set(_words(own.name))
    capitals = (word for word in re.findall(r"\w+", text) if word[0].isupper())
    return list(dict.fromkeys(word for word in capitals if folded(word).casefold() in parts))


def _words(text: str) -> list[str]:
    return re.findall(r"\w+", folded(text).casefold())
