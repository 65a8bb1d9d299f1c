"""What is said of a season that was closed, where a command is for children."""

from evaltrack.errors import EvaltrackError
from evaltrack.language import mark, tr
from evaltrack.rink.days import in_full

_CLOSED = mark(
    "this season was closed on {day} and knows no child any more; what the team did is told by "
    '"evaltrack season {file}" and "evaltrack standings {file} --team"'
)


def refuse_closed(season) -> None:
    """Raise EvaltrackError where a season has forgotten its children."""
    if words := closed_words(season):
        raise EvaltrackError(words)


def closed_words(season) -> str:
    """Say that a season was closed, and where its figures are; nothing of one that was not."""
    day = season.life.closed()
    return tr(_CLOSED, day=in_full(day), file=season.path) if day else ""
