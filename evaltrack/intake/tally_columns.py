"""What one value in a column of a tallies.csv means, or a fault that says why it cannot be read."""

import re
from collections.abc import Iterable
from datetime import date, time
from uuid import UUID

from evaltrack.intake.roster import jersey_number, number_fault
from evaltrack.intake.text import folded, meant, name_fault, shown
from evaltrack.language import mark, tr
from evaltrack.rink.days import SEASON_YEARS
from evaltrack.rink.practice import Practice
from evaltrack.rink.tally import Outcome

LONGEST_OBSERVER = 40
MOST_TIMES = 99  # more of one kind in one practice is a slip of the finger
_PRESSURE = {"": None, "yes": True, "no": False, "oui": True, "non": False}

_IN_FRENCH = {"réussi": Outcome.DONE.value, "raté": Outcome.MISSED.value, "non vu": Outcome.UNSEEN.value}
_UNKNOWN = {
    "drill": (mark("the drill is missing; write its key"), mark("there is no drill {text}{meant}")),
    "step": (
        mark("the step is missing; write its key"),
        mark("there is no step {text} in the drill `{drill}`{meant}"),
    ),
    "skill": (mark("the skill is missing; write its key"), mark("there is no skill {text}{meant}")),
    "player": (
        mark("the player is missing; write the number"),
        mark("there is no player {text} on the roster{meant}"),
    ),
}


class Fault(str):
    """Why a value cannot be read."""


def practice_of(raw: str) -> Practice | Fault:
    """Return the practice of a date, which is written as 2025-09-04.

    2025_09_04 is the same: a spreadsheet leaves it alone, while it rewrites a date in a form of its own.
    """
    day = _day(raw)
    return day if isinstance(day, Fault) else Practice(day.isoformat(), day)


def _day(raw: str) -> date | Fault:
    if not raw:
        return Fault(tr("the date is missing; write it as 2025-09-04"))
    if not re.fullmatch("[0-9]{4}([-_])[0-9]{2}\\1[0-9]{2}", raw):
        return Fault(
            tr(
                "{text} is not a date; write year, month and day as 2025-09-04, or as 2025_09_04 where a "
                "spreadsheet changes it",
                text=shown(raw),
            )
        )
    try:
        day = date.fromisoformat(raw.replace("_", "-"))
    except ValueError:
        return Fault(tr("there is no such day as {text}; mend the date", text=raw))
    return day if day.year in SEASON_YEARS else Fault(tr("{text} is in no season; mend the year", text=raw))


def time_of(raw: str) -> time | Fault | None:
    """Return the time on the clock of the rink, None when it was not noted."""
    if not raw:
        return None
    clock = re.fullmatch("([0-9]{1,2}):([0-9]{2})(?::([0-9]{2}))?", raw)
    try:
        return time(*(int(part or 0) for part in clock.groups())) if clock else _no_time(raw)
    except ValueError:
        return _no_time(raw)


def _no_time(raw: str) -> Fault:
    return Fault(
        tr(
            "{text} is not a time; write hours and minutes as 18:05, with seconds or without",
            text=shown(raw),
        )
    )


def step_of(drill: str, step: str, steps: dict[str, list[str]]) -> tuple[str, str] | Fault:
    """Return the keys of drill and step, given the steps of each drill."""
    if drill not in steps:
        return _unknown("drill", drill, steps)
    if step not in steps[drill]:
        return _unknown("step", step, steps[drill], drill)
    return drill, step


def skill_of(raw: str, versions: dict[str, int]) -> tuple[str, int] | Fault:
    """Return the skill's key and the version of its definition."""
    return (raw, versions[raw]) if raw in versions else _unknown("skill", raw, versions)


def player_of(raw: str, numbers: dict[str, UUID]) -> UUID | Fault:
    """Return the id of the player with this number.

    #00 is the same as 00: a spreadsheet leaves it alone, while it makes 0 of 00, which is another jersey.
    """
    number = jersey_number(raw.removeprefix("#"))
    if number is None:
        return Fault(number_fault(raw))
    return numbers[number] if number in numbers else _unknown("player", number, numbers)


def _unknown(kind: str, raw: str, known: Iterable[str], drill: str = "") -> Fault:
    missing, unknown = _UNKNOWN[kind]
    if not raw:
        return Fault(tr(missing))
    return Fault(tr(unknown, text=shown(raw), drill=drill, meant=meant(raw, known)))


def outcome_of(raw: str) -> Outcome | Fault:
    """Return what was seen."""
    word = raw.casefold()
    word = _IN_FRENCH.get(word, word)
    if word in tuple(Outcome):
        return Outcome(word)
    if raw:
        return Fault(tr("{text} is not an outcome; write done, missed or unseen", text=shown(raw)))
    return Fault(tr("the outcome is missing; write done, missed or unseen"))


def pressure_of(raw: str) -> bool | Fault | None:
    """Return whether there was pressure, None when it was not noted."""
    word = raw.casefold()
    if word in _PRESSURE:
        return _PRESSURE[word]
    return Fault(
        tr("{text} does not say whether there was pressure; write yes, no or nothing", text=shown(raw))
    )


def observer_of(raw: str) -> str | Fault:
    """Return the observer's name, empty when it was not noted."""
    name = folded(raw)
    fault = name_fault(name, tr("the observer"), LONGEST_OBSERVER)
    return Fault(fault) if fault else name


def times_of(raw: str) -> int | Fault:
    """Return how many tries a line stands for: none when nothing was written."""
    if not raw:
        return 0
    if not re.fullmatch("[0-9]+", raw):
        return Fault(
            tr("{text} is no count; write in `times` a whole number, or nothing for none", text=shown(raw))
        )
    digits = raw.lstrip("0") or "0"
    if len(digits) > len(str(MOST_TIMES)) or int(digits) > MOST_TIMES:
        return Fault(tr("{text} is too many; at most {most} fit", text=shown(digits), most=MOST_TIMES))
    return int(digits)
