"""The practices of a season as a table for the eye, and as CSV and JSON for other programs."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime

from evaltrack.intake.csv_text import csv_text
from evaltrack.paper.tables.for_programs import json_text
from evaltrack.rink.days import in_full
from evaltrack.rink.player import Player, by_number
from evaltrack.rink.practice import Amendment, Correction, Practice
from evaltrack.words.wording import counted

COLUMNS = (
    "practice", "date", "weekday", "surface", "players", "tallies", "runs", "set_aside", "corrections",
)  # fmt: skip
_UNDER = "  "  # before what belongs to the line above


@dataclass(frozen=True, slots=True)
class Held:
    """A practice, how many players were here at its end, its tallies that count, what was put right."""

    practice: Practice
    players: int
    tallies: int
    corrections: tuple[Correction, ...] = ()

    @property
    def runs(self) -> bool:
        """Say whether it was started, and nobody has ended it."""
        one = self.practice
        return one.started_at is not None and one.ended_at is None and not one.aside


def read_held(season) -> list[Held]:
    """Return every practice in order of date, those that were set aside among them."""
    counts, here = season.log.counts(), season.practices.attendances()
    corrections = season.corrections.all()
    return [
        Held(
            one,
            here.get(one.key, 0),
            counts.get(one.key, 0),
            tuple(correction for correction in corrections if correction.practice == one.key),
        )
        for one in season.practices.every()
    ]


def as_csv(rows: Sequence[Held]) -> str:
    """Return the practices with the columns of ``COLUMNS``; corrections in words, one after the other."""
    return csv_text(COLUMNS, map(_values, rows))


def _values(row: Held) -> tuple:
    yes = ("yes" if row.runs else "no", "yes" if row.practice.aside else "no")
    return (*_start(row), *yes, "; ".join(map(correction_words, row.corrections)))


def as_json(rows: Sequence[Held]) -> str:
    """Return the practices as a list of objects; each has a list of its corrections."""
    said = [
        dict(zip(COLUMNS, (*_start(row), row.runs, row.practice.aside, _plain(row.corrections)), strict=True))
        for row in rows
    ]
    return json_text(said)


def as_table(rows: Sequence[Held]) -> str:
    """Return the practices to read, each with its corrections under it."""
    if not rows:
        return "There is no practice in this season yet.\n"
    keys = max(len("practice"), *(len(row.practice.key) for row in rows))
    days = max(len(in_full(row.practice.held_on)) for row in rows)
    lines = [f"{'practice':<{keys}}  {'date':<{days}}  surface  players  tallies"]
    for row in rows:
        one = row.practice
        start = f"{one.key:<{keys}}  {in_full(one.held_on):<{days}}  {one.surface:<7}"
        lines.append(f"{start}  {row.players:>7}  {row.tallies:>7}  {_state(row)}".rstrip())
        lines += [_UNDER + correction_words(correction) for correction in row.corrections]
    return "\n".join(lines) + "\n"


def as_details(row: Held, season) -> str:
    """Return all that is known of one practice: when it ran, who was here, what was tallied."""
    one = row.practice
    marks = {mark.player: mark.here for mark in season.practices.attendance(one.key)}
    here = [player for player in season.people.everyone() if marks.get(player.id)]
    lines = [
        f"{one.key}: {in_full(one.held_on)}, {one.surface} ice{_state_behind(row)}",
        *_times(one),
        f"here: {_names(_as_of(one.held_on, here, season))}",
        f"tallies: {row.tallies}{_by_skill(season, one.key)}",
        *map(correction_words, row.corrections),
    ]
    return "\n".join(lines) + "\n"


def correction_words(correction: Correction) -> str:
    """Return what was done, and when by the clock of the tablet that did it."""
    moment = datetime.fromtimestamp(correction.at / 1000)
    what = {
        Amendment.TO_DATE: f"from {in_full(correction.was)} to {in_full(correction.becomes)}",
        Amendment.SET_ASIDE: "set aside",
        Amendment.BRING_BACK: "brought back",
    }
    return f"corrected {moment:%Y-%m-%d %H:%M}: {what[correction.change]}"


def contents(row: Held) -> str:
    """Return ``15 players, 212 tallies``."""
    return f"{counted(row.players, 'player')}, {counted(row.tallies, 'tally', 'tallies')}"


def _start(row: Held) -> tuple:
    one = row.practice
    return (
        one.key, one.held_on.isoformat(), f"{one.held_on:%A}", str(one.surface), row.players, row.tallies,
    )  # fmt: skip


def _plain(corrections: Sequence[Correction]) -> list[dict]:
    return [
        {
            "change": str(one.change),
            "was": one.was.isoformat(),
            "becomes": one.becomes.isoformat(),
            "at": datetime.fromtimestamp(one.at / 1000).astimezone().isoformat(timespec="seconds"),
        }
        for one in corrections
    ]


def _state(row: Held) -> str:
    if row.practice.aside:
        return "set aside"
    return "runs" if row.runs else ""


def _state_behind(row: Held) -> str:
    return f", {_state(row)}" if _state(row) else ""


def _times(one: Practice) -> list[str]:
    moments = (("started", one.started_at), ("ended", one.ended_at))
    return [
        f"{word}: {datetime.fromtimestamp(at / 1000):%Y-%m-%d %H:%M}"
        for word, at in moments
        if at is not None
    ]


def _as_of(day: date, players: Sequence[Player], season) -> list[Player]:
    """Return players with the numbers that they wore on a day, in their order."""
    worn = season.people.numbers_worn()
    return sorted((replace(player, number=worn.number(player.id, day)) for player in players), key=by_number)


def _names(players: Sequence[Player]) -> str:
    return ", ".join(f"{player.number} {player.name}" for player in players) or "nobody"


def _by_skill(season, key: str) -> str:
    counts = Counter(tally.skill for tally in season.log.tallies(practice=key))
    told = [
        f"{skill.name} {counts[skill.key]}"
        for skill in season.catalogue.skills(retired=True)
        if counts[skill.key]
    ]
    return f" ({', '.join(told)})" if told else ""
