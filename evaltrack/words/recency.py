"""What is old, in words: few or no tries of late. No interval knows of a player who changed since."""

from evaltrack.analysis.standings.standing import Standing
from evaltrack.language import tr, tr_many
from evaltrack.words.wording import FRESH_DAYS, is_firm, short_date

LATE = 1 / 3  # of the player's own time
FEW = 1 / 4  # of the tries; of those who are watched evenly, one in seven have fewer in it by luck alone


def recency_words(standing: Standing) -> str:
    """Return ``5 of 37 tries since 12 Jan`` or ``last seen on 30 Nov``; empty unless recent tries are few.

    Few are under a quarter of the tries in the last third of the player's own time, or none in its last two
    weeks. Where nothing can be said of the share, nothing is said of its age either.
    """
    if not (is_firm(standing) and standing.path and standing.seen):
        return ""
    first, now, last = standing.path[0].on, standing.path[-1].on, standing.seen[-1].on
    since = now - LATE * (now - first)
    recent = sum(seen.tries for seen in standing.seen if seen.on >= since)
    if 0 < recent < FEW * standing.tries:
        day = short_date(since)
        return tr_many(
            "{number} of {tries} tries since {day}",
            "{number} of {tries} tries since {day}",
            recent,
            tries=standing.tries,
            day=day,
        )
    if not recent or (now - last).days > FRESH_DAYS:
        return tr("last seen on {day}", day=short_date(last))
    return ""
