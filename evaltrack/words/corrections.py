"""Corrections of tallies in words: what each was, and what it is now."""

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from types import MappingProxyType
from uuid import UUID

from evaltrack.rink.drill import Drill
from evaltrack.rink.player import Player, by_number
from evaltrack.rink.practice_story import Count, counted_tallies
from evaltrack.rink.skill import Skill
from evaltrack.rink.tally import Tally
from evaltrack.rink.tally_correction import Change, Stood, TallyCorrection, Value, after, counting
from evaltrack.words.wording import count_words, counted

_SEVERAL = {
    Change.PLAYER: "several players",
    Change.SKILL: "several skills",
    Change.STEP: "several steps",
    Change.PRACTICE: "several practices",
}
PRESSURE = {True: "under pressure", False: "without pressure", None: "pressure not noted"}


@dataclass(frozen=True)
class Names:
    """How the players, skills and steps of a season are called."""

    players: Mapping[UUID, Player]
    skills: Mapping[str, Skill]
    steps: Mapping[tuple[str, str], str]

    @classmethod
    def of(cls, players: Iterable[Player], skills: Iterable[Skill], drills: Iterable[Drill]) -> "Names":
        """Return the names of what a season knows."""
        steps = {
            (drill.key, step.key): f"{drill.name}, {step.name}" for drill in drills for step in drill.steps
        }
        return cls({one.id: one for one in players}, {one.key: one for one in skills}, steps)

    @classmethod
    def read(cls, season, day: date) -> "Names":
        """Return the names that a season file has, of all who were ever in it, with the numbers of a day."""
        catalogue, people = season.catalogue, season.people
        worn = people.numbers_worn()
        players = [replace(player, number=worn.number(player.id, day)) for player in people.everyone()]
        return cls.of(players, catalogue.skills(retired=True), catalogue.drills(retired=True))

    def of_players(self, idents: Collection[UUID]) -> list[Player]:
        """Return those of the players who have these ids, in order of number."""
        return sorted((one for ident, one in self.players.items() if ident in idents), key=by_number)

    def player(self, ident: UUID) -> str:
        """Return ``7 Juno Reed``."""
        return f"{self.players[ident].number} {self.players[ident].name}"

    def value(self, change: Change, value: Value) -> str:
        """Return what a correction puts in a place, or found there."""
        if change is Change.PLAYER:
            return self.player(value)
        if change is Change.SKILL:
            return self.skills[value[0]].name
        if change is Change.STEP:
            return self.steps[value]
        if change is Change.PRESSURE:
            return PRESSURE[value]
        return f"the practice {value}" if change is Change.PRACTICE else str(value)

    def by_place(self, pair: tuple[UUID, str]) -> tuple:
        """Sort key of a player with a skill: the number, then the place in the catalogue."""
        player, skill = pair
        return by_number(self.players[player]), list(self.skills).index(skill)


def what_changed(
    correction: TallyCorrection, names: Names, whose: Mapping[UUID, UUID] = MappingProxyType({})
) -> str:
    """Return ``40 tallies from 7 Juno Reed to 10 Oda Marsh``.

    ``whose`` has the player of each tally: when all are one player's, that is said of a change of something
    else, as ``1 tally of 7 Juno Reed from done to missed``.
    """
    change, owners = correction.change, {whose.get(ident) for ident in correction.was}
    one = next(iter(owners)) if len(owners) == 1 and change is not Change.PLAYER else None
    tallies = counted(len(correction.was), "tally", "tallies") + (f" of {names.player(one)}" if one else "")
    if change is Change.ASIDE:
        return f"{tallies} {'set aside' if correction.becomes else 'brought back'}"
    found = list(dict.fromkeys(names.value(change, value) for value in correction.was.values()))
    was = _SEVERAL[change] if len(found) > 2 and change in _SEVERAL else " or ".join(found)
    return f"{tallies} from {was} to {names.value(change, correction.becomes)}"


def what_would_change(correction: TallyCorrection, names: Names) -> str:
    """Return ``This moves 40 tallies from 7 Juno Reed to 10 Oda Marsh.``, said before it is done."""
    if correction.change is Change.ASIDE:
        tallies = counted(len(correction.was), "tally", "tallies")
        return f"This sets {tallies} aside." if correction.becomes else f"This brings {tallies} back."
    moves = correction.change in (Change.PLAYER, Change.PRACTICE)
    return f"This {'moves' if moves else 'changes'} {what_changed(correction, names)}."


def what_moves(before: Iterable[Tally], after: Iterable[Tally], names: Names) -> list[str]:
    """Return for each player and skill whose count changes what it was and what it is after, one a line.

    ``before`` and ``after`` are the tallies of a practice that count.
    """
    was, becomes = counted_tallies(before), counted_tallies(after)
    nothing = Count()
    lines = []
    for pair in sorted({*was, *becomes}, key=names.by_place):
        old, new = was.get(pair, nothing), becomes.get(pair, nothing)
        if old != new:
            player, skill = pair
            whose = f"{names.player(player)}, {names.skills[skill].name}"
            lines.append(f"{whose}: {count_of(old)}, then {count_of(new)}")
    return lines


def counts_after(correction: TallyCorrection, stands: Sequence[Stood], practice: str, names: Names) -> str:
    """Return what a correction would do to the counts of a practice, of which these are the tallies."""
    moves = what_moves(counting(stands, practice), counting(after(stands, correction), practice), names)
    return "\n".join(moves) or "The counts by player and skill stay as they are."


def count_of(count: Count) -> str:
    """Return ``14 of 20 done``, with what was unseen; ``none`` where nothing was noted."""
    if not count.tallies:
        return "none"
    unseen = f"{count.unseen} unseen" if count.unseen else ""
    done = f"{count_words(count.done, count.tries)} done" if count.tries else ""
    return ", ".join(filter(None, (done, unseen)))
