"""Tallies that are put right: what each was, what it is now, and which of the corrections are in force."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from enum import StrEnum
from uuid import UUID

from evaltrack.rink.ident import now_ms
from evaltrack.rink.tally import Outcome, Tally


class Change(StrEnum):
    """What of a tally is put right."""

    PLAYER = "player"
    SKILL = "skill"
    OUTCOME = "outcome"
    STEP = "step"
    PRESSURE = "pressure"
    PRACTICE = "practice"
    ASIDE = "aside"  # whether it counts for nothing


# the id of a player; a skill with the version of its definition; drill and step; the key of a practice
Value = UUID | tuple[str, int] | Outcome | tuple[str, str] | str | bool | None
# the fields of a tally in which a change stands, in the order of its value
_FIELDS = {
    Change.PLAYER: ("player",),
    Change.SKILL: ("skill", "skill_version"),
    Change.OUTCOME: ("outcome",),
    Change.STEP: ("drill", "step"),
    Change.PRESSURE: ("pressure",),
    Change.PRACTICE: ("practice",),
}


@dataclass(frozen=True, slots=True)
class TallyCorrection:
    """Tallies of which one thing was put right at once.

    A correction is a fact of its own, and so is taking it back: ``in_force`` says whether it counts now. Each
    field of a tally has what the last correction in force says of it, so they may be taken back in any order.

    ``practice`` is where it was made and is listed; ``was`` has what each tally was just before, by its id.
    ``nth`` is its number in the file, 0 before it is there: a later one has a higher number, whatever the
    clock said.
    """

    practice: str
    change: Change
    becomes: Value
    was: Mapping[UUID, Value]
    tablet: str = ""
    at: int = field(default_factory=now_ms)
    nth: int = 0
    in_force: bool = True


@dataclass(frozen=True, slots=True)
class Stood:
    """A tally with all that was put right of it, and whether it was set ``aside``."""

    tally: Tally
    aside: bool = False

    def value(self, change: Change) -> Value:
        """Return what it has where a change would be."""
        if change is Change.ASIDE:
            return self.aside
        values = tuple(getattr(self.tally, name) for name in _FIELDS[change])
        return values if len(values) > 1 else values[0]

    def put_right(self, change: Change, value: Value) -> "Stood":
        """Return it with another value there."""
        if change is Change.ASIDE:
            return Stood(self.tally, bool(value))
        names = _FIELDS[change]
        values = value if len(names) > 1 else (value,)
        return replace(self, tally=replace(self.tally, **dict(zip(names, values, strict=True))))


def corrected(tally: Tally, corrections: Iterable[TallyCorrection]) -> Stood:
    """Return a tally as it was noted with its corrections, in their order, of which those in force count."""
    stood = Stood(tally)
    for one in corrections:
        if one.in_force and tally.id in one.was:
            stood = stood.put_right(one.change, one.becomes)
    return stood


def after(stands: Iterable[Stood], correction: TallyCorrection) -> list[Stood]:
    """Return tallies as a correction leaves them."""
    return [
        one.put_right(correction.change, correction.becomes) if one.tally.id in correction.was else one
        for one in stands
    ]


def counting(stands: Iterable[Stood], practice: str) -> list[Tally]:
    """Return the tallies that count in a practice."""
    return [one.tally for one in stands if not one.aside and one.tally.practice == practice]


def correction_of(
    stands: Iterable[Stood], change: Change, becomes: Value, practice: str, tablet: str = ""
) -> TallyCorrection | None:
    """Return the correction of those tallies of which it changes anything; None when it changes none."""
    was = {one.tally.id: one.value(change) for one in stands}
    was = {ident: value for ident, value in was.items() if value != becomes}
    return TallyCorrection(practice, change, becomes, was, tablet) if was else None
