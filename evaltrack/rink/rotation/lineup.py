"""A lineup under change: the moves of which a rotation is made."""

from dataclasses import dataclass
from uuid import UUID

from evaltrack.rink.drill import Step
from evaltrack.rink.player import Position
from evaltrack.rink.rotation.routes import Routes, routes


@dataclass(slots=True)
class Lineup:
    """The slots and queues of a `Rotation` while a move is made; the fields are those of the rotation."""

    step: Step
    slots: dict[str, UUID]
    queues: dict[Position, list[UUID]]
    groups: dict[UUID, Position]
    turns: dict[tuple[UUID, Position], int]
    closed: set[str]
    rep: int
    came_in: dict[UUID, tuple[int, int]]

    def join(self, player: UUID, group: Position) -> None:
        """Put a player who has come at the end of their queue; nothing for one who is here."""
        if player not in self.groups:
            self.groups[player] = group
            self.queues[group].append(player)

    def drop(self, player: UUID) -> None:
        """Take a player out of their slot or queue; their turns stay counted."""
        if player in self.groups:
            self._lift(player)
            del self.groups[player]

    def move_on(self, to: Step) -> None:
        """Begin the next rep, of this step or another: everyone moves on who has a next slot in it."""
        onward, old, inside = self._routes.onward, self.step, self._inside()
        self.step, self.slots = to, {}
        self.rep += 1
        for key, player in inside:
            after = onward.get(key)
            if self._has(after, old) and after not in self.slots:
                self.slots[after] = player
            else:
                del self.came_in[player]
                self.queues[self.groups[player]].append(player)

    def give_way_to(self, step: Step) -> None:
        """Change the step under a rep that was not played: a player whose slot is in it stays there."""
        new = {slot.key: slot.position for slot in step.slots}
        leaving = [
            player for key, player in self._inside() if new.get(key) != self._routes.slots[key].position
        ]
        # to the head from the last one on, and to the end from the first one on: the order stays
        for player in [p for p in reversed(leaving) if self._is_fresh(p)]:
            self._make_way(player)
        for player in [p for p in leaving if p in self.came_in]:
            self._make_way(player)
        self.step = step

    def place(self, key: str, player: UUID) -> None:
        """Put a player into a slot by hand; who was there changes places with them or makes way."""
        self.closed.discard(key)
        there, other = self.slots.get(key), self._slot_of(player)
        if there and other and self._position(other) == self._position(key):
            self.slots[key], self.slots[other] = player, there
            self.came_in[player], self.came_in[there] = self.came_in[there], self.came_in[player]
            return
        if there:
            self._make_way(there)
        if other:
            self._take_back_turn(player)
        self._lift(player)
        self._enter(key, player)

    def close(self, key: str) -> None:
        """Leave a slot empty on purpose."""
        if key in self.slots:
            self._make_way(self.slots[key])
        self.closed.add(key)

    def fill(self) -> None:
        """Fill the free slots from the heads of the queues.

        Where there are fewer players than free slots, the slots at the beginning of a route are filled. The
        head of the queue gets the one that is out first: so they come out in the order in which
        they stood.
        """
        routes_now = self._routes
        for group, queue in self.queues.items():
            free = [
                k for k, slot in routes_now.slots.items() if slot.position == group and k not in self.slots
            ]
            chosen = sorted(free, key=routes_now.first_in)[: len(queue)]
            for key in sorted(chosen, key=routes_now.soonest_out):
                self._enter(key, queue.pop(0))

    @property
    def _routes(self) -> Routes:
        return routes(self.step, frozenset(self.closed))

    def _inside(self) -> list[tuple[str, UUID]]:
        """Return the slots with their players, who came in first at the front."""
        return sorted(self.slots.items(), key=lambda item: self.came_in[item[1]])

    def _has(self, key: str | None, old: Step) -> bool:
        """Say whether a slot of an older step is open in this one, for the same position group."""
        slot = self._routes.slots.get(key)
        return slot is not None and any(s.key == key and s.position == slot.position for s in old.slots)

    def _position(self, key: str) -> Position:
        return next(slot.position for slot in self.step.slots if slot.key == key)

    def _slot_of(self, player: UUID) -> str | None:
        return next((key for key, inside in self.slots.items() if inside == player), None)

    def _is_fresh(self, player: UUID) -> bool:
        return self.came_in[player][0] == self.rep

    def _enter(self, key: str, player: UUID) -> None:
        entries = [place for rep, place in self.came_in.values() if rep == self.rep]
        self.slots[key] = player
        self.came_in[player] = (self.rep, 1 + max(entries, default=0))
        turn = player, self._position(key)
        self.turns[turn] = self.turns.get(turn, 0) + 1

    def _make_way(self, player: UUID) -> None:
        """Put a player from a slot back in the queue: next when they have only just come in, else last."""
        fresh, queue = self._is_fresh(player), self.queues[self.groups[player]]
        if fresh:
            self._take_back_turn(player)
        self._lift(player)
        queue.insert(0 if fresh else len(queue), player)

    def _take_back_turn(self, player: UUID) -> None:
        self.turns[player, self._position(self._slot_of(player))] -= 1

    def _lift(self, player: UUID) -> None:
        if key := self._slot_of(player):
            del self.slots[key]
            del self.came_in[player]
        else:
            self.queues[self.groups[player]].remove(player)
