"""Which part of a share's path is drawn: nothing is told of days on which nobody saw the player."""

from datetime import date

from evaltrack.analysis.standings.standing import PathPoint, Standing
from evaltrack.words.wording import is_firm


def curve(standing: Standing, until_now: bool = False) -> tuple[PathPoint, ...]:
    """Return the path from the first day on which the player was seen in the skill to the last.

    With ``until_now`` it goes on to the day for which the share is told. Empty where no share may be told.
    """
    if not (is_firm(standing) and standing.seen):
        return ()
    days = [seen.on for seen in standing.seen if seen.tries]
    last = date.max if until_now else max(days)
    return tuple(point for point in standing.path if min(days) <= point.on <= last)
