"""What happened in a practice, told by its tallies: what was watched when and by whom, and the pauses."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import groupby, pairwise
from uuid import UUID

from evaltrack.rink.tally import Outcome, Tally
from evaltrack.rink.tally_choice import time_of

GAP = timedelta(minutes=5)  # without any tally; a drill with nothing to note in it is shorter


@dataclass(frozen=True, slots=True)
class Stretch:
    """One observer at one step for a while: the first and the last tally, None where no time is known."""

    observer: str
    drill: str
    step: str
    ids: frozenset[UUID]
    first: datetime | None = None
    last: datetime | None = None

    @property
    def tallies(self) -> int:
        """Return how many tallies these are."""
        return len(self.ids)


@dataclass(frozen=True, slots=True)
class Count:
    """What was seen of one player in one skill: ``unseen`` are no tries."""

    done: int = 0
    tries: int = 0
    unseen: int = 0

    @property
    def tallies(self) -> int:
        """Return how many tallies these are."""
        return self.tries + self.unseen


@dataclass(frozen=True, slots=True)
class Story:
    """What was watched, in order of time; how much of whom; and the pauses of at least ``GAP``.

    ``without_time`` is how many tallies were loaded without one.
    """

    stretches: tuple[Stretch, ...]
    counts: dict[tuple[UUID, str], Count]
    gaps: tuple[tuple[datetime, datetime], ...]
    without_time: int

    def players(self) -> set[UUID]:
        """Return who has a tally."""
        return {player for player, _ in self.counts}

    def of_player(self, player: UUID) -> Count:
        """Return all that was seen of a player."""
        return total(count for (one, _), count in self.counts.items() if one == player)

    def of_skill(self, skill: str) -> Count:
        """Return all that was seen in a skill."""
        return total(count for (_, one), count in self.counts.items() if one == skill)


def total(counts: Iterable[Count]) -> Count:
    """Return several counts as one."""
    counts = list(counts)
    return Count(*(sum(getattr(count, name) for count in counts) for name in ("done", "tries", "unseen")))


def counted_tallies(tallies: Iterable[Tally]) -> dict[tuple[UUID, str], Count]:
    """Return what was seen of each player in each skill."""
    found = defaultdict(list)
    for tally in tallies:
        is_try = tally.outcome is not Outcome.UNSEEN
        one = Count(int(tally.outcome is Outcome.DONE), int(is_try), int(not is_try))
        found[tally.player, tally.skill].append(one)
    return {key: total(counts) for key, counts in found.items()}


def story_of(tallies: Sequence[Tally]) -> Story:
    """Return what the tallies of a practice tell."""
    moments = sorted(moment for moment in map(time_of, tallies) if moment)
    gaps = tuple(pair for pair in pairwise(moments) if pair[1] - pair[0] >= GAP)
    stretches = sorted(_stretches(tallies), key=lambda one: (one.first is None, one.first or datetime.min))
    return Story(tuple(stretches), counted_tallies(tallies), gaps, len(tallies) - len(moments))


def _stretches(tallies: Sequence[Tally]) -> Iterable[Stretch]:
    for observer in dict.fromkeys(tally.observer for tally in tallies):
        own = [(time_of(tally), tally) for tally in tallies if tally.observer == observer]
        timed = sorted((pair for pair in own if pair[0]), key=lambda pair: pair[0])
        untimed = sorted((pair for pair in own if not pair[0]), key=lambda pair: _place(pair[1]))
        for part in (timed, untimed):
            for (drill, step), pairs in groupby(part, lambda pair: _place(pair[1])):
                found = list(pairs)
                yield Stretch(
                    observer, drill, step, frozenset(t.id for _, t in found), found[0][0], found[-1][0]
                )


def _place(tally: Tally) -> tuple[str, str]:
    return tally.drill, tally.step
