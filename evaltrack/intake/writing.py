"""tallies.csv written in the form in which it is read, for its owner alone."""

from collections.abc import Iterable
from datetime import date, datetime
from pathlib import Path

from evaltrack.intake import tallies
from evaltrack.intake.csv_text import csv_text
from evaltrack.intake.saving import save
from evaltrack.rink.player import Player
from evaltrack.rink.practice import Practice
from evaltrack.rink.tally import Tally

_PRESSURE = {None: "", True: "yes", False: "no"}
_ONE_TRY = (*tallies.REQUIRED, "pressure", "observer", "time")


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
    save(Path(path), csv_text(_ONE_TRY, lines).encode("utf-8"))


def _time(tally: Tally, day: date) -> str:
    if tally.at == tallies.wall_clock_ms(day, None):
        return ""
    moment = datetime.fromtimestamp(tally.at // 1000)
    return moment.strftime("%H:%M:%S") if moment.date() == day else ""
