"""The line of players that this tablet keeps: played again from the season file, changed, and kept."""

from collections.abc import Callable, Iterable
from dataclasses import replace
from uuid import UUID

from evaltrack.errors import EvaltrackError
from evaltrack.rink.drill import Slot
from evaltrack.rink.line import Line, changes_for, replay
from evaltrack.rink.line_fact import LineFact
from evaltrack.rink.player import Player, Position
from evaltrack.rink.practice import Rep
from evaltrack.rink.rotation import Rotation
from evaltrack.rink.tally import Tally
from evaltrack.touch.desk import Desk, Moves, Owners


class BenchLine:
    """Whose turn it is. Every change is on disk before it is shown; one that is not saved changes nothing.

    ``line`` is None until `take_up` has found or made one for the practice that runs. While another step is
    watched than the one that was run last, it is that step's as it would begin: looking through the steps
    moves nobody. It begins, and is kept, with the first thing that is done in it (see `settle`).
    """

    def __init__(self, desk: Desk):
        self._desk = desk
        self._kept: Line | None = None
        self._ahead: Line | None = None
        self._moved: dict[int, Moves] = {}  # what corrections have moved, by number of the change

    def take_up(self) -> bool:
        """Go on with the line of this practice, or line everyone up; follow who is here and what is run."""
        if self._kept is None or self._kept.rep.practice != self._desk.practice.key:
            self._kept = self._ahead = None
            if not self._begin():
                return False
        followed = self._follow_players()
        self.look_ahead()
        return followed

    @property
    def line(self) -> Line | None:
        """Return the line as it is shown."""
        return self._ahead or self._kept

    @property
    def rotation(self) -> Rotation:
        """Return who is in which slot, and the lines behind them."""
        return self.line.rotation

    @property
    def rep(self) -> Rep:
        """Return the rep that runs."""
        return self.line.rep

    @property
    def can_go_back(self) -> bool:
        """Say whether there is a change to take back; none of a step that is only looked at."""
        return self._ahead is None and self._kept.can_go_back

    @property
    def begins_rep(self) -> bool:
        """Say whether the last change, which can be taken back, began the rep that runs."""
        return self.can_go_back and self._kept.before.rep is not self.rep

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

    def look_ahead(self) -> bool:
        """Show the step that is watched as it would begin, unless it is the one that runs; say whether so."""
        at, rep = self._desk.station, self._kept.rep
        same = (rep.drill, rep.step) == (at.drill, at.step)
        self._ahead = None if same else self._stepped(self._kept, self._desk.now())[0]
        return not same

    def settle(self, at: int | None = None) -> bool:
        """Begin the step that is looked at, now that something is done in it; True where there is none."""
        if self._ahead is None:
            return True
        if not self._change(self._stepped, at):
            return False
        self._ahead = None
        return True

    def next_rep(self, at: int | None = None) -> bool:
        """Begin the next rep."""
        return self.settle(at) and self._change(Line.next_rep, at)

    def swap(self, slot: str, player: UUID) -> bool:
        """Put right who is in a slot: what was tallied in that slot in this rep is theirs too.

        Whoever corrects a slot has seen another number on the ice than on the screen, so the tries were
        never those of the player who stood on the screen. A player who leaves after a try is switched off
        where attendance is, and keeps the tallies.
        """
        if not self.settle():
            return False
        line, fact = self._kept.swap(slot, player, self._desk.now())
        owners = self._tallied_in(line.put_right)
        return self._keep(line, fact, owners) and self._tell(owners, "now", "; Back undoes it")

    def back(self) -> bool:
        """Take the last change back, and with it just the tallies that it gave to another player."""
        if not self.can_go_back:
            return False
        owners = self._moved_by(self._kept)
        done = self._keep(*self._kept.back(self._desk.now()), owners)
        self.look_ahead()
        return done and self._tell(owners, "again")

    def empty(self, slot: str) -> bool:
        """Leave a slot empty."""
        return self.settle() and self._change(lambda line, now: line.empty(slot, now))

    def _begin(self) -> bool:
        desk = self._desk
        try:
            key = desk.practice.key, desk.tablet.id
            self._moved = desk.season.reps.moved(*key)
            self._kept = replay(desk.drills, desk.season.reps.facts(*key))
        except EvaltrackError as error:
            desk.message = str(error)
            return False
        at = desk.station
        rep = Rep(at.practice, at.drill, at.step, {}, desk.tablet.id, desk.now())
        return bool(self._kept) or self._keep(*Line.first(desk.drills, rep, desk.here()))

    def _follow_players(self) -> bool:
        made = changes_for(self._kept, self._desk.here(), self._desk.now())
        return all(self._keep(line, fact) for line, fact in made)

    def _stepped(self, line: Line, now: int) -> tuple[Line, LineFact]:
        at = self._desk.station
        return line.change_step(at.drill, at.step, bool(self._desk.tallies_of(line.rep)), now)

    def _change(self, change: Callable[[Line, int], tuple[Line, LineFact]], at: int | None = None) -> bool:
        return self._keep(*change(self._kept, self._desk.now() if at is None else at))

    def _keep(self, line: Line, fact: LineFact, owners: Owners = ()) -> bool:
        """Commit a change and the tallies that change hands with it, and only then take it over."""
        kept = []

        def write(moves: Moves = ()) -> None:
            reps = self._desk.season.reps  # only now: the file may have been opened anew meanwhile
            begins = fact.change.begins_rep
            kept.append(reps.begin(line.rep, fact) if begins else reps.correct(fact, moves))

        moves = self._desk.give(owners, write) if owners else self._desk.save(write) and []
        if moves is None or moves is False:
            return False
        nth = kept[-1]
        self._kept = line if fact.change is fact.change.BACK else replace(line, nth=nth)
        if moves:
            self._moved[nth] = moves
        return True

    def _tallied_in(self, put_right: dict[str, tuple[UUID, UUID]]) -> Owners:
        """Return the tallies that were made in slots of this rep while the wrong player stood there."""
        return _owned(self._desk.tallies_of(self.rep), self.rotation, put_right)

    def _moved_by(self, line: Line) -> Owners:
        """Return what the change that made a line has moved, as it counts now, and whose it was before.

        What was moved may have been moved again and given back since: it is followed to the tally that stands
        for it. What was taken back by undo stays so.
        """
        stands_for = {was: becomes for moves in self._moved.values() for was, becomes in moves}
        counting = {tally.id: tally for tally in self._desk.tallies_of(line.rep)}
        moved = []
        for _, ident in self._moved.get(line.nth, ()):
            while ident in stands_for:
                ident = stands_for[ident]
            moved += [counting[ident]] if ident in counting else []
        return _owned(moved, line.rotation, {slot: pair[::-1] for slot, pair in line.put_right.items()})

    def _tell(self, owners: Owners, when: str, more: str = "") -> bool:
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


def _owned(tallies: Iterable[Tally], rotation: Rotation, pairs: dict[str, tuple[UUID, UUID]]) -> Owners:
    """Return the tallies that were made in a slot for the first player of its pair, each with the second.

    One that does not say its slot, as earlier versions made them, was made where its skill is watched.
    """
    watched = {slot.key: slot.skills for slot in rotation.step.slots}
    owners = []
    for tally in tallies:
        for slot, (first, second) in pairs.items():
            there = tally.slot == slot if tally.slot else tally.skill in watched.get(slot, ())
            if there and tally.player == first:
                owners.append((tally, second))
                break
    return owners
