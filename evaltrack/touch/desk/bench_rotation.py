"""The rotation that this tablet keeps: what is done to it, undone, and done again."""

from collections.abc import Callable
from uuid import UUID

from evaltrack.errors import EvaltrackError
from evaltrack.language import mark, tr
from evaltrack.rink.drill import Slot
from evaltrack.rink.player import Player, Position
from evaltrack.rink.rotation.rotation_fact import Change, RotationFact
from evaltrack.rink.rotation.running import RunningRotation
from evaltrack.rink.tally import Outcome, Tally
from evaltrack.touch.desk.kept_rotation import KeptRotation, Made
from evaltrack.touch.desk.moved_tallies import Owners, given_by, put_right_by, told
from evaltrack.touch.desk.undone import Act

WENT_OFF = mark("#{number} is off the ice. Undo does not bring them back: the list behind a plate does.")
_BY_HAND = (Change.NEXT, Change.SWAP, Change.EMPTY)  # a step is watched, which is no act of the rotation


class BenchRotation(KeptRotation):
    """What an assistant does to the rotation: reps, slots put right, who comes and goes, and back again."""

    @property
    def can_go_back(self) -> bool:
        """Say whether there is a change to take back; not while a step is only looked at."""
        return self.is_kept and self.running.can_go_back

    @property
    def last_change(self) -> RotationFact | None:
        """Return the change that was the last act; None where a tally came later, or none can be undone."""
        fact = self._kept.fact if self.can_go_back else None
        if fact is None or fact.change not in _BY_HAND:
            return None
        return None if any(_came_after(tally, fact) for tally in self._desk.last(1)) else fact

    def slots(self) -> list[Slot]:
        """Return the slots of the step as they stand on the ice, from the net to the far end.

        A step names them in this order; its goalie stands in the net.
        """
        return sorted(self.rotation.step.slots, key=lambda slot: slot.position is not Position.GOALIE)

    def could_be(self, slot: Slot) -> list[Player]:
        """Return who could be in a slot: its queue, the others who play in its group, everybody else."""
        waiting = self.rotation.queues[slot.position]
        order = {ident: turn for turn, ident in enumerate(waiting)}
        there, last = self.rotation.slots.get(slot.key), len(order)
        others = [p for p in self._desk.here() if p.id != there]
        groups, group = self.rotation.groups, slot.position
        return sorted(
            others,
            key=lambda p: (groups.get(p.id) != group, group not in p.positions, order.get(p.id, last)),
        )

    def could_come(self, slot: Slot) -> list[Player]:
        """Return who is not here and could come into a slot now: first those of its group."""
        here = {player.id for player in self._desk.here()}
        absent = [player for player in self._desk.players if player.id not in here]
        return sorted(absent, key=lambda player: slot.position not in player.positions)

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
        rep = self._after(made).rep
        return self._tally_with(
            made, lambda write: self._desk.tally(player, outcome, skill, rep, at, slot, write)
        )

    def undone(self, tally: Tally) -> bool:
        """Take back the rep that began with a tally which was taken back; say whether to show all again."""
        made, now, running, rep, facts = [], self._desk.now(), self._kept, tally.rep, []
        while self._began_with(running, tally, rep):
            facts.insert(0, running.fact)
            made.append(running.back(now))
            running = self._after(made)
            rep = running.rep.id  # a step that was looked at until then began with the same tally
        changed = bool(made) and self._keep(made, new=False)
        if changed:
            self._desk.undone.note_changes(tuple(facts), self._kept)
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
        if not self._keep([running.back(desk.now())], owners, new=False):
            return False
        desk.undone.note(Act(changes=(running.fact,), left=self._kept))
        return self._tell(owners, again=True)

    def can_redo(self, act: Act) -> bool:
        """Say whether changes that were undone can be made again: all is still as undoing them left it."""
        at, fact = self._desk.station, act.changes[-1]
        return act.left == self._kept and (fact.drill, fact.step) == (at.drill, at.step)

    def redo(self, act: Act) -> bool:
        """Make changes again that were undone, and the tally that went with them."""
        made: Made = []
        for fact in act.changes:
            made.append(self._after(made).again(fact))
            if fact.change.begins_rep:
                self._desk.undone.rep_becomes(fact.rep, made[-1][1].rep)
        if act.tally:
            return bool(self._tally_with(made, lambda write: self._desk.tally_again(act.tally, write)))
        running = self._after(made)
        owners = put_right_by(running, self._desk.tallies_of(running.rep))
        return self._keep(made, owners, new=False) and self._tell(owners, mark("{what}; Undo takes it back"))

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
        return self._keep(made, owners) and self._tell(owners, mark("{what}; Undo takes it back"))

    def empty(self, slot: str) -> bool:
        """Leave a slot empty."""
        return self._change(lambda running, now: running.empty(slot, now))

    def off(self, player: UUID) -> bool:
        """Note that a player is not here any more. Their slot fills from the queue; going back ends here."""
        here = [other for other in self._desk.here() if other.id != player]
        if not (self._settle() and self._desk.arrange(here) and self.take_up()):
            return False
        # a mistake would be looked for behind Undo, which takes back a tally now
        self._desk.message = tr(WENT_OFF, number=self._desk.player(player).number)
        return True

    def comes(self, slot: str, player: Player) -> bool:
        """Note that a player who was not here is here now, late or again, and put them into a slot."""
        here = [*self._desk.here(), player]
        if not (self._settle() and self._desk.arrange(here) and self.take_up()):
            return False
        return self.rotation.slots.get(slot) == player.id or self.swap(slot, player.id)

    def _change(self, change: Callable[[RunningRotation, int], tuple[RunningRotation, RotationFact]]) -> bool:
        now = self._desk.now()
        made = self._pending(now)
        return self._keep([*made, change(self._after(made), now)])

    def _tell(self, owners: Owners, told_in: str = "", again: bool = False) -> bool:
        players = {player.id: player for player in self._desk.everyone}
        if words := told(owners, players, again):
            self._desk.message = tr(told_in, what=words) if told_in else words
        return True


def _came_after(tally: Tally, change: RotationFact) -> bool:
    """Say whether a tally was made after a change; a rep has an id that orders it, other changes a moment."""
    return tally.id > change.rep and (change.change.begins_rep or tally.at >= change.at)
