"""The tallies of the practice that runs, counted."""

from collections import Counter
from collections.abc import Iterable
from uuid import UUID

from evaltrack.language import tr, tr_many
from evaltrack.rink.tally import Outcome, Tally


class TallyBook:
    """Counts of everybody's tallies, and this tablet's own in order, so that they can be taken back."""

    def __init__(self, tallies: Iterable[Tally] = (), tablet: str = ""):
        tallies = list(tallies)
        self._counts = Counter((t.player, t.skill, t.outcome) for t in tallies)
        self._mine = [t for t in tallies if t.tablet == tablet]
        self.others = len(tallies) - len(self._mine)  # counted with them, and not to be taken back here

    def add(self, tally: Tally) -> None:
        """Count a tally of this tablet."""
        self._mine.append(tally)
        self._counts[tally.player, tally.skill, tally.outcome] += 1

    def take_back(self) -> None:
        """Count this tablet's last tally no more."""
        tally = self._mine.pop()
        self._counts[tally.player, tally.skill, tally.outcome] -= 1

    def give(self, tally: Tally, other: Tally) -> None:
        """Count another tally in the place of one of this tablet, which is withdrawn."""
        self._mine[self._mine.index(tally)] = other
        self._counts[tally.player, tally.skill, tally.outcome] -= 1
        self._counts[other.player, other.skill, other.outcome] += 1

    def last(self, count: int) -> list[Tally]:
        """Return this tablet's last tallies, the newest first."""
        return self._mine[: -count - 1 : -1]

    def of(self, rep: UUID) -> list[Tally]:
        """Return this tablet's tallies of a rep, in order."""
        return [tally for tally in self._mine if tally.rep == rep]

    @property
    def total(self) -> int:
        """Return how many tallies this tablet made."""
        return len(self._mine)

    @property
    def noted(self) -> str:
        """Return in words how much is noted, everybody's: ``142 tallies of 16 players``."""
        tallies = self.others + self.total
        players = len({player for (player, *_), count in self._counts.items() if count})
        made = tr_many("{tallies} tally", "{tallies} tallies", tallies, tallies=tallies)
        return tr("{tallies} of {players}", tallies=made, players=_players(players))

    def count(self, player: UUID, skill: str, outcome: Outcome) -> int:
        """Return how many tallies a player has in a skill."""
        return self._counts[player, skill, outcome]


def _players(number: int) -> str:
    return tr_many("{number} player", "{number} players", number)
