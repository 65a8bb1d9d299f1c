"""Which player of a season each line of a roster is: the same one, one who comes back, or a new one."""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, replace

from evaltrack.errors import IntakeError
from evaltrack.intake.roster import RosterFile
from evaltrack.language import tr
from evaltrack.rink.plain_text import folded
from evaltrack.rink.player import Player, Status


@dataclass(frozen=True, slots=True)
class NextRoster:
    """The players that a roster changes, each with their id in the season and as they are afterwards.

    ``kept`` are players of the season, ``joined`` new ones, ``left`` those whom the roster does not have.
    """

    kept: tuple[Player, ...]
    joined: tuple[Player, ...]
    left: tuple[Player, ...]

    @property
    def players(self) -> tuple[Player, ...]:
        """Return all of them."""
        return (*self.kept, *self.joined, *self.left)


def next_roster(
    roster: RosterFile,
    everyone: Iterable[Player],
    same: Mapping[str, str] | None = None,
    new: Collection[str] = (),
) -> NextRoster:
    """Return what a roster makes of the players of a season.

    A player is recognised by the name, whatever the number, or by what the caller says.

    Parameters
    ----------
    everyone : the players of the season, those who have left among them.
    same : a number in the roster to the number that the same player wears in the season.
    new : numbers in the roster of players who are new, whatever their name.

    Raises
    ------
    IntakeError : it is not clear who is who; every such line is told.
    """
    match = _Match(roster, everyone)
    match.take(same or {}, new)
    match.by_name_and_number()
    match.by_name()
    match.refuse_unclear()
    match.those_who_return()
    return match.result()


class _Match:
    """Lines of a roster and players of the season: who has found each other, and who has not yet."""

    def __init__(self, roster: RosterFile, everyone: Iterable[Player]):
        everyone = list(everyone)
        self._roster = roster
        self._rows = {row.number: row for row in roster.players}
        self._team = {one.number: one for one in everyone if one.status is not Status.LEFT}
        self._gone = [one for one in everyone if one.status is Status.LEFT]
        self._found: dict[str, Player] = {}  # number in the roster to the player of the season
        self._new: set[str] = set()

    def take(self, same: Mapping[str, str], new: Collection[str]) -> None:
        """Believe what the caller says."""
        faults = [
            tr("there is no number {n} in the roster", n=n) for n in (*same, *new) if n not in self._rows
        ]
        faults += [
            tr("nobody on the team wears number {n}", n=n) for n in same.values() if n not in self._team
        ]
        twice = len(set(same.values())) < len(same) or set(same) & set(new)
        if faults or twice:
            raise IntakeError(faults or [tr("one player is named twice; say of each only once who it is")])
        for number, worn in same.items():
            self._pair(number, worn)
        self._new = set(new)
        for number in self._new:
            del self._rows[number]

    def by_name_and_number(self) -> None:
        """Pair what is alike in both."""
        for number, row in list(self._rows.items()):
            if number in self._team and _name(row) == _name(self._team[number]):
                self._pair(number, number)

    def by_name(self) -> None:
        """Pair those with a name that stands once on either side."""
        rows, team = _by_name(self._rows.values()), _by_name(self._team.values())
        for name, (row, *more) in rows.items():
            others = team.get(name, [])
            if not more and len(others) == 1 and not self._shared(name):
                self._pair(row.number, others[0].number)

    def refuse_unclear(self) -> None:
        """Refuse names that several have, and numbers that another name has now."""
        team = _by_name(self._team.values())
        complaints = self._roster.complaints()
        for number, row in self._rows.items():
            if _name(row) in team or number in self._team:
                complaints.add(self._roster.lines[number], self._unclear(row, team.get(_name(row), [])))
        complaints.raise_any()

    def those_who_return(self) -> None:
        """Pair new lines with players who had left and have a name of their own."""
        gone, rows = _by_name(self._gone), _by_name(self._rows.values())
        for name, (row, *more) in rows.items():
            (player, *others) = gone.get(name, [None])
            if player and not more and not others and _may_be(row, player):
                self._found[row.number] = player
                del self._rows[row.number]

    def result(self) -> NextRoster:
        """Return what was found."""
        rows, says = self._roster.players, self._roster.columns
        kept = [_become(row, self._found[row.number], says) for row in rows if row.number in self._found]
        joined = [row for row in rows if row.number in self._rows or row.number in self._new]
        left = [replace(player, status=Status.LEFT) for player in self._team.values()]
        return NextRoster(tuple(kept), tuple(joined), tuple(left))

    def _pair(self, number: str, worn: str) -> None:
        del self._rows[number]
        self._found[number] = self._team.pop(worn)

    def _shared(self, name: str) -> bool:
        """Say whether a pair with this name was found already: then the name does not tell who is who."""
        return any(_name(player) == name for player in self._found.values())

    def _unclear(self, row: Player, named_alike: list[Player]) -> str:
        if named_alike:
            *others, last = (player.number for player in named_alike)
            worn = tr("{others} and {last}", others=", ".join(others), last=last) if others else last
            example = f"--same {row.number}={named_alike[0].number}"
            return tr(
                "the name {name} does not tell who this is (on the team with {worn}); say it with "
                "{example}, or with --new {number}",
                name=row.name,
                worn=worn,
                example=example,
                number=row.number,
            )
        now = self._team[row.number].name
        return tr(
            "number {number} is {now} until now; if {name} is the same player, say --same "
            "{number}={number}, if another one, --new {number}",
            number=row.number,
            now=now,
            name=row.name,
        )


def _become(row: Player, player: Player, says: Collection[str]) -> Player:
    """Return a player of the season as the roster has them; of what it has no column for, as they were."""
    back = player.status is Status.LEFT
    as_in_row = row if "status" in says or back else player
    return replace(
        row,
        id=player.id,
        birth_year=row.birth_year if "birth_year" in says else player.birth_year,
        status=as_in_row.status,
        away_until=as_in_row.away_until,
    )


def _may_be(row: Player, player: Player) -> bool:
    return None in (row.birth_year, player.birth_year) or row.birth_year == player.birth_year


def _name(player: Player) -> str:
    return folded(player.name).casefold()


def _by_name(players: Iterable[Player]) -> dict[str, list[Player]]:
    found: dict[str, list[Player]] = {}
    for player in players:
        found.setdefault(_name(player), []).append(player)
    return found
