"""The rotation that one tablet keeps at one practice, and the facts from which it is played again."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from uuid import UUID

from evaltrack.rink.drill import Drill, drill_named
from evaltrack.rink.ident import new_id, now_ms
from evaltrack.rink.player import Player
from evaltrack.rink.practice import Rep
from evaltrack.rink.rotation.lines import lines_joined
from evaltrack.rink.rotation.rotation import Rotation
from evaltrack.rink.rotation.rotation_fact import Change, RotationFact


@dataclass(frozen=True, slots=True)
class RunningRotation:
    """A rotation as a tablet keeps it: who is where, and the rep that runs.

    Every change returns the rotation after it and the fact to be kept, and changes nothing itself: the fact
    is committed first, and the new rotation drawn after that. ``rep.slots`` is who was in the slots when the
    rep began, ``rotation.slots`` who is there now, ``stood`` who is known now to have been there in this rep:
    who began it, as it was put right since. ``corrected`` is the slot that the last change put right by hand,
    empty after any other change. ``nth`` is the number of the fact that made the rotation, 0 while it is not
    kept; ``begun`` the rotation's number of the rep with which this drill began. ``fact`` is the one that
    made it.
    """

    drills: tuple[Drill, ...] = field(repr=False, compare=False)
    rotation: Rotation
    rep: Rep
    before: "RunningRotation | None" = field(default=None, repr=False, compare=False)
    corrected: str = ""
    stood: dict[str, UUID] = field(default_factory=dict)
    nth: int = field(default=0, compare=False)
    begun: int = 1
    fact: RotationFact | None = field(default=None, repr=False, compare=False)

    @classmethod
    def first(
        cls,
        drills: Iterable[Drill],
        rep: Rep,
        present: Iterable[Player],
    ) -> tuple["RunningRotation", RotationFact]:
        """Line everyone up again, in this order, for the first rep of a step.

        Of ``rep`` the slots are not looked at; they line up as `Rotation.first` says.
        """
        drills = tuple(drills)
        start = tuple(lines_joined(drill_named(drills, rep.drill).step(rep.step), present).items())
        fact = RotationFact(
            rep.practice, rep.tablet, rep.drill, rep.step, Change.FIRST, rep.id, start=start, at=rep.at
        )
        return started(drills, fact), fact

    def next_rep(self, at: int | None = None) -> tuple["RunningRotation", RotationFact]:
        """Begin the next rep."""
        return self._changed(Change.NEXT, at)

    def change_step(
        self, drill: str, step: str, played: bool = True, at: int | None = None
    ) -> tuple["RunningRotation", RotationFact]:
        """Begin a rep of another step, of this drill or another; `Rotation.change_step` says who is in it."""
        kind = Change.STEP if played else Change.SKIP
        return self._changed(kind, at, drill=drill, step=step)

    def arrive(self, player: Player, at: int | None = None) -> tuple["RunningRotation", RotationFact]:
        """Let a player join the end of their queue."""
        group = self.rotation.arrive(player).groups[player.id]
        return self._changed(Change.ARRIVE, at, player=player.id, group=group)

    def leave(self, player: UUID, at: int | None = None) -> tuple["RunningRotation", RotationFact]:
        """Take a player out of their slot and queue."""
        return self._changed(Change.LEAVE, at, player=player)

    def swap(self, slot: str, player: UUID, at: int | None = None) -> tuple["RunningRotation", RotationFact]:
        """Put a player into a slot by hand."""
        return self._changed(Change.SWAP, at, slot=slot, player=player)

    def empty(self, slot: str, at: int | None = None) -> tuple["RunningRotation", RotationFact]:
        """Leave a slot empty on purpose."""
        return self._changed(Change.EMPTY, at, slot=slot)

    def back(self, at: int | None = None) -> tuple["RunningRotation", RotationFact]:
        """Take the last change back; not beyond an arrival, a leaving or the start (see `can_go_back`)."""
        return self._changed(Change.BACK, at)

    def again(self, fact: RotationFact) -> tuple["RunningRotation", RotationFact]:
        """Make a change again that was taken back, as of its own moment; a rep begins under a new id."""
        values = {"slot": fact.slot, "player": fact.player, "group": fact.group}
        return self._changed(fact.change, fact.at, drill=fact.drill, step=fact.step, **values)

    @property
    def number(self) -> int:
        """Return the number of the rep that runs, from 1 whenever a drill begins."""
        return self.rotation.rep - self.begun + 1

    @property
    def can_go_back(self) -> bool:
        """Say whether there is a change to take back."""
        return self.before is not None

    @property
    def put_right(self) -> dict[str, tuple[UUID, UUID]]:
        """Return who was said to be in a slot and who was, by slot, where the last change put that right.

        The slot that was corrected, and the other one when two players of one position group changed
        places. Not a slot that the queue has filled again: who is there is its guess and nobody's correction.
        """
        if not self.corrected:
            return {}
        was, now = self.before.rotation.slots, self.rotation.slots
        wrong, right = was.get(self.corrected), now.get(self.corrected)
        pairs = {self.corrected: (wrong, right)}
        other = self.before.rotation.slot_of(right)
        groups = {slot.key: slot.position for slot in self.rotation.step.slots}
        if other and now.get(other) == wrong and groups[other] == groups[self.corrected]:
            pairs[other] = right, wrong
        return {slot: pair for slot, pair in pairs.items() if None not in pair and wrong != right}

    def put_right_since(self, before: "RunningRotation") -> dict[str, UUID | None]:
        """Return of which slots of this rep it is known now that somebody else, or None, was there."""
        if self.rep.id != before.rep.id:
            return {}
        keys = (
            slot for slot in {**before.stood, **self.stood} if before.stood.get(slot) != self.stood.get(slot)
        )
        return {slot: self.stood.get(slot) for slot in keys}

    def after(self, fact: RotationFact) -> "RunningRotation":
        """Return the rotation after a fact of its own."""
        if fact.change is Change.FIRST:
            return started(self.drills, fact)
        if fact.change is Change.BACK:
            return self.before or self
        rotation = _changed(self.drills, self.rotation, fact)
        rep = _begun(fact, rotation) if fact.change.begins_rep else self.rep
        final = fact.change in (Change.ARRIVE, Change.LEAVE)
        by_hand = fact.slot if fact.change is Change.SWAP else ""
        begun = self.begun if rep.drill == self.rep.drill else rotation.rep
        stood = dict(rotation.slots) if fact.change.begins_rep else self._stood_after(fact.change, rotation)
        before = None if final else self
        return RunningRotation(self.drills, rotation, rep, before, by_hand, stood, fact.nth, begun, fact)

    def _stood_after(self, change: Change, rotation: Rotation) -> dict[str, UUID]:
        """Return who was in the slots of the rep that runs; who leaves after a try has met whom they met."""
        if change is Change.LEAVE:
            return self.stood
        was, now = self.rotation.slots, rotation.slots
        changed = {slot for slot in {**was, **now} if was.get(slot) != now.get(slot)}
        kept = {slot: player for slot, player in self.stood.items() if slot not in changed}
        return kept | {slot: now[slot] for slot in changed if slot in now}

    def _changed(self, change: Change, at: int | None, **values) -> tuple["RunningRotation", RotationFact]:
        rep = self.rep
        values = {"drill": rep.drill, "step": rep.step} | values
        ident = new_id() if change.begins_rep else rep.id
        moment = now_ms() if at is None else at
        fact = RotationFact(rep.practice, rep.tablet, change=change, rep=ident, at=moment, **values)
        return self.after(fact), fact


def started(drills: tuple[Drill, ...], fact: RotationFact) -> RunningRotation:
    """Return the rotation that a first fact starts."""
    step = drill_named(drills, fact.drill).step(fact.step)
    # a rotation asks a player only for id and group
    present = [Player("", "", group, id=player) for player, group in fact.start]
    rotation = Rotation.first(step, present)
    stood = dict(rotation.slots)
    return RunningRotation(drills, rotation, _begun(fact, rotation), stood=stood, nth=fact.nth, fact=fact)


def replay(drills: Iterable[Drill], facts: Iterable[RotationFact]) -> RunningRotation | None:
    """Return the rotation as it stands after these facts of one tablet, or None when none starts it."""
    drills, running = tuple(drills), None
    for fact in facts:
        if running is not None:
            running = running.after(fact)
        elif fact.change is Change.FIRST:
            running = started(drills, fact)
    return running


def changes_for(
    running: RunningRotation, present: Iterable[Player], at: int | None = None
) -> list[tuple[RunningRotation, RotationFact]]:
    """Return the changes, one after the other, by which the rotation has just these players; often none."""
    present = list(present)
    here, made = {player.id for player in present}, []
    for player in [p for p in running.rotation.groups if p not in here]:
        running, fact = running.leave(player, at)
        made.append((running, fact))
    for player in [p for p in present if p.id not in running.rotation.groups]:
        running, fact = running.arrive(player, at)
        made.append((running, fact))
    return made


def _changed(drills: tuple[Drill, ...], rotation: Rotation, fact: RotationFact) -> Rotation:
    match fact.change:
        case Change.NEXT:
            return rotation.next_rep()
        case Change.STEP | Change.SKIP:
            step = drill_named(drills, fact.drill).step(fact.step)
            return rotation.change_step(step, played=fact.change is Change.STEP)
        case Change.ARRIVE:
            return rotation.arrive(Player("", "", fact.group, id=fact.player))
        case Change.LEAVE:
            return rotation.leave(fact.player)
        case Change.SWAP:
            return rotation.swap(fact.slot, fact.player)
    return rotation.empty(fact.slot)


def _begun(fact: RotationFact, rotation: Rotation) -> Rep:
    slots = dict(rotation.slots)
    return Rep(fact.practice, fact.drill, fact.step, slots, fact.tablet, fact.at, fact.rep)
