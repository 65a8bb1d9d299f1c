"""The cells of a table that somebody pastes, and which column holds what."""

import csv
import io
import re
from collections.abc import Callable, Sequence
from enum import StrEnum
from itertools import zip_longest

from evaltrack.errors import IntakeError
from evaltrack.intake.csv_text import unmarked
from evaltrack.intake.roster import is_position, jersey_number
from evaltrack.intake.text import folded
from evaltrack.language import tr
from evaltrack.rink.player import BETWEEN, ON_TEAM

LONGEST_PASTE = 20_000  # characters


class Column(StrEnum):
    """What a column of a roster holds."""

    NUMBER = "number"
    NAME = "name"
    FIRST = "first"
    LAST = "last"
    POSITION = "position"
    BIRTH_YEAR = "birth_year"
    STATUS = "status"


_HEADINGS = {
    Column.NUMBER: (
        "number",
        "no",
        "no.",
        "nr",
        "nr.",
        "num",
        "#",
        "jersey",
        "jersey number",
        "jersey no",
        "numéro",
        "numero",
        "chandail",
        "numéro de chandail",
    ),
    Column.NAME: ("name", "player", "player name", "full name", "nom", "joueur", "joueuse", "nom complet"),
    Column.FIRST: ("first", "first name", "given name", "prénom", "prenom"),
    Column.LAST: ("last", "last name", "surname", "family name", "nom de famille"),
    Column.POSITION: ("position", "pos", "pos.", "poste"),
    Column.BIRTH_YEAR: (
        "birth year",
        "year of birth",
        "year",
        "born",
        "yob",
        "année de naissance",
        "naissance",
        "année",
    ),
    Column.STATUS: ("status", "statut"),
}
_COLUMN_OF = {word: column for column, words in _HEADINGS.items() for word in words}
_USUAL = (Column.NUMBER, Column.NAME, Column.POSITION, Column.BIRTH_YEAR, Column.STATUS)


def cells_of(text: str) -> list[list[str]]:
    """Return the rows of a pasted table that are not empty, each cell trimmed.

    Raises
    ------
    IntakeError : it is far too long.
    """
    text = text.removeprefix("\ufeff")
    if len(text) > LONGEST_PASTE:
        raise IntakeError(
            [tr("{number} characters are no roster; copy the lines of the players alone", number=len(text))]
        )
    separator = next((one for one in "\t;," if one in text), None)
    if separator is None:
        rows = map(_spaced, text.splitlines())
    else:
        # a quotation mark that does not close would swallow all that follows it
        quoting = csv.QUOTE_NONE if text.count('"') % 2 else csv.QUOTE_MINIMAL
        rows = csv.reader(io.StringIO(text, newline=""), delimiter=separator, quoting=quoting)
    trimmed = ([unmarked(folded(cell)) for cell in row] for row in rows)
    found = [row for row in trimmed if any(row)]
    return found[1:] if found and found[0][0].casefold().startswith("sep=") else found


def columns_of(rows: Sequence[Sequence[str]]) -> tuple[list[Column | None], int]:
    """Return what each column holds, and how many rows are a header: 0 or 1."""
    if not rows:
        return [], 0
    named = [_COLUMN_OF.get(_heading(cell)) for cell in rows[0]]
    if any(named) and not any(map(_is_number, rows[0])):
        return named, 1
    return _guessed(list(zip_longest(*rows, fillvalue=""))), 0


def tidied(number: str) -> str:
    """Return a number without the sign and the decimals that spreadsheets give it."""
    return number.removeprefix("#").removesuffix(".0").strip()


def turned_round(name: str) -> str:
    """Return a name written as ``Fern, Petra`` as ``Petra Fern``; any other as it is."""
    last, comma, first = name.partition(",")
    turns = comma and last.strip() and first.strip() and "," not in first
    return f"{first.strip()} {last.strip()}" if turns else name


def _heading(cell: str) -> str:
    return cell.casefold().replace("_", " ").replace("-", " ").strip()


def _guessed(columns: Sequence[Sequence[str]]) -> list[Column | None]:
    found: list[Column | None] = [None] * len(columns)
    for kind, fits, everybody in _KINDS:
        shares = [_share(c, fits, everybody) if found[i] is None else 0.0 for i, c in enumerate(columns)]
        best = max(range(len(columns)), key=lambda i: (shares[i], -i))
        if shares[best] >= 0.5:
            found[best] = kind
    if Column.NUMBER not in found and len(columns) >= 3:  # so that a fault is told where it is
        return [*_USUAL, *[None] * len(columns)][: len(columns)]
    return _with_names(found, columns)


def _with_names(found: list[Column | None], columns: Sequence[Sequence[str]]) -> list[Column | None]:
    """Take the first column of words for names, and those right beside it: first and last name."""
    named = False
    for place, cells in enumerate(columns):
        if found[place] is None and _share(cells, _has_letters, False) > 0.5:
            found[place], named = Column.NAME, True
        elif named:
            break
    return found


def _share(cells: Sequence[str], fits: Callable[[str], bool], everybody: bool) -> float:
    filled = [cell for cell in cells if cell]
    of = len(cells) if everybody else len(filled)
    return sum(map(fits, filled)) / of if of else 0.0


def _is_number(cell: str) -> bool:
    return jersey_number(tidied(cell)) is not None


def _has_letters(cell: str) -> bool:
    return any(map(str.isalpha, cell))


def _is_year(cell: str) -> bool:
    return re.fullmatch("(19|20)[0-9]{2}", cell) is not None


def _is_status(cell: str) -> bool:
    return cell.casefold() in ON_TEAM


_KINDS = (  # a kind, what is one, and whether everybody has one
    (Column.NUMBER, _is_number, True),
    (Column.POSITION, is_position, True),
    (Column.BIRTH_YEAR, _is_year, False),
    (Column.STATUS, _is_status, False),
)


def _spaced(line: str) -> list[str]:
    """Return number, name and position of a line with nothing but blanks between its words."""
    words = re.sub(rf"\s*{BETWEEN}\s*", BETWEEN, line).split()
    number = [words.pop(0)] if words and _is_number(words[0].rstrip(".)")) else [""]
    position = [words.pop()] if len(words) > 1 and is_position(words[-1]) else [""]
    return [number[0].rstrip(".)"), " ".join(words), position[0]]
