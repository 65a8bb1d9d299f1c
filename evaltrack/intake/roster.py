"""The roster: roster.csv turned into players."""

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from evaltrack.intake.csv_text import csv_text
from evaltrack.intake.table import read_rows
from evaltrack.intake.text import Complaints, folded, meant, name_fault, shown
from evaltrack.language import tr
from evaltrack.rink.days import SEASON_YEARS
from evaltrack.rink.player import BETWEEN, ON_TEAM, Player, Position, Status, status_in

REQUIRED = ("number", "name", "position")
OPTIONAL = ("birth_year", "status")
MOST_PLAYERS = 40
LONGEST_NAME = 60
_OLDEST, _YOUNGEST = 30, 3  # a wide guess at the age of anyone on a youth team, to catch slips of the pen

_WORDS = {
    Position.DEFENCE: (
        "d defence defense defender defenceman defenseman defencewoman defensewoman ld rd "
        "défense défenseur défenseure defenseur defenseure"
    ),
    Position.FORWARD: (
        "f forward wing winger w lw rw c centre center centreman centerman "
        "attaquant attaquante ailier ailière avant"
    ),
    Position.GOALIE: "g goalie goaltender goalkeeper netminder gardien gardienne",
}
_POSITIONS = {word: position for position, words in _WORDS.items() for word in words.split()} | {
    f"{side} {word}": position
    for side in ("left", "right")
    for word, position in (
        ("defence", Position.DEFENCE),
        ("defense", Position.DEFENCE),
        ("wing", Position.FORWARD),
    )
}
_LIKE_DIGITS = str.maketrans("OoQlI|", "000111")

Complain = Callable[[str], None]


@dataclass(frozen=True)
class RosterFile:
    """A roster.csv: its players in its order, each with a fresh id; the line of each number.

    ``columns`` names the optional columns that it has: of the others it says nothing.
    """

    path: Path
    players: tuple[Player, ...]
    lines: dict[str, int]
    columns: frozenset[str]

    def complaints(self) -> Complaints:
        """Return where to complain of it."""
        return Complaints(self.path)


def read_roster(path: str | Path) -> list[Player]:
    """Return the players of a roster.csv, in its order, each with a fresh id; raises as below."""
    return list(read_roster_file(path).players)


def read_roster_file(path: str | Path) -> RosterFile:
    """Return a roster.csv, whole.

    Raises
    ------
    IntakeError : every fault of the file, each with its line.
    """
    complaints = Complaints(path)
    players: list[Player] = []
    line_of: dict[str, int] = {}
    columns: frozenset[str] = frozenset()
    count = 0
    for line, row in read_rows(path, REQUIRED, OPTIONAL, complaints):
        count += 1
        columns = frozenset(row) & frozenset(OPTIONAL)
        player = player_in(row, lambda text, line=line: complaints.add(line, text), line_of, line)
        if player:
            players.append(player)
        if count == MOST_PLAYERS + 1:
            complaints.add(
                line,
                tr(
                    "this is player {count}; a roster holds at most {most}",
                    count=count,
                    most=MOST_PLAYERS,
                ),
            )
    if not count:
        complaints.add(0, tr("there is no player in it; add one line for each"))
    complaints.raise_any()
    return RosterFile(Path(path), tuple(players), line_of, columns)


def roster_text(players: Iterable[Player]) -> str:
    """Return players as a roster.csv, in their order; reading it gives the same players."""
    rows = [(p.number, p.name, p.position_text, p.birth_year, p.status_text) for p in players]
    return csv_text((*REQUIRED, *OPTIONAL), rows)


def jersey_number(text: str) -> str | None:
    """Return the number as it is worn: ``07`` is 7, but 0 and 00 differ. None when it is not a number."""
    if not re.fullmatch("[0-9]{1,3}", text):
        return None
    return text.lstrip("0") or text


def number_fault(text: str) -> str:
    """Say what is wrong with a jersey number."""
    if not text:
        return tr("the number is missing; write the one on the jersey")
    plain = text.removeprefix("#").removesuffix(".0").strip().translate(_LIKE_DIGITS)
    if jersey_number(plain):
        return tr("{text} is not a jersey number; did you mean {plain}?", text=shown(text), plain=plain)
    return tr("{text} is not a jersey number; write one to three digits", text=shown(text))


def is_position(text: str) -> bool:
    """Say whether this is a word for a position, or for two with a stroke between."""
    return None not in _named(text)


def player_in(row: dict[str, str], complain: Complain, line_of: dict[str, int], line: int) -> Player | None:
    """Read one line, whole, so that every fault in it is told; None when there is one.

    ``line_of`` has the line of each number before, and is given that of this one.
    """
    number = _number(row["number"], complain, line_of, line)
    name = _name(row["name"], complain)
    positions = _positions(row["position"], complain)
    birth_year = _birth_year(row.get("birth_year", ""), complain)
    status = _status(row.get("status", ""), complain)
    if number and name and positions and status:
        first, also = (*positions, None)[:2]
        return Player(number, name, first, birth_year, status[0], away_until=status[1], also=also)
    return None


def _number(text: str, complain: Complain, line_of: dict[str, int], line: int) -> str | None:
    number = jersey_number(text)
    if number is None:
        complain(number_fault(text))
    elif number in line_of:
        complain(
            tr(
                "number {number} stands in line {line:d} too; every player needs one of their own",
                number=number,
                line=line_of[number],
            )
        )
    else:
        line_of[number] = line
    return number


def _name(text: str, complain: Complain) -> str | None:
    name = folded(text)
    fault = name_fault(name, tr("the name"), LONGEST_NAME) if name else tr("the name is missing; write it")
    if fault:
        complain(fault)
    return None if fault else name


def _positions(text: str, complain: Complain) -> list[Position]:
    """Return the position group, or both of one who plays both, the one that counts first; else none."""
    found = list(dict.fromkeys(_named(text)))
    if None in found:
        if text:
            what = tr(
                "{text} is not a position; write D, F or G, or D/F for one who plays both", text=shown(text)
            )
        else:
            what = tr("the position is missing; write D, F or G, or D/F for one who plays both")
        complain(what)
    elif len(found) > 1 and Position.GOALIE in found:
        complain(tr("{text} cannot be, since a goalie plays nothing else; write G, or D/F", text=shown(text)))
    else:
        return found
    return []


def _named(text: str) -> list[Position | None]:
    """Return what each word between strokes names: ``LW/RW`` names forward twice."""
    return [_POSITIONS.get(folded(word).casefold().replace("-", " ")) for word in text.split(BETWEEN)]


def birth_year_fault(text: str) -> str:
    """Say what is wrong with a year of birth; nothing where there is none, or a likely one."""
    first, last = _birth_years()
    if not text or (re.fullmatch("[0-9]{4}", text) and first <= int(text) <= last):
        return ""
    return tr("Type four digits from {first:d} to {last:d}, or none.", first=first, last=last)


def _birth_years() -> tuple[int, int]:
    this_year = date.today().year
    return this_year - _OLDEST, this_year - _YOUNGEST


def _birth_year(text: str, complain: Complain) -> int | None:
    """Return the year, or None when there is none. A full date is refused: no more than the year is kept."""
    if not text:
        return None
    if not birth_year_fault(text):
        return int(text)
    first, last = _birth_years()
    dated = re.fullmatch(
        r"([0-9]{4})[-/.][0-9]{1,2}[-/.][0-9]{1,2}|[0-9]{1,2}[-/.][0-9]{1,2}[-/.]([0-9]{4})", text
    )
    if dated:
        complain(
            tr(
                "{text} is a date; write the year alone, {year}: no more is kept",
                text=shown(text),
                year=dated[1] or dated[2],
            )
        )
    else:
        complain(
            tr(
                "{text} is not a year of birth; write four digits from {first:d} to {last:d}, or nothing",
                text=shown(text),
                first=first,
                last=last,
            )
        )
    return None


def _status(text: str, complain: Complain) -> tuple[Status, date | None] | None:
    word = folded(text).casefold()
    if word in ("", *ON_TEAM):
        return Status(word or Status.FULL), None
    if word.startswith("away until"):
        return _away_until(word, complain)
    if word == Status.LEFT:
        complain(tr("who has left has no line in a roster; take the line out"))
    else:
        complain(tr("{text} is not a status{meant}", text=shown(text), meant=meant(word, ON_TEAM)))
    return None


def _away_until(word: str, complain: Complain) -> tuple[Status, date | None] | None:
    day = word.removeprefix("away until").strip()
    try:
        status, until = status_in(word)
    except ValueError:
        complain(
            tr("{text} is not a day; write it like away until 2026-01-20, or away alone", text=shown(day))
        )
        return None
    if until and until.year not in SEASON_YEARS:
        complain(tr("{text} is in no season; mend the year", text=shown(day)))
        return None
    return status, until
