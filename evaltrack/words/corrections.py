"""Corrections of tallies in words: what each was, and what it is now."""

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from functools import reduce
from types import MappingProxyType
from uuid import UUID

from evaltrack.language import mark, tr, tr_many
from evaltrack.rink.drill import Drill
from evaltrack.rink.player import Player, by_number
from evaltrack.rink.practice_story import Count, counted_tallies
from evaltrack.rink.skill import Skill
from evaltrack.rink.tally import Tally
from evaltrack.rink.tally_correction import Change, Stood, TallyCorrection, Value, after, counting
from evaltrack.words.wording import count_words, counted

_SEVERAL = {
    Change.PLAYER: mark("several players"),
    Change.SKILL: mark("several skills"),
    Change.STEP: mark("several steps"),
    Change.PRACTICE: mark("several practices"),
}
PRESSURE = {True: mark("under pressure"), False: mark("without pressure"), None: mark("pressure not noted")}


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
            return tr(PRESSURE[value])
        if change is Change.PRACTICE:
            return tr("the practice {practice}", practice=value)
        return tr(str(value))

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
    tallies = _tallies(correction)
    if one:
        tallies = tr("{tallies} of {player}", tallies=tallies, player=names.player(one))
    number = len(correction.was)
    if change is Change.ASIDE and correction.becomes:
        return tr_many("{tallies} set aside", "{tallies} set aside", number, tallies=tallies)
    if change is Change.ASIDE:
        return tr_many("{tallies} brought back", "{tallies} brought back", number, tallies=tallies)
    found = list(dict.fromkeys(names.value(change, value) for value in correction.was.values()))
    was = tr(_SEVERAL[change]) if len(found) > 2 and change in _SEVERAL else _or(found)
    becomes = names.value(change, correction.becomes)
    return tr("{tallies} from {was} to {becomes}", tallies=tallies, was=was, becomes=becomes)


def _tallies(correction: TallyCorrection) -> str:
    return counted(len(correction.was), "tally", "tallies")


def _or(found: Sequence[str]) -> str:
    return reduce(lambda others, last: tr("{others} or {last}", others=others, last=last), found)


def what_would_change(correction: TallyCorrection, names: Names) -> str:
    """Return ``This moves 40 tallies from 7 Juno Reed to 10 Oda Marsh.``, said before it is done."""
    if correction.change is Change.ASIDE and correction.becomes:
        return tr("This sets {tallies} aside.", tallies=_tallies(correction))
    if correction.change is Change.ASIDE:
        return tr("This brings {tallies} back.", tallies=_tallies(correction))
    what = what_changed(correction, names)
    if correction.change in (Change.PLAYER, Change.PRACTICE):
        return tr("This moves {what}.", what=what)
    return tr("This changes {what}.", what=what)


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
            lines.append(
                tr("{whose}: {was}, then {becomes}", whose=whose, was=count_of(old), becomes=count_of(new))
            )
    return lines


def counts_after(correction: TallyCorrection, stands: Sequence[Stood], practice: str, names: Names) -> str:
    """Return what a correction would do to the counts of a practice, of which these are the tallies."""
    moves = what_moves(counting(stands, practice), counting(after(stands, correction), practice), names)
    return "\n".join(moves) or tr("The counts by player and skill stay as they are.")


def count_of(count: Count) -> str:
    """Return ``14 of 20 done``, with what was unseen; ``none`` where nothing was noted."""
    if not count.tallies:
        return tr("none")
    unseen = tr_many("{number} unseen", "{number} unseen", count.unseen) if count.unseen else ""
    done = tr("{count} done", count=count_words(count.done, count.tries)) if count.tries else ""
    return ", ".join(filter(None, (done, unseen)))
