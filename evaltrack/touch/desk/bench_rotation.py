"""The rotation that this tablet keeps: played again from the season file, changed, and kept."""

from collections.abc import Callable, Iterable
from dataclasses import replace
from uuid import UUID

from evaltrack.errors import EvaltrackError, NotSavedError
from evaltrack.rink.drill import Slot
from evaltrack.rink.player import Player, Position
from evaltrack.rink.practice import Rep
from evaltrack.rink.rotation.rotation import Rotation
from evaltrack.rink.rotation.rotation_fact import RotationFact
from evaltrack.rink.rotation.running import RunningRotation, changes_for, replay
from evaltrack.rink.tally import Outcome, Tally
from evaltrack.touch.desk.desk import Desk
from evaltrack.touch.desk.moved_tallies import Owners, given_by, put_right_by, told

_Made = list[
    tuple[RunningRotation, RotationFact]
]  # changes, one after the other, and the rotation after each
_Moved = Iterable[tuple[UUID, UUID]]


class BenchRotation:
    """Whose turn it is. Every change is on disk before it is shown; one that is not saved changes nothing.

    ``running`` is None until `take_up` has found or made one for the practice. While another step is watched
    than the one that was played last, it is only what that step would begin with: it is kept together
    with the first thing that is done in it, so that looking through the steps moves nobody.
    """

    def __init__(self, desk: Desk):
        self._desk = desk
        self._practice = None
        self._kept: RunningRotation | None = None  # as it is on disk
        self.running: RunningRotation | None = None

    def take_up(self) -> bool:
        """Go on with the rotation of this practice, or begin one; follow who is here and which step."""
        if self._kept is None or self._practice is not self._desk.practice:
            self._practice, self._kept, self.running = self._desk.practice, None, None
            if not self._begin():
                return False
        followed = self._follow_players()
        self._preview()
        return followed

    @property
    def rotation(self) -> Rotation:
        """Return who is in which slot, and the queues behind them."""
        return self.running.rotation

    @property
    def rep(self) -> Rep:
        """Return the rep that runs."""
        return self.running.rep

    @property
    def is_kept(self) -> bool:
        """Say whether the rotation that is shown is on disk, and not only looked at."""
        return self.running is self._kept

    @property
    def can_go_back(self) -> bool:
        """Say whether there is a change to take back; not while a step is only looked at."""
        return self.is_kept and self.running.can_go_back

    def slots(self) -> list[Slot]:
        """Return the slots of the step as they stand on the ice, from the net to the far end.

        A step names them in this order; its goalie stands in the net.
        """
        return sorted(self.rotation.step.slots, key=lambda slot: slot.position is not Position.GOALIE)

    def could_be(self, slot: Slot) -> list[Player]:
        """Return who could be in a slot: the queue of its group, the others of the group, everybody else."""
        waiting = self.rotation.queues[slot.position]
        order = {ident: turn for turn, ident in enumerate(waiting)}
        there, last = self.rotation.slots.get(slot.key), len(order)
        others = [p for p in self._desk.here() if p.id != there]
        groups = self.rotation.groups
        return sorted(others, key=lambda p: (groups.get(p.id) != slot.position, order.get(p.id, last)))

    def could_come(self, slot: Slot) -> list[Player]:
        """Return who is not here and could come into a slot now: first those of its group."""
        here = {player.id for player in self._desk.here()}
        absent = [player for player in self._desk.players if player.id not in here]
        return sorted(absent, key=lambda player: player.position != slot.position)

    def tally(
        self, player: UUID, outcome: Outcome, tile: tuple[str, str], at: int, onward: bool = False
    ) -> Tally | None:
        """Commit a tally of this rep, on the ``tile`` of a slot and a skill; ``onward`` of the next rep.

        A rep that begins with it, or was only looked at so far, is kept together with it.
        """
        slot, skill = tile
        made = self._pending(at)
        if onward:
            made.append(self._after(made).next_rep(at))
        rep, kept = self._after(made).rep, []
        write = (lambda: kept.append(self._write(made))) if made else None
        tally = self._desk.tally(player, outcome, skill, rep, at, slot, write)
        if tally and kept:
            self._kept = kept[0]
            self._preview()
        return tally

    def undone(self, tally: Tally) -> bool:
        """Take back the rep that began with a tally which was taken back; say whether to show all again."""
        made, now, running, rep = [], self._desk.now(), self._kept, tally.rep
        while self._began_with(running, tally, rep):
            made.append(running.back(now))
            running = self._after(made)
            rep = running.rep.id  # a step that was looked at until then began with the same tally
        changed = bool(made) and self._keep(made)
        self._preview()  # without its only tally a rep was not played
        return changed or not self.is_kept

    def _began_with(self, running: RunningRotation, tally: Tally, rep: UUID | None) -> bool:
        began = running.can_go_back and running.before.rep is not running.rep
        same = (running.rep.id, running.rep.at) == (rep, tally.at)
        return began and same and not self._desk.tallies_of(running.rep)

    def next_rep(self) -> bool:
        """Begin the next rep."""
        return self._change(lambda running, now: running.next_rep(now))

    def back(self) -> bool:
        """Take the last change back; the tallies that it gave to another player are given back too."""
        if not self.can_go_back:
            return False
        running, desk = self._kept, self._desk
        try:
            moves = desk.season.reps.moved(running.rep.practice, running.rep.tablet)
        except EvaltrackError as error:
            desk.message = str(error)
            return False
        owners = given_by(running, desk.tallies_of(running.rep), moves)
        return self._keep([running.back(desk.now())], owners) and self._tell(owners, "again")

    def swap(self, slot: str, player: UUID) -> bool:
        """Put right who is in a slot. What was tallied there in this rep is theirs too.

        Whoever corrects a slot has seen another number on the ice than on the screen, so the tries were
        never those of the player who stood on the screen. A player who leaves after a try goes off the ice
        and keeps their tallies.
        """
        now = self._desk.now()
        made = self._pending(now)
        made.append(self._after(made).swap(slot, player, now))
        running = self._after(made)
        owners = put_right_by(running, self._desk.tallies_of(running.rep))
        return self._keep(made, owners) and self._tell(owners, "now", "; Back undoes it")

    def empty(self, slot: str) -> bool:
        """Leave a slot empty."""
        return self._change(lambda running, now: running.empty(slot, now))

    def off(self, player: UUID) -> bool:
        """Note that a player is not here any more. Their slot fills from the queue; going back ends here."""
        here = [other for other in self._desk.here() if other.id != player]
        return self._settle() and self._desk.arrange(here) and self.take_up()

    def comes(self, slot: str, player: Player) -> bool:
        """Note that a player who was not here is here now, late or again, and put them into a slot."""
        here = [*self._desk.here(), player]
        if not (self._settle() and self._desk.arrange(here) and self.take_up()):
            return False
        return self.rotation.slots.get(slot) == player.id or self.swap(slot, player.id)

    def _begin(self) -> bool:
        desk = self._desk
        try:
            facts = desk.season.reps.facts(desk.practice.key, desk.tablet.id)
            self._kept = replay(desk.every_drill, facts)
        except EvaltrackError as error:
            desk.message = str(error)
            return False
        at = desk.station
        rep = Rep(at.practice, at.drill, at.step, {}, desk.tablet.id, desk.now())
        return bool(self._kept) or self._keep([RunningRotation.first(desk.drills, rep, desk.here())])

    def _follow_players(self) -> bool:
        made = changes_for(self._kept, self._desk.here(), self._desk.now())
        return not made or self._keep(made)

    def _preview(self) -> None:
        """Show the rotation of the step that is watched, as it stands or as it would begin."""
        self.running = self._after(self._pending(self._desk.now()))

    def _pending(self, now: int) -> _Made:
        """Return the change to the step that is watched, if the rotation on disk has another one."""
        at, rep = self._desk.station, self._kept.rep
        if (rep.drill, rep.step) == (at.drill, at.step):
            return []
        played = bool(self._desk.tallies_of(rep))
        return [self._kept.change_step(at.drill, at.step, played, now)]

    def _after(self, made: _Made) -> RunningRotation:
        return made[-1][0] if made else self._kept

    def _settle(self) -> bool:
        """Keep the rotation of the step that is watched, where it was only looked at."""
        made = self._pending(self._desk.now())
        return not made or self._keep(made)

    def _change(self, change: Callable[[RunningRotation, int], tuple[RunningRotation, RotationFact]]) -> bool:
        now = self._desk.now()
        made = self._pending(now)
        return self._keep([*made, change(self._after(made), now)])

    def _keep(self, made: _Made, owners: Owners = ()) -> bool:
        kept = []
        if not self._desk.give(owners, lambda moved: kept.append(self._write(made, moved))):
            return False
        self._kept = kept[0]
        self._preview()
        return True

    def _write(self, made: _Made, moved: _Moved = ()) -> RunningRotation:
        """Write changes, and what the last one ``moved``; return the rotation as it is on disk."""
        if self._practice is not self._desk.practice:  # opened again meanwhile: who knows what stands there
            raise NotSavedError("not saved: the season file was opened anew; please tap once more")
        # only now: a write may have opened the file again
        reps, running = self._desk.season.reps, self._kept
        for after, fact in made:
            if fact.change.begins_rep:
                nth = reps.begin(after.rep, fact)
            else:
                nth = reps.correct(fact, moved, after.put_right_since(running))
            fact = replace(fact, nth=nth)
            running = running.after(fact) if running else replay(self._desk.drills, [fact])
        return running

    def _tell(self, owners: Owners, when: str, more: str = "") -> bool:
        players = {player.id: player for player in self._desk.everyone}
        if words := told(owners, players, when):
            self._desk.message = words + more
        return True
