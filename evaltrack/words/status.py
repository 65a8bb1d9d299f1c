"""How a player's status reads on a screen."""

from datetime import date

from evaltrack.language import tr
from evaltrack.rink.days import weekday_and_short_date
from evaltrack.rink.player import Player, Status


def status_words(player: Player, today: date) -> str:
    """Return ``limited``, ``away until Tue 20 Jan``, ``back since Tue 20 Jan``; nothing for one in full."""
    if player.status is Status.FULL:
        return ""
    if player.away_until is None:
        return tr(player.status)
    day = weekday_and_short_date(player.away_until, today)
    return tr("away until {day}", day=day) if player.is_away(today) else tr("back since {day}", day=day)
