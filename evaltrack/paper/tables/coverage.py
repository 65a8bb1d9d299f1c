"""Who has not been watched enough, as text and for other programs."""

from collections.abc import Collection, Sequence
from dataclasses import fields
from textwrap import wrap

from evaltrack.analysis.standings.standing import Coverage
from evaltrack.analysis.standings.watching import whom_to_watch
from evaltrack.language import tr
from evaltrack.paper.tables.for_programs import json_text, plain_row, rows_csv
from evaltrack.words.coverage import HOW_CHOSEN, known_words, last_seen_words, why_nobody

COLUMNS = tuple(field.name for field in fields(Coverage))
_NEXT = 10
_WIDE = 100  # characters of a line


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
    lines = [*_next(rows, away), *_skills(rows), "", *_legend()]
    return "\n".join(lines) + "\n"


def _legend() -> list[str]:
    return wrap(f"{tr(HOW_CHOSEN)} {tr('Days are from the last try to the last practice.')}", _WIDE)


def _next(rows: Sequence[Coverage], away: Collection[str]) -> list[str]:
    wanted = whom_to_watch(rows, away)
    if not wanted:
        return [why_nobody(rows), ""]
    shown = wanted[:_NEXT]
    names, skills = (max(len(getattr(row, part)) for row in shown) for part in ("name", "skill"))
    lines = [tr("Whom to watch next"), ""]
    tries, practices, seen = tr("tries"), tr("practices"), tr("last seen")
    lines.append(f"     {tr('player'):<{names}}  {tr('skill'):<{skills}}  {tries}  {practices}  {seen}")
    for row in shown:
        start = f"{row.player:>3}  {row.name:<{names}}  {row.skill:<{skills}}"
        counts = f"{row.tries:>{len(tries)}}  {row.practices:>{len(practices)}}"
        lines.append(f"{start}  {counts}  {last_seen_words(row):>{len(seen)}}")
    more = len(wanted) - len(shown)
    return [*lines, *(["     " + tr("and {number} more", number=more)] if more else []), ""]


def _skills(rows: Sequence[Coverage]) -> list[str]:
    lines = [tr("How much is known of each skill"), ""]
    keys = list(dict.fromkeys(row.skill for row in rows))
    width = max(len(key) for key in keys)
    for key in keys:
        own = [row for row in rows if row.skill == key]
        lines.append(f"     {key:<{width}}  {known_words(own)}")
    return lines
