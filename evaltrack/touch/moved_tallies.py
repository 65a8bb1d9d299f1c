"""Which tallies a slot that is put right gives to another player, and which ones come back with it."""

from collections.abc import Iterable, Mapping, Sequence
from uuid import UUID

from evaltrack.rink.line import Line
from evaltrack.rink.player import Player
from evaltrack.rink.tally import Tally

Owners = list[tuple[Tally, UUID]]  # tallies, and whose they are after all
Moves = Mapping[int, Sequence[tuple[UUID, UUID]]]


def put_right_by(line: Line, tallies: Iterable[Tally]) -> Owners:
    """Return what the last change of a line gives to another player.

    That is what was tallied in a slot that it put right, for the player who stood there wrongly.

    Parameters
    ----------
    tallies : those of the rep that runs.
    """
    wrong = {(slot, wrong): right for slot, (wrong, right) in line.put_right.items()}
    owned = [(tally, wrong.get((tally.slot, tally.player))) for tally in tallies]
    return [(tally, right) for tally, right in owned if right]


def given_by(line: Line, tallies: Iterable[Tally], moves: Moves) -> Owners:
    """Return what the last change of a line has given to another player, with whose it was before.

    For a tally that was given on since, the one that stands for it now. One that was taken back meanwhile is
    gone, and none that was made since is among them.

    Parameters
    ----------
    tallies : those of the rep that runs.
    moves : for each change by its number, the tallies that it withdrew and those that stand for them.
    """
    put_right, given = line.put_right, set()
    stands = {was: becomes for pairs in moves.values() for was, becomes in pairs}
    for _, ident in moves.get(line.nth, ()):
        while ident in stands:
            ident = stands.pop(ident)  # each once, or a damaged file would lead round and round
        given.add(ident)
    return [
        (tally, put_right[tally.slot][0])
        for tally in tallies
        if tally.id in given and tally.slot in put_right
    ]


def told(owners: Owners, players: Mapping[UUID, Player], when: str) -> str:
    """Return in words whose tallies changed hands, ``when`` being now or again; empty when none did."""
    words = []
    for old, new in dict.fromkeys((tally.player, right) for tally, right in owners):
        count = sum((tally.player, right) == (old, new) for tally, right in owners)
        made = "the tally made for" if count == 1 else f"the {count} tallies made for"
        are = "is" if count == 1 else "are"
        words.append(f"{made} {players[old].number} in this rep {are} {when} {players[new].number}'s")
    return ", ".join(words)
