"""meeting_wishes.csv: what is wished of the families' meetings, one wish to a line."""

from collections.abc import Iterable, Mapping
from datetime import time
from pathlib import Path
from uuid import UUID

from evaltrack.intake.roster import jersey_number, number_fault
from evaltrack.intake.table import read_rows
from evaltrack.intake.text import Complaints, meant, shown
from evaltrack.language import tr
from evaltrack.rink.meeting_evening import (
    MOST_WISHES,
    OF_A_TIME,
    OF_ANOTHER,
    MeetingWish,
    MeetingWishKind,
)
from evaltrack.rink.player import Player

COLUMNS = ("player", "wish")
OPTIONAL = ("value",)
_KINDS = {str(kind): kind for kind in MeetingWishKind}


def read_meeting_wishes(
    path: str | Path, roster: Iterable[Player], tables: int, starts: Iterable[time]
) -> list[MeetingWish]:
    """Return the wishes of a file, with the columns ``player,wish,value``, in its order.

    A wish is one of `MeetingWishKind`; its value a time as 18:30, a table from 1, another player's number, or
    nothing.

    Parameters
    ----------
    tables : how many there are.
    starts : the times at which meetings can begin, so that ``at`` names one of them.

    Raises
    ------
    IntakeError : the file cannot be used; every bad line is told.
    """
    complaints = Complaints(path)
    reader = _Reader({p.number: p.id for p in roster}, tables, sorted(starts), complaints)
    rows = read_rows(path, COLUMNS, OPTIONAL, complaints)
    found = [wish for line, row in rows if (wish := reader.wish(line, row))]
    if len(found) > MOST_WISHES:
        raise complaints.refuse(
            0,
            tr("it has more than {number} wishes; keep those that matter most", number=MOST_WISHES),
        )
    complaints.raise_any()
    return found


class _Reader:
    """Turns rows into wishes, and complains of what is none."""

    def __init__(self, roster: Mapping[str, UUID], tables: int, starts: list[time], complaints: Complaints):
        self._roster, self._tables, self._starts = roster, tables, starts
        self._complaints = complaints

    def wish(self, line: int, row: dict[str, str]) -> MeetingWish | None:
        """Return the wish of a row; None where it has been complained of."""
        kind = _KINDS.get(" ".join(row["wish"].casefold().replace("_", " ").split()))
        if kind is None:
            self._complaints.add(
                line,
                tr(
                    "{text} is no wish; write one of: {words}",
                    text=shown(row["wish"]),
                    words=", ".join(_KINDS),
                ),
            )
        player, value = self._player(line, row["player"]), row.get("value", "")
        if kind is None:
            return None
        said = self._said(line, kind, value, player)
        return None if player is None or said is None else MeetingWish(kind, player, **said)

    def _said(self, line: int, kind: MeetingWishKind, value: str, player: UUID | None) -> dict | None:
        """Return what the value says; None where it has been complained of."""
        if kind in OF_ANOTHER:
            other = self._player(line, value)
            if other is not None and other == player:
                self._complaints.add(
                    line, tr("the wish is about two players, and {number} stands here twice", number=value)
                )
                return None
            return None if other is None else {"other": other}
        if kind in OF_A_TIME:
            at = self._time(line, kind, value)
            return None if at is None else {"at": at}
        if kind is MeetingWishKind.TABLE:
            return self._table(line, value)
        if value:
            self._complaints.add(
                line, tr("{kind} needs no value; take {text} out", kind=kind, text=shown(value))
            )
            return None
        return {}

    def _time(self, line: int, kind: MeetingWishKind, value: str) -> time | None:
        try:
            at = time.fromisoformat(value.zfill(5))
        except ValueError:
            at = None
        if at is None or at.tzinfo or at.second or at.microsecond:
            self._complaints.add(line, tr("{text} is no time of day; write it as 18:30", text=shown(value)))
            return None
        if kind is MeetingWishKind.AT and at not in self._starts:
            self._complaints.add(
                line, tr("no meeting begins at {at}; {near}", at=_as_typed(at), near=self._near(at))
            )
            return None
        return at

    def _near(self, at: time) -> str:
        around = [max((s for s in self._starts if s < at), default=None)]
        around.append(min((s for s in self._starts if s > at), default=None))
        clocks = [_as_typed(one) for one in around if one]
        if len(clocks) == 2:
            return tr("write {first} or {second}", first=clocks[0], second=clocks[1])
        return tr("write {times}", times="".join(clocks))

    def _table(self, line: int, value: str) -> dict | None:
        digits = value.lstrip("0")[:4] if value.isascii() and value.isdigit() else ""
        if digits and int(digits) <= self._tables:
            return {"table": int(digits)}
        if self._tables == 1:
            fault = tr("there is no table {text}; the only table is 1", text=shown(value))
        else:
            fault = tr(
                "there is no table {text}; the tables are 1 to {most}", text=shown(value), most=self._tables
            )
        self._complaints.add(line, fault)
        return None

    def _player(self, line: int, raw: str) -> UUID | None:
        number = jersey_number(raw)
        if number is None:
            self._complaints.add(line, number_fault(raw))
        elif number not in self._roster:
            which = meant(number, list(self._roster))
            self._complaints.add(
                line, tr("there is no player {text} on the roster{meant}", text=number, meant=which)
            )
        return self._roster.get(number or "")


def _as_typed(at: time) -> str:
    """Return a time as it is written in the file, in every language."""
    return f"{at:%H:%M}"
