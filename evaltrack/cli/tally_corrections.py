"""What `correct` does with tallies: which are meant, what becomes of them, and what is said of it."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import time

from evaltrack.cli.telling import warn
from evaltrack.cli.working import asked_for, practice_asked_for, refuse_unknown, refuse_unknown_skill
from evaltrack.device.tablet import load_tablet
from evaltrack.errors import EvaltrackError
from evaltrack.language import mark, tr, tr_many
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
from evaltrack.words.wording import counted, listed

_FORCE = {
    # in force, only rehearsed
    (True, False): mark("practice {key}: correction {number} ({change}) counts again"),
    (False, False): mark("practice {key}: correction {number} ({change}) is taken back"),
    (True, True): mark("practice {key}: correction {number} ({change}) would count again"),
    (False, True): mark("practice {key}: correction {number} ({change}) would be taken back"),
}
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
    if other.key == held.practice.key:
        raise EvaltrackError(
            tr("tallies go to another practice of the same day only; {key} is this one", key=key)
        )
    if other.held_on != held.practice.held_on:
        raise EvaltrackError(
            tr(
                "tallies go to another practice of the same day only; {key} is of {day}",
                key=key,
                day=other.held_on,
            )
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
        raise EvaltrackError(
            tr_many(
                "{number} chosen tally is so already; nothing is to be changed",
                "{number} chosen tallies are so already; nothing is to be changed",
                len(meant),
            )
        )
    return correction, stands


def _tell_those_without_time(choice: Choice, there: list[Stood]) -> None:
    untimed = sum(time_of(one.tally) is None for one in there)
    if choice.by_time and untimed:
        warn(
            tr_many(
                "{number} tally was loaded without a time: --from and --until choose none of them",
                "{number} tallies were loaded without a time: --from and --until choose none of them",
                untimed,
            )
        )


def _why_none(held: Held, chosen: Chosen, there: list[Stood], bringing_back: bool) -> str:
    key = held.practice.key
    if not there:
        if bringing_back:
            return tr(
                "no tally of the practice {key} was set aside by itself; nothing is to be changed", key=key
            )
        return tr("no tally of the practice {key} counts; nothing is to be changed", key=key)
    return tr(
        "none of the {tallies} of the practice {key} is chosen by {options}; choose others",
        tallies=counted(len(there), "tally", "tallies"),
        key=key,
        options=listed(chosen.said),
    )


def said_of(season, held: Held, correction: TallyCorrection, stands: list[Stood], dry_run: bool) -> str:
    """Return what changes by player and skill, and how to take it back."""
    names, key = Names.read(season, held.practice.held_on), held.practice.key
    named = {"key": key, "change": what_changed(correction, names)}
    if dry_run:
        lines = [tr("practice {key}: would be put right: {change}", **named)]
    else:
        lines = [tr("practice {key}: put right: {change}", **named)]
    lines += [f"  {line}" for line in counts_after(correction, stands, key, names).split("\n")]
    if dry_run:
        return "\n".join([*lines, tr("Nothing was changed.")])
    number = len(season.tally_corrections.all(key))
    back = f"  evaltrack correct {season.path} --practice {key} --take-back {number}"
    return "\n".join([*lines, tr("To take it back:"), back])


def correction_numbered(season, held: Held, number: int, in_force: bool) -> TallyCorrection:
    """Return a correction of a practice by its number in the list; refuse one that is so already."""
    made, key = season.tally_corrections.all(held.practice.key), held.practice.key
    if not 0 < number <= len(made):
        if not made:
            raise EvaltrackError(
                tr(
                    "the practice {key} has no correction {number}: no tally of it was corrected",
                    key=key,
                    number=number,
                )
            )
        raise EvaltrackError(
            tr(
                "the practice {key} has no correction {number}: it has {corrections} of tallies",
                key=key,
                number=number,
                corrections=counted(len(made), "correction"),
            )
        )
    correction = made[number - 1]
    if correction.in_force == in_force:
        if in_force:
            so = tr("correction {number} of the practice {key} counts already", number=number, key=key)
        else:
            so = tr(
                "correction {number} of the practice {key} was taken back already", number=number, key=key
            )
        raise EvaltrackError(so)
    return correction


def said_of_force(
    season, held: Held, correction: TallyCorrection, number: int, in_force: bool, dry_run: bool
) -> str:
    """Return what it means that a correction is taken back, or counts again."""
    key, names = held.practice.key, Names.read(season, held.practice.held_on)
    named = {"key": key, "number": number, "change": what_changed(correction, names)}
    lines = [tr(_FORCE[in_force, dry_run], **named)]
    if dry_run:
        return "\n".join([*lines, tr("Nothing was changed.")])
    other = "--take-back" if in_force else "--count-again"
    return "\n".join(
        [
            *lines,
            tr("To undo that:"),
            f"  evaltrack correct {season.path} --practice {key} {other} {number}",
        ]
    )
