"""The practices of a season as a table for the eye, and as CSV and JSON for other programs."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from evaltrack.intake.csv_text import csv_text
from evaltrack.language import Language, mark, speaking, tr, tr_many
from evaltrack.paper.tables.for_programs import json_text
from evaltrack.rink.days import in_full
from evaltrack.rink.practice import Amendment, Correction, Practice
from evaltrack.rink.tally_correction import TallyCorrection
from evaltrack.rink.tally_sum import TallySum, total
from evaltrack.words.plan_card import ICE
from evaltrack.words.sums import sum_words
from evaltrack.words.wording import counted

COLUMNS = (
    "practice", "date", "weekday", "surface", "players", "tallies", "observers", "runs", "set_aside",
    "comment", "corrections",
)  # fmt: skip
_CHANGES = {
    Amendment.TO_DATE: mark("from {was} to {becomes}"),
    Amendment.SET_ASIDE: mark("set aside"),
    Amendment.BRING_BACK: mark("brought back"),
}
_UNDER = "  "  # before what belongs to the line above


@dataclass(frozen=True, slots=True)
class Held:
    """A practice, how many players were there, the sum of its tallies, what was put right.

    ``of_tallies`` are the corrections of its tallies, those that were taken back too.
    """

    practice: Practice
    players: int
    sum: TallySum
    corrections: tuple[Correction, ...] = ()
    observers: tuple[str, ...] = ()
    of_tallies: tuple[TallyCorrection, ...] = ()
    comment: str = ""

    @property
    def tallies(self) -> int:
        """Return how many tallies count, also those that are no tries."""
        return self.sum.tallies

    @property
    def runs(self) -> bool:
        """Say whether it was started, and nobody has ended it."""
        one = self.practice
        return one.started_at is not None and one.ended_at is None and not one.aside


def read_held(season) -> list[Held]:
    """Return every practice in order of date, those that were set aside among them."""
    sums, there = season.tally_sums.by_practice(), season.turnout.there()
    corrections, observers = season.corrections.all(), season.log.observers()
    of_tallies, comments = season.tally_corrections.all(), season.comments.all()
    return [
        Held(
            one,
            len(there.get(one.key, ())),
            sums.get(one.key, TallySum()),
            tuple(correction for correction in corrections if correction.practice == one.key),
            tuple(observers.get(one.key, ())),
            tuple(correction for correction in of_tallies if correction.practice == one.key),
            comments.get(one.key, ""),
        )
        for one in season.practices.every()
    ]


@speaking(Language.ENGLISH)
def as_csv(rows: Sequence[Held]) -> str:
    """Return the practices with the columns of ``COLUMNS``; corrections in words, one after the other."""
    return csv_text(COLUMNS, map(_values, rows))


def _values(row: Held) -> tuple:
    yes = ("yes" if row.runs else "no", "yes" if row.practice.aside else "no")
    corrected = [*map(correction_words, row.corrections), *put_right_in_short(row)]
    return (*_start(row), "; ".join(row.observers), *yes, row.comment, "; ".join(corrected))


@speaking(Language.ENGLISH)
def as_json(rows: Sequence[Held]) -> str:
    """Return the practices as a list of objects; each has a list of its corrections."""
    return json_text(list(map(plain_held, rows)))


def plain_held(row: Held) -> dict[str, object]:
    """Return a practice as other programs take it."""
    corrections = [*_plain(row.corrections), *_plain_of_tallies(row.of_tallies)]
    values = (*_start(row), list(row.observers), row.runs, row.practice.aside, row.comment, corrections)
    return dict(zip(COLUMNS, values, strict=True))


def as_table(rows: Sequence[Held]) -> str:
    """Return the practices to read, each with its corrections under it."""
    if not rows:
        return tr("There is no practice in this season yet.") + "\n"
    key, day, ice, players, tallies = (
        tr("practice"), tr("date"), tr("surface"), tr("players"), tr("tallies"),
    )  # fmt: skip
    keys = max(len(key), *(len(row.practice.key) for row in rows))
    days = max(len(in_full(row.practice.held_on)) for row in rows)
    wide = max(len(ice), *(len(tr(ICE[row.practice.surface])) for row in rows))
    lines = [f"{key:<{keys}}  {day:<{days}}  {ice:<{wide}}  {players}  {tallies}"]
    for row in rows:
        one = row.practice
        start = f"{one.key:<{keys}}  {in_full(one.held_on):<{days}}  {tr(ICE[one.surface]):<{wide}}"
        counts = f"{row.players:>{len(players)}}  {row.tallies:>{len(tallies)}}"
        lines.append(f"{start}  {counts}  {_state(row)}".rstrip())
        lines += [
            _UNDER + words for words in (*map(correction_words, row.corrections), *put_right_in_short(row))
        ]
    counting = total(row.sum for row in rows if not row.practice.aside)
    if counting.tries != counting.tallies:
        lines += ["", f"{sum_words(counting)}."]
    return "\n".join(lines) + "\n"


def correction_words(correction: Correction) -> str:
    """Return what was done, and when by the clock of the tablet that did it."""
    moment = datetime.fromtimestamp(correction.at / 1000)
    days = {"was": in_full(correction.was), "becomes": in_full(correction.becomes)}
    what = tr(_CHANGES[correction.change], **days)
    return tr("corrected {moment}: {what}", moment=f"{moment:%Y-%m-%d %H:%M}", what=what)


def put_right_in_short(row: Held) -> list[str]:
    """Return how many tallies were put right, those of which that was not taken back."""
    tallies = {ident for one in row.of_tallies if one.in_force for ident in one.was}
    if not tallies:
        return []
    return [tr_many("{number} tally put right", "{number} tallies put right", len(tallies))]


def contents(row: Held) -> str:
    """Return ``15 players, 212 tallies: 205 tries and 7 unseen``."""
    return f"{counted(row.players, 'player')}, {sum_words(row.sum)}"


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


def _plain_of_tallies(corrections: Sequence[TallyCorrection]) -> list[dict]:
    return [
        {
            "number": number,
            "change": str(one.change),
            "tallies": len(one.was),
            "in_force": one.in_force,
            "at": datetime.fromtimestamp(one.at / 1000).astimezone().isoformat(timespec="seconds"),
        }
        for number, one in enumerate(corrections, 1)
    ]


def _state(row: Held) -> str:
    if row.practice.aside:
        return tr("set aside")
    return tr("runs") if row.runs else ""


def state_behind(row: Held) -> str:
    """Return ``, runs`` or ``, set aside``, or nothing."""
    return f", {_state(row)}" if _state(row) else ""
