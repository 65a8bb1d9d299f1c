"""The rotation of a tablet as it is on disk: played again from the season file, followed, and written."""

from collections.abc import Callable, Iterable
from dataclasses import replace
from uuid import UUID

from evaltrack.errors import EvaltrackError, NotSavedError
from evaltrack.language import tr
from evaltrack.rink.practice import Rep
from evaltrack.rink.rotation.rotation import Rotation
from evaltrack.rink.rotation.rotation_fact import RotationFact
from evaltrack.rink.rotation.running import RunningRotation, changes_for, replay
from evaltrack.rink.tally import Tally
from evaltrack.touch.desk.desk import Desk
from evaltrack.touch.desk.moved_tallies import Owners

Made = list[tuple[RunningRotation, RotationFact]]  # changes, one after the other, and the rotation after each
_Moved = Iterable[tuple[UUID, UUID]]


class KeptRotation:
    """A rotation of which every change is on disk before it is shown; one that is not saved changes nothing.

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
        if self._kept:
            return True
        return self._keep([RunningRotation.first(desk.drills, rep, desk.here())], new=False)

    def _follow_players(self) -> bool:
        made = changes_for(self._kept, self._desk.here(), self._desk.now())
        return not made or self._keep(made)

    def _preview(self) -> None:
        """Show the rotation of the step that is watched, as it stands or as it would begin."""
        self.running = self._after(self._pending(self._desk.now()))

    def _pending(self, now: int) -> Made:
        """Return the change to the step that is watched, if the rotation on disk has another one."""
        at, rep = self._desk.station, self._kept.rep
        if (rep.drill, rep.step) == (at.drill, at.step):
            return []
        played = bool(self._desk.tallies_of(rep))
        return [self._kept.change_step(at.drill, at.step, played, now)]

    def _after(self, made: Made) -> RunningRotation:
        return made[-1][0] if made else self._kept

    def _settle(self) -> bool:
        """Keep the rotation of the step that is watched, where it was only looked at."""
        made = self._pending(self._desk.now())
        return not made or self._keep(made)

    def _tally_with(
        self, made: Made, commit: Callable[[Callable[[], None] | None], Tally | None]
    ) -> Tally | None:
        """Commit a tally together with changes that went before it."""
        kept = []
        write = (lambda: kept.append(self._write(made))) if made else None
        tally = commit(write)
        if tally and kept:
            self._kept = kept[0]
            self._preview()
        return tally

    def _keep(self, made: Made, owners: Owners = (), new: bool = True) -> bool:
        kept = []
        if not self._desk.give(owners, lambda moved: kept.append(self._write(made, moved))):
            return False
        self._kept = kept[0]
        if new:
            self._desk.undone.forget()
        self._preview()
        return True

    def _write(self, made: Made, moved: _Moved = ()) -> RunningRotation:
        """Write changes, and what the last one ``moved``; return the rotation as it is on disk."""
        if self._practice is not self._desk.practice:  # opened again meanwhile: who knows what stands there
            raise NotSavedError(tr("not saved: the season file was opened anew; please tap once more"))
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
