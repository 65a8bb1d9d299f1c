"""Which players and skills the team board shows, and in what order. Plain values, no window."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from math import ceil

from evaltrack.analysis.standings.standing import Call, Standing
from evaltrack.rink.plain_text import by_letters
from evaltrack.rink.player import Player, Position, Status, by_number
from evaltrack.rink.skill import Skill

CALLED = (Call.WORK_ON, Call.SOLID)


@dataclass(frozen=True, slots=True)
class Choice:
    """What the coach asked to see.

    ``group`` is None for everyone, each in their first group; of one group all who play in it are shown.
    """

    group: Position | None = None
    only_calls: bool = False
    by_name: bool = False


@dataclass(frozen=True, slots=True)
class Block:
    """Players of one position group down, skills of theirs across."""

    group: Position
    players: tuple[Player, ...] = ()
    skills: tuple[Skill, ...] = ()


@dataclass(frozen=True, slots=True)
class Table:
    """Blocks one below the other; ``cells`` has the standing of a (jersey number, skill key), if any.

    ``sparse`` says that in each block only those players stand who have a standing there.
    """

    blocks: tuple[Block, ...] = ()
    cells: dict[tuple[str, str], Standing] | None = None
    sparse: bool = False

    def cell(self, player: Player, skill: Skill) -> Standing | None:
        """Return the standing of a player in a skill; None when they have no try in it."""
        return (self.cells or {}).get((player.number, skill.key))

    @property
    def players(self) -> tuple[Player, ...]:
        """Return who stands in it, each once, in the order of the blocks."""
        return tuple({player.id: player for block in self.blocks for player in block.players}.values())

    @property
    def skills(self) -> tuple[Skill, ...]:
        """Return the skills that stand in it, each once, in the order of the blocks."""
        return tuple({skill.key: skill for block in self.blocks for skill in block.skills}.values())

    @property
    def shown(self) -> list[Standing]:
        """Return the standings that have a cell."""
        cells = (
            self.cell(p, skill) for block in self.blocks for p in block.players for skill in block.skills
        )
        return [standing for standing in cells if standing]

    @property
    def has_limited(self) -> bool:
        """Say whether one of the players is limited."""
        return any(player.status is Status.LIMITED for player in self.players)

    def wrapped(self, most: int) -> "Table":
        """Return the table with no more than ``most`` skills side by side.

        What has no room in a block goes on in a block below it, and both are about equally wide.
        """
        return replace(self, blocks=tuple(part for block in self.blocks for part in self._parts(block, most)))

    def _parts(self, block: Block, most: int) -> Iterable[Block]:
        size = ceil(len(block.skills) / ceil(len(block.skills) / most)) if block.skills else 1
        for start in range(0, max(len(block.skills), 1), size):
            skills, players = block.skills[start : start + size], block.players
            if self.sparse:
                players = tuple(p for p in players if any(self.cell(p, skill) for skill in skills))
            yield replace(block, players=players, skills=skills)


def choose(
    players: Iterable[Player], skills: Iterable[Skill], standings: Iterable[Standing], choice: Choice
) -> Table:
    """Return the table that was asked for: players by number or by name, never by score."""
    roster = sorted(players, key=by_name if choice.by_name else by_number)
    skills = tuple(skills)
    cells = {(s.player, s.skill): s for s in standings if not choice.only_calls or s.call in CALLED}
    groups = [group for group in Position if choice.group in (None, group)]
    blocks = [_block(group, roster, skills, cells, choice) for group in groups]
    return Table(tuple(block for block in blocks if block.players), cells, choice.only_calls)


def by_name(player: Player) -> tuple:
    """Sort key: the name as it is looked for, without accents and capitals; then the number."""
    return by_letters(player.name)[0], by_number(player)


def _block(
    group: Position, roster: Sequence[Player], skills: Sequence[Skill], cells: dict, choice: Choice
) -> Block:
    """Return a group's block: the skills in which one of its players was seen, so that no column is blank.

    Of those who play in the group second, where it is the only one, only what they do in it.
    """
    own = [p for p in roster if group in (p.positions if choice.group else (p.position,))]
    shown = [
        skill
        for skill in skills
        if any((p.number, skill.key) in cells for p in own if p.position == group or skill.suits(group))
    ]
    if choice.only_calls:
        own = [player for player in own if any((player.number, skill.key) in cells for skill in shown)]
    return Block(group, tuple(own), tuple(shown))
