"""Who has not been watched enough, in words."""

from collections.abc import Sequence

from evaltrack.analysis.standings.standing import Coverage
from evaltrack.language import mark, tr, tr_many
from evaltrack.words.wording import counted, missing_words

NOTHING_KNOWN = mark("Nothing can be told yet: watch any skill at two practices or more.")
ALL_KNOWN = mark("Of everyone who is not away, every share that can be told is known well enough.")
NOBODY = mark(
    "There is nobody to watch here: the team is empty, or this skill is not of that player's position."
)
HOW_CHOSEN = mark(
    "Who was never seen comes first, then who has the fewest tries. Whoever is away, or known well enough "
    "(to 15 points either way), is left out, and so are skills that were watched too little to say anything."
)


def why_nobody(rows: Sequence[Coverage]) -> str:
    """Return why there is nobody to watch next among all these rows."""
    return tr(ALL_KNOWN) if any(row.known for row in rows) else tr(NOTHING_KNOWN)


def last_seen_words(row: Coverage) -> str:
    """Return how long before the season's last practice a player was last seen: ``12 days``, or ``never``."""
    return tr("never") if row.days_since is None else counted(row.days_since, "day")


def watched_words(row: Coverage) -> str:
    """Return how much a player was watched in a skill, and when last, counted to the last practice."""
    if not row.tries:
        return tr("never seen")
    counts = {"tries": counted(row.tries, "try", "tries"), "practices": counted(row.practices, "practice")}
    if not row.days_since:
        return tr("{tries} at {practices}, last seen at the last practice", **counts)
    days = counted(row.days_since, "day")
    return tr("{tries} at {practices}, last seen {days} before the last practice", days=days, **counts)


def more_words(row: Coverage) -> str:
    """Return how many more tries would make the share known to 15 points either way, if that can be told.

    What is missing for a call comes first.
    """
    if not row.tries:
        return tr("nothing is known of them")
    if any(row.missing):
        return tr("a call needs {missing}", missing=missing_words(row))
    if row.to_go is None:
        return tr("as many tries again may not be enough")
    if not row.to_go:
        return tr("known well enough")
    more = counted(row.to_go, "more try", "more tries")
    return tr("known well enough after about {tries}", tries=more)


def known_words(rows: Sequence[Coverage]) -> str:
    """Return how much is known of a skill, of which these are the rows."""
    if not any(row.known for row in rows):
        tries = sum(row.tries for row in rows)
        if not tries:
            return tr("not watched yet")
        return tr("watched too little to say: {tries}", tries=counted(tries, "try", "tries"))
    enough, never = sum(row.to_go == 0 for row in rows), sum(row.tries == 0 for row in rows)
    players = counted(len(rows), "player")
    said = tr_many(
        "{number} of {players} known to 15 points either way",
        "{number} of {players} known to 15 points either way",
        enough,
        players=players,
    )
    return tr("{known}; {number} not seen yet", known=said, number=never) if never else said
