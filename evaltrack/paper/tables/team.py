"""The team in each skill: to read, and for other programs."""

from collections.abc import Iterable, Iterator, Mapping
from textwrap import wrap

from evaltrack.analysis.team.course import TeamCourse
from evaltrack.intake.csv_text import csv_text
from evaltrack.language import Language, speaking, tr
from evaltrack.paper.tables.for_programs import json_text, plain, plain_rows
from evaltrack.words.team import IN_BRACKETS, TEAM_MEANING, cost_lines, reached_lines, team_lines

_ESTIMATES = ("share", "low", "high", "start_share", "change", "change_low", "change_high")
COLUMNS = ("skill", "players", "tries", "done", "practices", *_ESTIMATES, "trend", "doubt")
_WIDE = 100  # characters of a line


@speaking(Language.ENGLISH)
def as_csv(courses: Iterable[TeamCourse]) -> str:
    """Return a line for each skill with the columns of ``COLUMNS``; what steps cost has none."""
    return csv_text(COLUMNS, ([row[name] for name in COLUMNS] for row in map(plain_course, courses)))


@speaking(Language.ENGLISH)
def as_json(courses: Iterable[TeamCourse]) -> str:
    """Return the skills as a list of objects, each as the season's JSON has it under ``team``."""
    return json_text([plain_course(one) for one in courses])


def plain_course(one: TeamCourse) -> dict[str, object]:
    """Return the columns of a skill and lists of the path, what was seen on each day, and the costs.

    What must not be shown is None: the share, its change and the bounds of both.
    """
    shown = _figures(one) if one.path else dict.fromkeys(_ESTIMATES)
    row = {name: plain(shown[name] if name in shown else getattr(one, name)) for name in COLUMNS}
    return row | {name: plain_rows(getattr(one, name)) for name in ("path", "seen", "costs")}


def _figures(one: TeamCourse) -> dict[str, float]:
    now, change = one.path[-1], (one.change, one.change_low, one.change_high)
    return dict(zip(_ESTIMATES, (now.share, now.low, now.high, one.path[0].share, *change), strict=True))


def as_table(courses: Iterable[TeamCourse], steps: Mapping[str, str]) -> str:
    """Return each skill with its sentences under it; ``steps`` names steps by ``drill/step``."""
    told = [line for one in courses for line in _told(one, steps)]
    text = "\n".join([*told, *wrap(f"{tr(TEAM_MEANING)} {tr(IN_BRACKETS)}", _WIDE), ""]) if told else ""
    return text.replace("\N{NO-BREAK SPACE}", " ")


def _told(one: TeamCourse, steps: Mapping[str, str]) -> Iterator[str]:
    yield one.skill
    for line in (*team_lines(one), *reached_lines(one), *cost_lines(one, steps)):
        yield from wrap(line, _WIDE, initial_indent="  ", subsequent_indent="    ")
