"""roster.csv and tallies.csv written in the form in which they are read, for their owner alone."""

from collections.abc import Iterable, Sequence
from datetime import date, datetime
from pathlib import Path

from evaltrack.intake import roster, tallies
from evaltrack.intake.csv_text import csv_text
from evaltrack.intake.saving import save
from evaltrack.rink.player import Player
from evaltrack.rink.practice import Practice
from evaltrack.rink.tally import Tally

_PRESSURE = {None: "", True: "yes", False: "no"}
_ONE_TRY = (*tallies.REQUIRED, "pressure", "observer", "time")


def write_roster(path: str | Path, players: Iterable[Player]) -> None:
    """Write the players, in the given order, as a roster.csv. An existing file is replaced."""
    lines = [
        (player.number, player.name, player.position, player.birth_year or "", player.status)
        for player in players
    ]
    _write(path, (*roster.REQUIRED, *roster.OPTIONAL), lines)


def write_tallies(
    path: str | Path, tallied: Iterable[Tally], players: Iterable[Player], practices: Iterable[Practice]
) -> None:
    """Write tallies, in the given order, as a tallies.csv. An existing file is replaced.

    Parameters
    ----------
    tallied : the time goes out to the second, by this computer's time zone, and is left out where its
        date is not the practice's.
    players : everyone who has a tally; the file names them by number.
    practices : every practice that has a tally; the file has the day on which it was held.
    """
    days = {practice.key: practice.held_on for practice in practices}
    numbers = {player.id: player.number for player in players}
    lines = [
        (
            *(days[tally.practice], tally.drill, tally.step, tally.skill, numbers[tally.player]),
            *(tally.outcome, _PRESSURE[tally.pressure], tally.observer, _time(tally, days[tally.practice])),
        )
        for tally in tallied
    ]
    _write(path, _ONE_TRY, lines)


def _time(tally: Tally, day: date) -> str:
    if tally.at == tallies.wall_clock_ms(day, None):
        return ""
    moment = datetime.fromtimestamp(tally.at // 1000)
    return moment.strftime("%H:%M:%S") if moment.date() == day else ""


def _write(path: str | Path, header: Sequence[str], lines: Iterable[Sequence]) -> None:
    save(Path(path), csv_text(header, lines).encode("utf-8"))
