"""Names of files that every system can store and every reader can find."""

from collections.abc import Sequence
from datetime import date

from evaltrack.rink.plain_text import plain_words
from evaltrack.rink.player import Player

_LONGEST = 40


def note_name(player: Player, day: date, by_number: bool = False, differs: Sequence[str] = ()) -> str:
    """Return the stem of a player's note as of a day: ``note-07-zoe-lukasik-2026-01-12``.

    Two digits keep a folder in the order of numbers; only 0 stays alone, for 00 is another jersey. The day
    up to which is counted is part of the name, and so is ``differs``, in what it is another page than the
    usual one of that day: no page takes the place of another.
    """
    whose = number_words(player) if by_number else player_words(player)
    return "-".join(("note", whose, day.isoformat(), *differs))


def player_words(player: Player) -> str:
    """Return a player's part of a file's name: ``07-zoe-lukasik``."""
    words = plain_words(player.name)[:_LONGEST].rstrip("-")
    return "-".join(filter(None, (number_words(player), words)))


def number_words(player: Player) -> str:
    """Return a player's number in a file's name: ``07``."""
    return player.number if player.number == "0" else player.number.zfill(2)


def unique(stem: str, taken: set[str]) -> str:
    """Return the stem, with a running number after it when it is taken, and note it as taken."""
    name, count = stem, 1
    while name in taken:
        count += 1
        name = f"{stem}-{count}"
    taken.add(name)
    return name
