"""Six reps of a step as its rotation runs them, with the season's own players."""

from collections import Counter
from collections.abc import Iterable
from dataclasses import replace
from itertools import count

from evaltrack.rink.drill import Slot, Step
from evaltrack.rink.player import Player, Position
from evaltrack.rink.rotation.lines import lines_joined
from evaltrack.rink.rotation.rotation import Rotation

REPS = 6
_STAND_INS = ("Robin", "Sasha", "Kim", "Noa", "Luca", "Jules", "Mika", "Charlie")


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
        return f"{slot.name}: nobody, no {slot.position.word} waits"
    names = {other.key: other.name for other in rotation.step.slots}
    onward = f"goes to {names[slot.next]}" if slot.next else "goes out to the end of the line"
    return f"{slot.name}: {named[ident]}, {onward}"


def waiting_line(rotation: Rotation, named: dict) -> str:
    """Return who waits in the lines of the step's groups, the next one first."""
    groups = dict.fromkeys(slot.position for slot in rotation.step.slots)
    lines = [
        f"{group.word}s {', '.join(named[ident] for ident in rotation.queues[group]) or 'none'}"
        for group in Position
        if group in groups
    ]
    return f"Waiting, the next one first: {'; '.join(lines)}."
