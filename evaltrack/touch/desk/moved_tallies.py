"""Which tallies a slot that is put right gives to another player, and which ones come back with it."""

from collections.abc import Iterable, Mapping, Sequence
from uuid import UUID

from evaltrack.language import tr_many
from evaltrack.rink.player import Player
from evaltrack.rink.rotation.running import RunningRotation
from evaltrack.rink.tally import Tally

Owners = list[tuple[Tally, UUID]]  # tallies, and whose they are after all
Moves = Mapping[int, Sequence[tuple[UUID, UUID]]]


def put_right_by(running: RunningRotation, tallies: Iterable[Tally]) -> Owners:
    """Return what the last change of a rotation gives to another player.

    That is what was tallied in a slot that it put right, for the player who stood there wrongly.

    Parameters
    ----------
    tallies : those of the rep that runs.
    """
    return _owned(running, tallies, running.put_right)


def given_by(running: RunningRotation, tallies: Iterable[Tally], moves: Moves) -> Owners:
    """Return what the last change of a rotation has given to another player, with whose it was before.

    For a tally that was given on since, the one that stands for it now. One that was taken back meanwhile is
    gone, and none that was made since is among them.

    Parameters
    ----------
    tallies : those of the rep that runs.
    moves : for each change by its number, the tallies that it withdrew and those that stand for them.
    """
    given = set()
    stands = {was: becomes for pairs in moves.values() for was, becomes in pairs}
    for _, ident in moves.get(running.nth, ()):
        while ident in stands:
            ident = stands.pop(ident)  # each once, or a damaged file would lead round and round
        given.add(ident)
    back = {slot: (right, wrong) for slot, (wrong, right) in running.put_right.items()}
    return _owned(running, [tally for tally in tallies if tally.id in given], back)


def _owned(
    running: RunningRotation, tallies: Iterable[Tally], pairs: Mapping[str, tuple[UUID, UUID]]
) -> Owners:
    """Return what was tallied in a slot for the first player of its pair, with the second.

    A tally that does not say its slot, as earlier versions made them, was made where its skill is watched.
    """
    watched = {slot.key: slot.skills for slot in running.rotation.step.slots}
    owners = []
    for tally in tallies:
        for slot, (first, second) in pairs.items():
            there = tally.slot == slot if tally.slot else tally.skill in watched.get(slot, ())
            if there and tally.player == first:
                owners.append((tally, second))
                break
    return owners


def told(owners: Owners, players: Mapping[UUID, Player], again: bool) -> str:
    """Return in words whose tallies changed hands, now or ``again``; empty when none did."""
    words = []
    for old, new in dict.fromkeys((tally.player, right) for tally, right in owners):
        count = sum((tally.player, right) == (old, new) for tally, right in owners)
        say = _belong_again if again else _belong_now
        words.append(say(count, players[old].number, players[new].number))
    return ", ".join(words)


def _belong_now(count: int, before: str, after: str) -> str:
    return tr_many(
        "the tally made for {before} in this rep is now {after}'s",
        "the {number} tallies made for {before} in this rep are now {after}'s",
        count,
        before=before,
        after=after,
    )


def _belong_again(count: int, before: str, after: str) -> str:
    return tr_many(
        "the tally made for {before} in this rep is again {after}'s",
        "the {number} tallies made for {before} in this rep are again {after}'s",
        count,
        before=before,
        after=after,
    )
