"""What only the coach is told of a page: other children who are named, and words that are hard to read."""

from collections.abc import Iterable

from evaltrack.paper.note.mentions import full_names_in, parts_of_names_in
from evaltrack.rink.player import Player
from evaltrack.touch.notes.notes_in_hand import PageInHand
from evaltrack.words.family.readable import hard_words


def to_look_at(page: PageInHand, everyone: Iterable[Player]) -> list[str]:
    """Return what to look at before the page is given away: names first, then what does not stand."""
    others = [player for player in everyone if player.id != page.player.id]
    text = "\n".join(_own_words(page))
    named = full_names_in(text, page.player, others)
    if named:
        names = ", ".join(player.name for player in named)
        asked = [f"Your words name another child: {names}. Take the name out."]
    else:
        asked = _maybe_named(text, page.player, others)
    return [*asked, *page.sheet.doubts, *hard_words(page.sheet)]


def _maybe_named(text: str, player: Player, others: list[Player]) -> list[str]:
    parts = parts_of_names_in(text, player, others)
    return [f"Do your words name another child: {', '.join(parts)}?"] if parts else []


def _own_words(page: PageInHand) -> Iterable[str]:
    """Yield all that the coach wrote on the page, but for their own name."""
    edits = page.life.edits
    yield edits.coach_words
    yield from edits.words.values()
    for thing in edits.agreed:
        yield thing.what
        yield thing.who_helps
