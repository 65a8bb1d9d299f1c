"""The line of players that this tablet keeps: played again from the season file, changed, and kept."""

from collections.abc import Callable
from uuid import UUID

from evaltrack.errors import EvaltrackError
from evaltrack.rink.drill import Slot
from evaltrack.rink.line import Line, changes_for, replay
from evaltrack.rink.player import Player, Position
from evaltrack.rink.practice import Rep
from evaltrack.rink.rotation import Rotation
from evaltrack.rink.tally import Tally

_Owners = list[tuple[Tally, UUID]]


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

    @property
    def begins_rep(self) -> bool:
        """Say whether the last change, which can be taken back, began the rep that runs."""
        return self.line.can_go_back and self.line.before.rep is not self.rep

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
        """Take the last change back; tallies that it gave to another player are given back too."""
        owners = self._owners({slot: pair[::-1] for slot, pair in self.line.put_right.items()})
        done = self._keep(*self.line.back(self._desk.now()), owners)
        return done and self._tell(owners, "again")

    def swap(self, slot: str, player: UUID) -> bool:
        """Put right who is in a slot. What was tallied there in this rep is his too.

        Whoever corrects a slot has seen another number on the ice than on the screen, so the tries were
        never those of the player who stood on the screen. A player who leaves after his try is switched off
        where attendance is, and keeps his tallies.
        """
        line, fact = self.line.swap(slot, player, self._desk.now())
        owners = self._owners(line.put_right)
        return self._keep(line, fact, owners) and self._tell(owners, "now", "; Back undoes it")

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
        played = bool(self._desk.tallies_of(rep))
        return self._change(lambda line, now: line.change_step(at.drill, at.step, played, now))

    def _change(self, change: Callable[[Line, int], tuple]) -> bool:
        return self._keep(*change(self.line, self._desk.now()))

    def _keep(self, line: Line, fact, owners: _Owners = ()) -> bool:
        reps = self._desk.season.reps
        write = (lambda: reps.begin(line.rep, fact)) if fact.change.begins_rep else lambda: reps.correct(fact)
        if not (self._desk.give(owners, write) if owners else self._desk.save(write)):
            return False
        self.line = line
        return True

    def _owners(self, put_right: dict[str, tuple[UUID, UUID]]) -> _Owners:
        """Return the tallies of this rep that were made in slots with a wrong player, and whose they are."""
        watched = {slot.key: slot.skills for slot in self.rotation.step.slots}
        rights = {wrong: (right, watched[slot]) for slot, (wrong, right) in put_right.items()}
        made = [(tally, *rights.get(tally.player, (None, ()))) for tally in self._desk.tallies_of(self.rep)]
        return [(tally, right) for tally, right, skills in made if tally.skill in skills]

    def _tell(self, owners: _Owners, when: str, more: str = "") -> bool:
        """Say whose tallies changed hands, if any."""
        told = []
        for old, new in dict.fromkeys((tally.player, right) for tally, right in owners):
            count = sum(tally.player == old for tally, _ in owners)
            wrong, right = (self._desk.player(ident).number for ident in (old, new))
            made = "the tally made for" if count == 1 else f"the {count} tallies made for"
            told.append(f"{made} {wrong} in this rep {'is' if count == 1 else 'are'} {when} {right}'s")
        if told:
            self._desk.message = ", ".join(told) + more
        return True
