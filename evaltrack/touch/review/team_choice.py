"""Which players and skills the team board shows, and in what order. Plain values, no window."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import ceil

from evaltrack.analysis.standings.standing import Call, Standing
from evaltrack.rink.plain_text import by_letters
from evaltrack.rink.player import Player, Position, by_number
from evaltrack.rink.skill import Skill

CALLED = (Call.WORK_ON, Call.SOLID)


@dataclass(frozen=True, slots=True)
class Choice:
    """What the coach asked to see. ``group`` is None for everyone."""

    group: Position | None = None
    only_calls: bool = False
    by_name: bool = False


@dataclass(frozen=True, slots=True)
class Table:
    """Players down, skills across; ``cells`` has the standing of a (jersey number, skill key), if any.

    ``sparse`` says that on each page only those players stand who have a standing there.
    """

    players: tuple[Player, ...] = ()
    skills: tuple[Skill, ...] = ()
    cells: dict[tuple[str, str], Standing] | None = None
    sparse: bool = False

    def cell(self, player: Player, skill: Skill) -> Standing | None:
        """Return the standing of a player in a skill; None when they have no try in it."""
        return (self.cells or {}).get((player.number, skill.key))

    @property
    def shown(self) -> list[Standing]:
        """Return the standings that have a cell."""
        cells = (self.cell(player, skill) for player in self.players for skill in self.skills)
        return [standing for standing in cells if standing]

    def page(self, number: int, most: int) -> "Table":
        """Return a page of the skills: none has more than ``most``, and all are about equally wide."""
        size = ceil(len(self.skills) / self.pages(most)) if self.skills else 0
        skills, players = self.skills[number * size : (number + 1) * size], self.players
        if self.sparse:
            players = tuple(p for p in players if any(self.cell(p, skill) for skill in skills))
        return Table(players, skills, self.cells, self.sparse)

    def pages(self, most: int) -> int:
        """Return how many pages the skills fill."""
        return max(1, ceil(len(self.skills) / most))


def choose(
    players: Iterable[Player], skills: Iterable[Skill], standings: Iterable[Standing], choice: Choice
) -> Table:
    """Return the table that was asked for: players by number or by name, never by score."""
    players = [p for p in players if choice.group in (None, p.position)]
    skills = [s for s in skills if choice.group is None or s.suits(choice.group)]
    cells = {(s.player, s.skill): s for s in standings if not choice.only_calls or s.call in CALLED}
    if choice.only_calls:
        players, skills = _with_a_cell(players, skills, cells)
    players = tuple(sorted(players, key=by_name if choice.by_name else by_number))
    return Table(players, tuple(skills), cells, choice.only_calls)


def by_name(player: Player) -> tuple:
    """Sort key: the name as it is looked for, without accents and capitals; then the number."""
    return by_letters(player.name)[0], by_number(player)


def _with_a_cell(players: Sequence[Player], skills: Sequence[Skill], cells: dict):
    shown = {(p.number, s.key) for p in players for s in skills} & set(cells)
    numbers, keys = {number for number, _ in shown}, {key for _, key in shown}
    return [p for p in players if p.number in numbers], [s for s in skills if s.key in keys]
