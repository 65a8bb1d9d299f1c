"""wishes.csv: which players shall be in one group, and which shall not, or not again."""

from collections.abc import Collection
from pathlib import Path

from evaltrack.intake.roster import jersey_number, number_fault
from evaltrack.intake.table import read_rows
from evaltrack.intake.text import Complaints, meant, shown
from evaltrack.language import tr
from evaltrack.rink.plan import Wish, WishKind

COLUMNS = ("wish", "player", "other")
_KINDS = {str(kind).replace("_", " "): kind for kind in WishKind}


def read_wishes(path: str | Path, roster: Collection[str]) -> list[Wish]:
    """Return the wishes of a file, with the columns ``wish,player,other``.

    A wish is ``together``, ``apart``, or ``not again``.

    Parameters
    ----------
    roster : the numbers of the players.

    Raises
    ------
    IntakeError : the file cannot be used; every bad line is told.
    """
    complaints = Complaints(path)
    found = [
        wish
        for line, row in read_rows(path, COLUMNS, (), complaints)
        if (wish := _wish(line, row, roster, complaints))
    ]
    complaints.raise_any()
    return found


def _wish(line: int, row: dict[str, str], roster: Collection[str], complaints: Complaints) -> Wish | None:
    kind = _KINDS.get(row["wish"].casefold())
    if kind is None:
        complaints.add(
            line, tr("{text} is no wish; write together, apart or not again", text=shown(row["wish"]))
        )
    numbers = [_number(line, row[column], roster, complaints) for column in COLUMNS[1:]]
    if numbers[0] is not None and numbers[0] == numbers[1]:
        complaints.add(
            line, tr("a wish is about two players, and {number} stands here twice", number=numbers[0])
        )
        return None
    return None if kind is None or None in numbers else Wish(kind, *numbers)


def _number(line: int, raw: str, roster: Collection[str], complaints: Complaints) -> str | None:
    number = jersey_number(raw)
    if number is None:
        complaints.add(line, number_fault(raw))
    elif number not in roster:
        complaints.add(
            line,
            tr(
                "there is no player {text} on the roster{meant}",
                text=number,
                meant=meant(number, list(roster)),
            ),
        )
        return None
    return number
