"""A roster before it is saved: lines typed, pasted or read from a file, with their faults."""

from collections.abc import Iterable, Sequence
from itertools import zip_longest
from pathlib import Path
from typing import NamedTuple

from evaltrack.errors import IntakeError
from evaltrack.intake.pasted_table import Column, cells_of, columns_of, tidied, turned_round
from evaltrack.intake.roster import MOST_PLAYERS, player_in
from evaltrack.intake.text import read_text, shown
from evaltrack.language import tr
from evaltrack.rink.player import Player

MOST_LINES = 2 * MOST_PLAYERS  # of one paste: more than that is no roster


class RosterLine(NamedTuple):
    """One line as somebody wrote it, right or wrong."""

    number: str = ""
    name: str = ""
    position: str = ""
    birth_year: str = ""
    status: str = ""


class JudgedLine(NamedTuple):
    """A line with the player it stands for, or with everything that is wrong with it."""

    line: RosterLine
    player: Player | None
    complaints: tuple[str, ...]


class Pasted(NamedTuple):
    """The lines of a paste, and a sentence for each thing that was left out or changed in them."""

    lines: list[RosterLine]
    remarks: list[str]


def judged(lines: Iterable[RosterLine]) -> list[JudgedLine]:
    """Return each line with its player or its complaints; they count lines from 1."""
    line_of: dict[str, int] = {}
    found = []
    for place, line in enumerate(lines, 1):
        complaints: list[str] = []
        row = {name: value.strip() for name, value in line._asdict().items()}
        player = player_in(row, complaints.append, line_of, place)
        if place > MOST_PLAYERS:
            complaints.append(
                tr(
                    "this is player {count}; a roster holds at most {most}",
                    count=place,
                    most=MOST_PLAYERS,
                )
            )
        found.append(JudgedLine(line, None if complaints else player, tuple(complaints)))
    return found


def read_lines(path: Path) -> Pasted:
    """Return the lines of a file, as they would be pasted.

    Raises
    ------
    IntakeError : it is no text, or no roster.
    """
    return pasted(read_text(path))


def pasted(text: str) -> Pasted:
    """Return the lines of a table with commas, semicolons, tabs or blanks between, with a header or without.

    Raises
    ------
    IntakeError : there is nothing in it, or far too much.
    """
    rows = cells_of(text)
    if len(rows) > MOST_LINES:
        raise IntakeError(
            [tr("{number} lines are no roster; copy the lines of the players alone", number=len(rows))]
        )
    columns, headed = columns_of(rows)
    body = rows[headed:]
    if not body:
        raise IntakeError([tr("there is no player in it; copy number, name and position of each")])
    remarks = _left_out(columns, rows[0] if headed else (), body)
    lines = [_line(row, columns) for row in body]
    if lines != (plain := [line._replace(name=turned_round(line.name)) for line in lines]):
        remarks.append(tr("Names with a comma were turned round, first name first."))
    return Pasted(plain, remarks)


def _left_out(
    columns: Sequence[Column | None], header: Sequence[str], body: Sequence[Sequence[str]]
) -> list[str]:
    """Say what of a table is in no line: columns that mean nothing here, and cells under no heading."""
    unknown = [name for name, column in zip(header, columns, strict=False) if name and column is None]
    remarks = [tr("Left out: the column {names}.", names=", ".join(map(shown, unknown)))] if unknown else []
    named = [column or name for column, name in zip_longest(columns, header)]
    stray = [cell for row in body for cell, name in zip_longest(row, named) if cell and not name]
    return remarks + (
        [tr("Left out, for want of a heading: {cells}.", cells=", ".join(map(shown, stray[:3])))]
        if stray
        else []
    )


def _line(row: Sequence[str], columns: Sequence[Column | None]) -> RosterLine:
    parts: dict[Column, list[str]] = {column: [] for column in Column}
    for cell, column in zip(row, columns, strict=False):
        if column and cell:
            parts[column].append(cell)
    name = [*parts[Column.FIRST], *parts[Column.NAME], *parts[Column.LAST]]
    return RosterLine(
        tidied(" ".join(parts[Column.NUMBER])),
        " ".join(name),
        *(" ".join(parts[column]) for column in (Column.POSITION, Column.BIRTH_YEAR, Column.STATUS)),
    )
