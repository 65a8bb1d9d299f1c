"""The line of players that this tablet keeps: played again from the season file, changed, and kept."""

from collections.abc import Callable
from uuid import UUID

from evaltrack.errors import EvaltrackError
from evaltrack.rink.drill import Slot
from evaltrack.rink.line import Line, changes_for, replay
from evaltrack.rink.player import Player, Position
from evaltrack.rink.practice import Rep
from evaltrack.rink.rotation import Rotation


class BenchLine:
    """Whose turn it is. Every change is on disk before it is shown; one that is not saved changes nothing.

    ``line`` is None until `take_up` has found or made one for the practice that runs.
    """

    def __init__(self, desk):
        self._desk = desk
        self.line: Line | None = None

    def take_up(self) -> bool:
        """Go on with the line of this practice, or line everyone up; follow who is here and what is run."""
        if self.line is None or self.line.rep.practice != self._desk.practice.key:
            self.line = None
            if not self._begin():
                return False
        return self._follow_players() and self._follow_step()

    @property
    def rotation(self) -> Rotation:
        """Return who is in which slot, and the lines behind them."""
        return self.line.rotation

    @property
    def rep(self) -> Rep:
        """Return the rep that runs."""
        return self.line.rep

    def slots(self) -> list[Slot]:
        """Return the slots of the step as they stand on the ice, from the net to the far end.

        A step names them in this order; its goalie stands in the net.
        """
        return sorted(self.rotation.step.slots, key=lambda slot: slot.position is not Position.GOALIE)

    def could_be(self, slot: Slot) -> list[Player]:
        """Return who could be in a slot: the line of its group, the others of the group, everybody else."""
        waiting = self.rotation.lines[slot.position]
        order = {ident: turn for turn, ident in enumerate(waiting)}
        there, last = self.rotation.slots.get(slot.key), len(order)
        others = [p for p in self._desk.here() if p.id != there]
        groups = self.rotation.groups
        return sorted(others, key=lambda p: (groups.get(p.id) != slot.position, order.get(p.id, last)))

    def next_rep(self, at: int | None = None) -> bool:
        """Begin the next rep."""
        return self._change(lambda line, now: line.next_rep(now if at is None else at))

    def back(self) -> bool:
        """Take the last change back."""
        return self._change(lambda line, now: line.back(now))

    def swap(self, slot: str, player: UUID) -> bool:
        """Put a player into a slot."""
        return self._change(lambda line, now: line.swap(slot, player, now))

    def empty(self, slot: str) -> bool:
        """Leave a slot empty."""
        return self._change(lambda line, now: line.empty(slot, now))

    def _begin(self) -> bool:
        desk = self._desk
        try:
            self.line = replay(desk.drills, desk.season.reps.facts(desk.practice.key, desk.tablet.id))
        except EvaltrackError as error:
            desk.message = str(error)
            return False
        at = desk.station
        rep = Rep(at.practice, at.drill, at.step, {}, desk.tablet.id, desk.now())
        return bool(self.line) or self._keep(*Line.first(desk.drills, rep, desk.here()))

    def _follow_players(self) -> bool:
        made = changes_for(self.line, self._desk.here(), self._desk.now())
        return all(self._keep(line, fact) for line, fact in made)

    def _follow_step(self) -> bool:
        at, rep = self._desk.station, self.rep
        if (rep.drill, rep.step) == (at.drill, at.step):
            return True
        played = self._desk.has_tallies_of(rep)
        return self._change(lambda line, now: line.change_step(at.drill, at.step, played, now))

    def _change(self, change: Callable[[Line, int], tuple]) -> bool:
        return self._keep(*change(self.line, self._desk.now()))

    def _keep(self, line: Line, fact) -> bool:
        reps = self._desk.season.reps
        write = (lambda: reps.begin(line.rep, fact)) if fact.change.begins_rep else lambda: reps.correct(fact)
        if not self._desk.save(write):
            return False
        self.line = line
        return True
