"""The roster as a table for the eye."""

from collections.abc import Iterable, Sequence

from evaltrack.language import tr
from evaltrack.rink.days import in_full
from evaltrack.rink.player import Player, Status
from evaltrack.rink.roster_change import RosterChange, RosterField


def as_table(everyone: Iterable[Player], changes: Sequence[RosterChange]) -> str:
    """Return the team by number, with earlier numbers beside it, and below it those who have left."""
    everyone = list(everyone)
    team = [player for player in everyone if player.status is not Status.LEFT]
    gone = [player for player in everyone if player.status is Status.LEFT]
    width = max((len(player.name) for player in everyone), default=0)
    number, born = tr("number"), tr("born")
    lines = [f"{number:>6}  {tr('name'):<{width}}  {tr('position'):<8}  {born:<4}  {tr('status')}"]
    lines += [_line(player, width, changes) for player in team]
    if gone:
        lines += ["", tr("left:")] + [
            f"{player.number:>6}  {player.name}{_since(player, changes)}" for player in gone
        ]
    return "\n".join(lines)


def _line(player: Player, width: int, changes: Sequence[RosterChange]) -> str:
    born = "" if player.birth_year is None else player.birth_year
    line = f"{player.number:>6}  {player.name:<{width}}  {player.position_text:<8}  {born:<4}"
    line += f"  {_status(player):<7}"
    return f"{line}  {_earlier(player, changes)}".rstrip()


def _status(player: Player) -> str:
    if player.away_until:
        return tr("away until {date}", date=player.away_until)
    return tr("full") if player.status is Status.FULL else tr(player.status)


def _earlier(player: Player, changes: Sequence[RosterChange]) -> str:
    worn = [c for c in changes if c.player == player.id and c.field is RosterField.NUMBER]
    return ", ".join(
        tr("{number} until {day}", number=change.was, day=in_full(change.day)) for change in worn
    )


def _since(player: Player, changes: Sequence[RosterChange]) -> str:
    left = [change.day for change in changes if change.player == player.id and change.leaves]
    return f", {in_full(left[-1])}" if left else ""
