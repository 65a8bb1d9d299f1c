"""What stands for the text of a page, so that a page that was changed after it was read is a draft again."""

from hashlib import sha256

from evaltrack.analysis.standings.standing import PathPoint
from evaltrack.rink.note_life import ReadMark
from evaltrack.words.family.sheet import FamilySheet, SkillRow

_LENGTH = 16  # hexadecimal digits
_PLACES = 2  # of a share: finer than anybody sees on a chart


def read_mark(page: FamilySheet, drafted: FamilySheet) -> ReadMark:
    """Return the marks of a page, and of the same page before any edit.

    Two pages have one mark when a family reads the same on them and sees the same on their charts. Whether
    the page carries the word draft, and what only the coach is told, does not count.
    """
    return ReadMark(_mark(page), _mark(drafted))


def _mark(page: FamilySheet) -> str:
    said = (
        (page.team, page.number, page.name, page.position, page.language),
        (page.axis.first, page.axis.last, page.meeting, page.coach),
        [(part.heading, [sentence.text for sentence in part.sentences]) for part in page.parts],
        [_shown(row) for row in page.rows],
        (page.how_to_read, page.thin, page.footers),
    )
    return sha256(repr(said).encode()).hexdigest()[:_LENGTH]


def _shown(row: SkillRow) -> tuple:
    words = (row.name, row.looks_like, row.count, row.share, row.direction, row.level, row.chart_words)
    return (*words, [(one.on, one.tries, one.done) for one in row.seen], [_point(one) for one in row.path])


def _point(point: PathPoint) -> tuple:
    shares = (point.share, point.low, point.high, point.low50, point.high50)
    return (point.on, *(f"{share:.{_PLACES}f}" for share in shares))
