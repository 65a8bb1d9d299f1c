"""What `correct` does with tallies: which are meant, what becomes of them, and what is said of it."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import time

from evaltrack.cli.telling import warn
from evaltrack.cli.working import asked_for, practice_asked_for, refuse_unknown, refuse_unknown_skill
from evaltrack.device.tablet import load_tablet
from evaltrack.errors import EvaltrackError
from evaltrack.paper.tables.practices import Held
from evaltrack.rink.tally import Outcome
from evaltrack.rink.tally_choice import Choice, time_of
from evaltrack.rink.tally_correction import (
    Change,
    Stood,
    TallyCorrection,
    Value,
    correction_of,
)
from evaltrack.words.corrections import Names, counts_after, what_changed
from evaltrack.words.wording import counted

_PRESSURE = {"yes": True, "no": False, "unknown": None}


@dataclass(frozen=True)
class Chosen:
    """Which tallies of a practice the words of a command mean; None where nothing was said."""

    player: str | None = None
    skill: str | None = None
    drill: str | None = None
    outcome: str | None = None
    first: time | None = None
    until: time | None = None

    @property
    def said(self) -> list[str]:
        """Return the options that were given."""
        options = ("player", "skill", "drill", "outcome", "from", "until")
        values = zip(options, vars(self).values(), strict=True)
        return [f"--{option}" for option, value in values if value is not None]

    def choice(self, season) -> Choice:
        """Return what is meant; refuse what the season does not have."""
        refuse_unknown_skill(season, self.skill)
        if self.drill is not None:
            refuse_unknown("drill", self.drill, [drill.key for drill in season.catalogue.drills()])
        player = asked_for(season, self.player)[0].id if self.player is not None else None
        outcome = Outcome(self.outcome) if self.outcome else None
        return Choice(player, self.skill, self.drill, outcome=outcome, first=self.first, until=self.until)


@dataclass(frozen=True)
class Wanted:
    """What is to become of tallies: the change, and the value as it was typed."""

    change: Change
    typed: object

    def value(self, season, held: Held, stands: list[Stood]) -> Value:
        """Return the value; refuse what the season does not have."""
        read: Mapping[Change, Callable[[], Value]] = {
            Change.PLAYER: lambda: asked_for(season, str(self.typed))[0].id,
            Change.SKILL: lambda: self._skill(season, stands),
            Change.OUTCOME: lambda: Outcome(self.typed),
            Change.STEP: lambda: _step(season, str(self.typed)),
            Change.PRESSURE: lambda: _PRESSURE[self.typed],
            Change.PRACTICE: lambda: _another_of_the_day(season, held, str(self.typed)),
            Change.ASIDE: lambda: self.typed,
        }
        return read[self.change]()

    def _skill(self, season, stands: list[Stood]) -> tuple[str, int]:
        key = str(self.typed)
        refuse_unknown_skill(season, key)
        return key, season.catalogue.version_at(key, max(one.tally.at for one in stands))


def _step(season, typed: str) -> tuple[str, str]:
    known = {f"{d.key}/{s.key}": (d.key, s.key) for d in season.catalogue.drills() for s in d.steps}
    refuse_unknown("step", typed, list(known))
    return known[typed]


def _another_of_the_day(season, held: Held, key: str) -> str:
    other = practice_asked_for(season, key).practice
    if other.key == held.practice.key or other.held_on != held.practice.held_on:
        raise EvaltrackError(
            f"tallies go to another practice of the same day only; {key} is "
            + ("this one" if other.key == held.practice.key else f"of {other.held_on}")
        )
    return key


def correction_wanted(season, held: Held, chosen: Chosen, wanted: Wanted) -> tuple[TallyCorrection, list]:
    """Return the correction, and the tallies of the practice as they stand before it.

    Raises
    ------
    EvaltrackError : no tally is chosen, or the chosen ones are so already.
    """
    stands = season.log.stands(held.practice.key)
    choice = chosen.choice(season)
    bringing_back = (wanted.change, wanted.typed) == (Change.ASIDE, False)
    there = [one for one in stands if one.aside == bringing_back]
    meant = [one for one in there if choice.takes(one.tally)]
    _tell_those_without_time(choice, there)
    if not meant:
        raise EvaltrackError(_why_none(held, chosen, there, bringing_back))
    value = wanted.value(season, held, meant)
    correction = correction_of(meant, wanted.change, value, held.practice.key, load_tablet().id)
    if correction is None:
        these = counted(len(meant), "chosen tally is", "chosen tallies are")
        raise EvaltrackError(f"{these} so already; nothing is to be changed")
    return correction, stands


def _tell_those_without_time(choice: Choice, there: list[Stood]) -> None:
    untimed = sum(time_of(one.tally) is None for one in there)
    if choice.by_time and untimed:
        are = counted(untimed, "tally was", "tallies were")
        warn(f"{are} loaded without a time: --from and --until choose none of them")


def _why_none(held: Held, chosen: Chosen, there: list[Stood], bringing_back: bool) -> str:
    key = held.practice.key
    if not there:
        what = "was set aside by itself" if bringing_back else "counts"
        return f"no tally of the practice {key} {what}; nothing is to be changed"
    of = counted(len(there), "tally", "tallies")
    return f"none of the {of} of the practice {key} is chosen by {' and '.join(chosen.said)}; choose others"


def said_of(season, held: Held, correction: TallyCorrection, stands: list[Stood], dry_run: bool) -> str:
    """Return what changes by player and skill, and how to take it back."""
    names, key = Names.read(season, held.practice.held_on), held.practice.key
    would = "would be put right" if dry_run else "put right"
    lines = [f"practice {key}: {would}: {what_changed(correction, names)}"]
    lines += [f"  {line}" for line in counts_after(correction, stands, key, names).split("\n")]
    if dry_run:
        return "\n".join([*lines, "Nothing was changed."])
    number = len(season.tally_corrections.all(key))
    back = f"  evaltrack correct {season.path} --practice {key} --take-back {number}"
    return "\n".join([*lines, "To take it back:", back])


def correction_numbered(season, held: Held, number: int, in_force: bool) -> TallyCorrection:
    """Return a correction of a practice by its number in the list; refuse one that is so already."""
    made, key = season.tally_corrections.all(held.practice.key), held.practice.key
    if not 0 < number <= len(made):
        there = (
            f"it has {counted(len(made), 'correction')} of tallies"
            if made
            else "no tally of it was corrected"
        )
        raise EvaltrackError(f"the practice {key} has no correction {number}: {there}")
    correction = made[number - 1]
    if correction.in_force == in_force:
        so = "counts" if in_force else "was taken back"
        raise EvaltrackError(f"correction {number} of the practice {key} {so} already")
    return correction


def said_of_force(
    season, held: Held, correction: TallyCorrection, number: int, in_force: bool, dry_run: bool
) -> str:
    """Return what it means that a correction is taken back, or counts again."""
    key, names = held.practice.key, Names.read(season, held.practice.held_on)
    what = "counts again" if in_force else "is taken back"
    if dry_run:
        what = "would count again" if in_force else "would be taken back"
    lines = [f"practice {key}: correction {number} ({what_changed(correction, names)}) {what}"]
    if dry_run:
        return "\n".join([*lines, "Nothing was changed."])
    other = "--take-back" if in_force else "--count-again"
    return "\n".join(
        [*lines, "To undo that:", f"  evaltrack correct {season.path} --practice {key} {other} {number}"]
    )
