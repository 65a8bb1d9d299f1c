"""Six reps of a step as its rotation runs them, with the season's own players."""

from collections import Counter
from collections.abc import Iterable
from dataclasses import replace
from itertools import count

from evaltrack.language import mark, tr
from evaltrack.rink.drill import Slot, Step
from evaltrack.rink.player import Player, Position
from evaltrack.rink.rotation.lines import lines_joined
from evaltrack.rink.rotation.rotation import Rotation

REPS = 6
_STAND_INS = ("Robin", "Sasha", "Kim", "Noa", "Luca", "Jules", "Mika", "Charlie")
_LINES = {
    Position.DEFENCE: mark("defenders {names}"),
    Position.FORWARD: mark("forwards {names}"),
    Position.GOALIE: mark("goalies {names}"),
}


def six_reps(step: Step, players: Iterable[Player]) -> list[Rotation]:
    """Return the first reps of a step, with everybody lined up in this order."""
    reps = [Rotation.first(step, players)]
    while len(reps) < REPS:
        reps.append(reps[-1].next_rep())
    return reps


def in_their_lines(step: Step, players: Iterable[Player]) -> list[Player]:
    """Return the players of the one group in whose line they wait, whoever stands in for others then."""
    players = list(players)
    lines = lines_joined(step, players)
    return [replace(player, position=lines[player.id], also=None) for player in players]


def stand_ins(step: Step, players: Iterable[Player]) -> list[Player]:
    """Return invented players for the slots for which the roster has too few."""
    players = list(players)
    there = Counter(player.position for player in players)
    wanted = Counter(slot.position for slot in step.slots)
    worn = {player.number for player in players}
    numbers = (str(number) for number in count(90) if str(number) not in worn)
    missing = [group for group in Position for _ in range(wanted[group] - there[group])]
    return [
        Player(next(numbers), _STAND_INS[number % len(_STAND_INS)], group)
        for number, group in enumerate(missing)
    ]


def slot_line(slot: Slot, rotation: Rotation, named: dict) -> str:
    """Return who stands in a slot and where they go; ``named`` has each player by id, in words."""
    ident = rotation.slots.get(slot.key)
    if ident is None:
        return tr("{slot}: nobody, no {position} waits", slot=slot.name, position=slot.position.word)
    names = {other.key: other.name for other in rotation.step.slots}
    who = {"slot": slot.name, "player": named[ident]}
    if slot.next:
        return tr("{slot}: {player}, goes to {onward}", onward=names[slot.next], **who)
    return tr("{slot}: {player}, goes out to the end of the line", **who)


def waiting_line(rotation: Rotation, named: dict) -> str:
    """Return who waits in the lines of the step's groups, the next one first."""
    groups = dict.fromkeys(slot.position for slot in rotation.step.slots)
    lines = [
        _line(group, [named[ident] for ident in rotation.queues[group]])
        for group in Position
        if group in groups
    ]
    return tr("Waiting, the next one first: {lines}.", lines="; ".join(lines))


def _line(group: Position, names: list[str]) -> str:
    return tr(_LINES[group], names=", ".join(names) or tr("none"))
