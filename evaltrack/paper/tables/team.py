"""The team in each skill: to read, and for other programs."""

from collections.abc import Iterable, Mapping
from dataclasses import fields
from textwrap import wrap

from evaltrack.analysis.standings.team_skill import TeamSkill
from evaltrack.paper.tables.for_programs import json_text, plain_row, rows_csv
from evaltrack.words.team import cost_sentences, team_sentences

COLUMNS = tuple(field.name for field in fields(TeamSkill) if field.name != "costs")
_WIDE = 100  # characters of a line


def as_csv(rows: Iterable[TeamSkill]) -> str:
    """Return a line for each skill with the columns of ``COLUMNS``; what steps cost has none."""
    return rows_csv(COLUMNS, rows)


def as_json(rows: Iterable[TeamSkill]) -> str:
    """Return the skills as a list of objects; each has a list of what its steps and pressure cost."""
    return json_text([plain_row(row) | {"costs": [plain_row(cost) for cost in row.costs]} for row in rows])


def as_table(rows: Iterable[TeamSkill], steps: Mapping[str, str]) -> str:
    """Return each skill with its sentences under it; ``steps`` names steps by ``drill/step``."""
    lines = []
    for row in rows:
        lines += [row.skill]
        for sentence in (*team_sentences(row), *cost_sentences(row, steps)):
            lines += wrap(sentence, _WIDE, initial_indent="  ", subsequent_indent="    ")
    return "\n".join([*lines, ""]) if lines else ""
