"""How a player stood at the end of last season, in one short comment that says what was counted."""

from collections.abc import Mapping, Sequence
from datetime import date
from uuid import UUID

from evaltrack.analysis.standings.standing import Standing
from evaltrack.language import tr
from evaltrack.rink.player import Player
from evaltrack.words.wording import call_words, count_words, long_date

LONGEST = 1_000  # characters; whoever has more skills than that has the rest left out


def comments_of(
    players: Sequence[Player], standings: Sequence[Standing], skills: Mapping[str, str], last: date
) -> dict[UUID, str]:
    """Return a comment for each player of whom something was firm enough for a call.

    Parameters
    ----------
    standings : of the whole season.
    skills : their names, by key.
    last : the day up to which was counted.
    """
    of_each = {player.id: _of(player, standings, skills) for player in players}
    return {player: _comment(parts, last) for player, parts in of_each.items() if parts}


def _of(player: Player, standings: Sequence[Standing], skills: Mapping[str, str]) -> list[str]:
    mine = [one for one in standings if (one.player, one.name) == (player.number, player.name) and one.judged]
    return [
        tr(
            "{skill} {count}, {call}",
            skill=skills[one.skill],
            count=count_words(one.done, one.tries),
            call=call_words(one),
        )
        for one in mine
    ]


def _comment(parts: Sequence[str], last: date) -> str:
    begun = tr("Last season, up to {day}: {skills}.", day=long_date(last), skills="; ".join(parts))
    if len(begun) <= LONGEST or len(parts) == 1:
        return begun[:LONGEST]
    return _comment(parts[:-1], last)


def comments_of_season(season, standings: Sequence[Standing]) -> dict[UUID, str]:
    """Return the comments on the players of an open season, up to its last practice; none without one."""
    held = [practice.held_on for practice in season.practices.all()]
    if not held:
        return {}
    skills = {skill.key: skill.name for skill in season.catalogue.skills(retired=True)}
    return comments_of(season.people.players(), standings, skills, max(held))
