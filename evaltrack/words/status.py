"""How a player's status reads on a screen."""

from datetime import date

from evaltrack.rink.days import in_short
from evaltrack.rink.player import Player, Status


def status_words(player: Player, today: date) -> str:
    """Return ``limited``, ``away until Tue 20 Jan``, ``back since Tue 20 Jan``; nothing for one in full."""
    if player.status is Status.FULL:
        return ""
    if player.away_until is None:
        return str(player.status)
    day = in_short(player.away_until, today).removesuffix(", not today")
    return f"away until {day}" if player.is_away(today) else f"back since {day}"
