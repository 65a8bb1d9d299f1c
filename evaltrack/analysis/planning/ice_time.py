"""The ice time divided into blocks of whole minutes that add up to it."""

from collections.abc import Iterator
from dataclasses import dataclass

from evaltrack.rink.plan import Part


@dataclass(frozen=True)
class Habits:
    """How long the parts of a practice are, in minutes. All of it is common practice, not measured.

    Attributes
    ----------
    warm_up : at most; shorter when the ice time is.
    board : each of the two talks at the board, which together are five minutes at most.
    changeover : from one station to the next.
    round : the least at a station, and what is made do with when the ice time is short.
    together : the least for all in one step.
    """

    warm_up: int = 8
    board: int = 2
    changeover: int = 1
    round: tuple[int, int] = (5, 3)
    together: int = 8


@dataclass(frozen=True)
class Stretch:
    """A part of the ice time; ``station`` is the number of the station or of the step that is next."""

    part: Part
    minutes: int
    station: int | None = None


USUAL = Habits()
TALKS_FROM = 20  # minutes of ice time; with less there is no talk at the board


def divided(minutes: int, stations: int, own: bool, habits: Habits = USUAL) -> list[Stretch]:
    """Return the parts of an ice time, which add up to it.

    Parameters
    ----------
    minutes : the ice time, at least one.
    stations : how many; with one the whole team goes through up to three steps.
    own : whether each group is to be at its own station once more after going round.
    """
    warm_up = min(habits.warm_up, minutes // 7)
    talk = habits.board if minutes >= TALKS_FROM else 0
    start = _kept([Stretch(Part.WARM_UP, warm_up), Stretch(Part.BOARD, talk)])
    left = minutes - warm_up - talk
    if stations == 1:
        return start + _one_after_another(left, habits)
    for least, own_round, together in _ways(minutes, own, habits):
        rest = _round_about(left, stations, own_round, together, talk if together else 0, least, habits)
        if rest:
            return start + rest
    return [*start, Stretch(Part.OWN, left)]


def _ways(minutes: int, own: bool, habits: Habits) -> Iterator[tuple[int, bool, int]]:
    """Yield what to do without, one after another: time together, then the round at the own station."""
    for least in habits.round:
        for own_round in (True, False) if own else (False,):
            for together in dict.fromkeys((max(minutes // 4, habits.together), habits.together, 0)):
                yield least, own_round, together


def _round_about(
    left: int, stations: int, own: bool, together: int, talk: int, least: int, habits: Habits
) -> list[Stretch]:
    """Return the rounds of the stations and what follows; nothing where a round would be too short."""
    rounds = stations + own
    changes = habits.changeover * (rounds - 1 + bool(together))
    each = (left - changes - together - talk) // rounds
    if each < least:
        return []
    found: list[Stretch] = []
    for number in range(rounds):
        part = Stretch(Part.STATION, each, number) if number < stations else Stretch(Part.OWN, each)
        found += [part, Stretch(Part.CHANGEOVER, habits.changeover)]
    found = _kept(found if together else found[:-1])
    over = left - sum(one.minutes for one in found) - talk
    if together:
        return found + _kept([Stretch(Part.BOARD, talk), Stretch(Part.TOGETHER, over, stations)])
    return _longer(found, over)


def _longer(found: list[Stretch], over: int) -> list[Stretch]:
    """Give the minutes that are left over to the last rounds, one each."""
    at = [number for number, one in enumerate(found) if one.part is not Part.CHANGEOVER]
    more = {number: over // len(at) + (place >= len(at) - over % len(at)) for place, number in enumerate(at)}
    return [Stretch(o.part, o.minutes + more.get(n, 0), o.station) for n, o in enumerate(found)]


def _one_after_another(left: int, habits: Habits) -> list[Stretch]:
    steps = max(1, min(3, (left + habits.changeover) // (habits.together + habits.changeover)))
    work = left - habits.changeover * (steps - 1)
    found: list[Stretch] = []
    for number in range(steps):
        minutes = work // steps + (number < work % steps)
        found += [Stretch(Part.TOGETHER, minutes, number), Stretch(Part.CHANGEOVER, habits.changeover)]
    return _kept(found[:-1])


def _kept(stretches: list[Stretch]) -> list[Stretch]:
    return [one for one in stretches if one.minutes]
