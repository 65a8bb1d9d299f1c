"""Who has not been watched enough, in words."""

from collections.abc import Sequence

from evaltrack.analysis.standings.standing import Coverage
from evaltrack.words.wording import counted, missing_words

NOTHING_KNOWN = "Nothing can be told yet: watch any skill at two practices or more."
ALL_KNOWN = "Of everyone who is not away, every share that can be told is known well enough."
NOBODY = "There is nobody to watch here: the team is empty, or this skill is not of that player's position."
HOW_CHOSEN = (
    "Who was never seen comes first, then who has the fewest tries. Whoever is away, or known well enough "
    "(to 15 points either way), is left out, and so are skills that were watched too little to say anything."
)


def why_nobody(rows: Sequence[Coverage]) -> str:
    """Return why there is nobody to watch next among all these rows."""
    return ALL_KNOWN if any(row.known for row in rows) else NOTHING_KNOWN


def last_seen_words(row: Coverage) -> str:
    """Return how long before the season's last practice a player was last seen: ``12 days``, or ``never``."""
    return "never" if row.days_since is None else counted(row.days_since, "day")


def watched_words(row: Coverage) -> str:
    """Return how much a player was watched in a skill, and when last, counted to the last practice."""
    if not row.tries:
        return "never seen"
    seen = f"{counted(row.tries, 'try', 'tries')} at {counted(row.practices, 'practice')}"
    when = f"{last_seen_words(row)} before the last practice" if row.days_since else "at the last practice"
    return f"{seen}, last seen {when}"


def more_words(row: Coverage) -> str:
    """Return how many more tries would make the share known to 15 points either way, if that can be told.

    What is missing for a call comes first.
    """
    if not row.tries:
        return "nothing is known of them"
    if any(row.missing):
        return f"a call needs {missing_words(row)}"
    if row.to_go is None:
        return "as many tries again may not be enough"
    more = counted(row.to_go, "more try", "more tries")
    return f"known well enough after about {more}" if row.to_go else "known well enough"


def known_words(rows: Sequence[Coverage]) -> str:
    """Return how much is known of a skill, of which these are the rows."""
    if not any(row.known for row in rows):
        tries = sum(row.tries for row in rows)
        return f"watched too little to say: {counted(tries, 'try', 'tries')}" if tries else "not watched yet"
    enough, never = sum(row.to_go == 0 for row in rows), sum(row.tries == 0 for row in rows)
    said = f"{enough} of {counted(len(rows), 'player')} known to 15 points either way"
    return f"{said}; {never} not seen yet" if never else said
