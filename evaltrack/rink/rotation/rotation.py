"""Whose turn it is: who is in which slot of this rep, and the queues behind the slots.

Each position group has a queue at the boards: who comes out of the drill joins its end, and free slots
fill from its head. While nobody comes, leaves or is moved by hand, the players of a position group come
in in the same order round and round, so over any run of reps their turns differ by at most one. That
holds where the routes through the step are equally long for the group, or differ by one rep; with a
greater difference the shorter route comes round more often.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field
from uuid import UUID

from evaltrack.rink.drill import Step
from evaltrack.rink.player import Player, Position
from evaltrack.rink.rotation.lines import lines_joined
from evaltrack.rink.rotation.lineup import Lineup


@dataclass(frozen=True, slots=True)
class Rotation:
    """The slots of one rep and the queues behind them. Its methods return another one and change nothing.

    Attributes
    ----------
    step
        What is run.
    slots
        Slot key to player id; an empty slot has no entry. Nobody is in two slots.
    queues
        The players of each position group who wait, the next one first.
    groups
        Every player who is here, and the position group they line up with today.
    turns
        How often a player came in, by player id and position group of the slot; counted from when they
        first arrived. A player who is in a slot for two reps on the route through the drill has one turn.
    closed
        Slots that are left empty on purpose.
    rep
        The number of this rep, from 1.
    came_in
        When each player in a slot came in: number of the rep, and their place among those of that rep.

    The mappings are not to be changed.
    """

    step: Step
    slots: dict[str, UUID] = field(default_factory=dict)
    queues: dict[Position, tuple[UUID, ...]] = field(default_factory=dict)
    groups: dict[UUID, Position] = field(default_factory=dict)
    turns: dict[tuple[UUID, Position], int] = field(default_factory=dict)
    closed: frozenset[str] = frozenset()
    rep: int = 1
    came_in: dict[UUID, tuple[int, int]] = field(default_factory=dict)

    @classmethod
    def first(cls, step: Step, present: Iterable[Player]) -> "Rotation":
        """Return the first rep of a step, with everyone in their queue in this order.

        A player lines up with their position group, who plays in two in the shorter line. For a defender
        who plays forward today give ``dataclasses.replace(player, position=Position.FORWARD, also=None)``.
        """
        lineup = cls(step, queues={group: () for group in Position})._lineup()
        for player, group in lines_joined(step, present).items():
            lineup.join(player, group)
        return cls._of(lineup)

    def next_rep(self) -> "Rotation":
        """Return the next rep: everyone moves on from their slot, and free slots fill from the queues."""
        lineup = self._lineup()
        lineup.move_on(self.step)
        return self._of(lineup)

    def arrive(self, player: Player) -> "Rotation":
        """Return the rotation with one more player, at the end of their queue.

        Where nobody waits and a slot is free they step in at once. A player who is here already changes to
        the end of their queue, unless they are in a group of theirs.
        """
        if self.groups.get(player.id) in player.positions:
            return self
        group = lines_joined(self.step, [player], self.groups)[player.id]
        lineup = self._lineup()
        lineup.drop(player.id)
        lineup.join(player.id, group)
        return self._of(lineup)

    def leave(self, player: UUID) -> "Rotation":
        """Return the rotation without a player. Their slot fills from the queue, or stays empty."""
        if player not in self.groups:
            return self
        lineup = self._lineup()
        lineup.drop(player)
        return self._of(lineup)

    def swap(self, slot: str, player: UUID) -> "Rotation":
        """Return the rotation with this player in this slot, as corrected by hand.

        Two players in slots of one position group change places. A player who makes way for one from the
        queue, having come in for this rep, has not had their turn: they are next. Having come in earlier,
        they go to the end of the queue. A slot that was left empty on purpose is open again. A slot that the
        step lacks, or a player who is not here, changes nothing.
        """
        if slot not in {s.key for s in self.step.slots} or player not in self.groups:
            return self
        lineup = self._lineup()
        lineup.place(slot, player)
        return self._of(lineup)

    def empty(self, slot: str) -> "Rotation":
        """Return the rotation with this slot left empty, until `swap` puts somebody in.

        Its player makes way as in `swap`. A player who would move into it passes it over.
        """
        if slot not in {s.key for s in self.step.slots} - self.closed:
            return self
        lineup = self._lineup()
        lineup.close(slot)
        return self._of(lineup)

    def change_step(self, step: Step, played: bool = True) -> "Rotation":
        """Return the first rep of another step, in which the order of turns goes on.

        After a rep that was played everyone moves on as for a next rep, as far as the new step has the
        slot that they would move to; the others go out to the end of the queue. When the rep was not
        ``played``, everyone stays where the new step has their slot; of the others, those who came in for
        this rep go back to the head of the queue, so that a step tapped by mistake costs nobody a turn.
        """
        lineup = self._lineup()
        (lineup.move_on if played else lineup.give_way_to)(step)
        return self._of(lineup)

    def slot_of(self, player: UUID) -> str | None:
        """Return the key of the slot that a player is in, or None."""
        return next((key for key, inside in self.slots.items() if inside == player), None)

    def _lineup(self) -> Lineup:
        return Lineup(
            self.step,
            dict(self.slots),
            {group: list(queue) for group, queue in self.queues.items()},
            dict(self.groups),
            dict(self.turns),
            set(self.closed),
            self.rep,
            dict(self.came_in),
        )

    @classmethod
    def _of(cls, lineup: Lineup) -> "Rotation":
        lineup.fill()
        order = [slot.key for slot in lineup.step.slots]
        return cls(
            lineup.step,
            {key: lineup.slots[key] for key in order if key in lineup.slots},
            {group: tuple(queue) for group, queue in lineup.queues.items()},
            lineup.groups,
            lineup.turns,
            frozenset(lineup.closed),
            lineup.rep,
            lineup.came_in,
        )
