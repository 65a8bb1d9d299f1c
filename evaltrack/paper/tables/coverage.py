"""What is too little known and whom to watch next, as text and for other programs."""

from collections.abc import Collection, Sequence
from dataclasses import fields

from evaltrack.analysis.standings.standing import Coverage
from evaltrack.paper.tables.for_programs import json_text, plain_row, rows_csv
from evaltrack.words.wording import counted

COLUMNS = tuple(field.name for field in fields(Coverage))
_NEXT = 10
_LEGEND = (
    "Known to: half of the 90 % interval, in points. To go: how many more tries, spread over practices,",
    "would bring it to 15 points either way. In order of how much one more try narrows all intervals.",
)


def as_csv(rows: Sequence[Coverage]) -> str:
    """Return the rows with the columns of ``COLUMNS``; empty where there is no value."""
    return rows_csv(COLUMNS, rows)


def as_json(rows: Sequence[Coverage]) -> str:
    """Return the rows as a list of objects."""
    return json_text([plain_row(row) for row in rows])


def as_table(rows: Sequence[Coverage], away: Collection[str] = ()) -> str:
    """Return whom to watch next, how much is known of each skill, and what nobody watched.

    ``away`` are the numbers of players who cannot be watched now.
    """
    if not rows:
        return ""
    wanted = [row for row in rows if row.to_go and row.player not in away]
    wanted.sort(key=lambda row: -row.gain)
    known = any(row.to_go is not None for row in rows)
    lines = [*_next(wanted[:_NEXT], known), *_skills(rows), "", *_LEGEND]
    return "\n".join(lines) + "\n"


def _next(rows: Sequence[Coverage], known: bool) -> list[str]:
    if not known:
        return ["Nothing can be told yet: watch any skill at two practices or more.", ""]
    if not rows:
        return ["Of everyone who is not away, every share that can be told is known well enough.", ""]
    names, skills = (max(len(getattr(row, part)) for row in rows) for part in ("name", "skill"))
    lines = ["Whom to watch next", ""]
    lines.append(f"     {'player':<{names}}  {'skill':<{skills}}  tries  known to  to go")
    for row in rows:
        known = f"± {round(50 * (row.high - row.low))}"
        start = f"{row.player:>3}  {row.name:<{names}}  {row.skill:<{skills}}"
        lines.append(f"{start}  {row.tries:>5}  {known:>8}  {row.to_go:>5}")
    return [*lines, ""]


def _skills(rows: Sequence[Coverage]) -> list[str]:
    lines = ["How much is known of each skill", ""]
    keys = list(dict.fromkeys(row.skill for row in rows))
    width = max(len(key) for key in keys)
    for key in keys:
        own = [row for row in rows if row.skill == key]
        lines.append(f"     {key:<{width}}  {_known(own)}")
    return lines


def _known(rows: Sequence[Coverage]) -> str:
    if all(row.to_go is None for row in rows):
        tries = sum(row.tries for row in rows)
        return f"watched too little to say: {counted(tries, 'try', 'tries')}" if tries else "not watched yet"
    enough = sum(row.to_go == 0 for row in rows)
    said = f"{enough} of {counted(len(rows), 'player')} known to 15 points either way"
    more = sum(row.to_go for row in rows)
    return f"{said}; {counted(more, 'more try', 'more tries')} for the rest" if more else said
