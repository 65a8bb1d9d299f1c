"""Standings as a table for the eye, and as CSV and JSON for other programs."""

from collections.abc import Iterable, Mapping
from itertools import groupby
from textwrap import wrap

from evaltrack.analysis.standings.standing import COLUMNS, Reason, Standing
from evaltrack.language import Language, mark, speaking, tr
from evaltrack.paper.tables.for_programs import json_text, plain, plain_row, rows_csv
from evaltrack.words.legends import first_counts
from evaltrack.words.opponents import met_words
from evaltrack.words.reasons import (
    apportioned,
    reason_heading,
    reason_sentences,
    to_go_words,
    whole_moves,
)
from evaltrack.words.recency import recency_words
from evaltrack.words.wording import ENOUGH, call_words, count_words, is_firm, missing_words

_WIDE = 100  # characters of a line
_LEGEND_WIDE = 103
_LEGENDS = (
    mark(
        "Done counts the whole season. The share now allows for harder steps, pressure, the observer and "
        "luck, and for what has changed, so it may stand away from the plain count. A call is made on it, "
        "against the coach's target for the skill, from {enough}, when it is likely enough to be right."
    ),
    mark("Shares are as this season's own observers see them, each as often as they noted the skill."),
    mark(
        "Now is the last day on which the skill was watched, or before that the last practice of the player."
    ),
)
_MILLION = 1_000_000  # moves are told to other programs in millionths, so that they add up as they stand


@speaking(Language.ENGLISH)
def as_csv(standings: Iterable[Standing]) -> str:
    """Return the standings with exactly the columns of ``COLUMNS``; numbers have six decimals at most."""
    return rows_csv(COLUMNS, standings)


@speaking(Language.ENGLISH)
def as_json(standings: Iterable[Standing], why: Mapping[str, str] | None = None) -> str:
    """Return the standings as a list of objects that carry the names of ``COLUMNS``.

    With ``why`` they also carry ``reasons``, what moved the share, ``to_go``, the tries still needed, and
    ``met``, against whom the tries were. The reasons are those of the table: their ``moved`` add up to the
    share less the plain count's, and their ``points`` to that move in whole points. What the rest is made of
    stands in its ``gathered``.
    """
    rows = [{name: plain(getattr(one, name)) for name in COLUMNS} | _why(one, why) for one in standings]
    return json_text(rows)


def _why(standing: Standing, why: Mapping[str, str] | None) -> dict:
    if why is None:
        return {}
    whole = plain(standing.share) - standing.done / standing.tries
    reasons = _adding_up(standing.reasons, whole)
    for row, reason, points in zip(reasons, standing.reasons, whole_moves(standing), strict=True):
        row["points"] = points
        if reason.gathered:
            row["gathered"] = _adding_up(reason.gathered, row["moved"])
    return {"reasons": reasons, "to_go": standing.to_go, "met": [plain_row(one) for one in standing.met]}


def _adding_up(reasons: Iterable[Reason], whole: float) -> list[dict]:
    """Return reasons for other programs; their rounded moves add up to ``whole`` as it is rounded."""
    reasons = list(reasons)
    moves = apportioned([_MILLION * one.moved for one in reasons], round(_MILLION * whole))
    rows = [plain_row(one) | {"moved": moved / _MILLION} for one, moved in zip(reasons, moves, strict=True)]
    for row in rows:
        del row["gathered"]
    return rows


def as_table(standings: Iterable[Standing], why: Mapping[str, str] | None = None) -> str:
    """Return the standings to read, one block for each player, in the order given.

    ``why`` gives the names of steps by ``drill/step``; with it what moved each share stands below it.
    """
    standings = list(standings)
    if not standings:
        return ""
    skills = max(len(standing.skill) for standing in standings)
    counts = max(len(count_words(standing.done, standing.tries)) for standing in standings)
    calls = max(10, *(len(call_words(standing)) for standing in standings))
    lines = [
        f"     {tr('skill'):<{skills}}  {tr('done'):>{counts}}   {tr('share now, 90 %'):<17}"
        f"  {tr('target'):<6}  {tr('call'):<{calls}}  {tr('trend')}"
    ]
    for (number, name, position), own in groupby(standings, lambda s: (s.player, s.name, s.position)):
        lines += ["", f"{number:>3}  {name}, {position}"]
        for standing in own:
            lines.append(_line(standing, skills, counts, calls))
            lines += [] if why is None else [*_reasons(standing, why), *_wrapped([met_words(standing)])]
    return "\n".join([*lines, "", *_legend(), *first_counts(standings)]) + "\n"


def _legend() -> list[str]:
    told = [tr(sentence, enough=tr(ENOUGH)) for sentence in _LEGENDS]
    return [line for sentence in told for line in wrap(sentence, _LEGEND_WIDE)]


def _line(standing: Standing, skills: int, counts: int, calls: int) -> str:
    count = count_words(standing.done, standing.tries)
    start = f"     {standing.skill:<{skills}}  {count:>{counts}}"
    if not is_firm(standing):
        told = f"{tr('the plain count only'):<25}  {call_words(standing):<{calls}}  {missing_words(standing)}"
        return f"{start}   {told}".rstrip()
    interval = f"({tr('{low} to {high}', low=_percent(standing.low), high=_percent(standing.high))})"
    share = f"{_percent(standing.share):>3} % {interval:<11}"
    target = f"{_percent(standing.target):>4} %"
    return f"{start}   {share}  {target}  {call_words(standing):<{calls}}  {tr(standing.trend)}"


def _reasons(standing: Standing, steps: Mapping[str, str]) -> list[str]:
    if not is_firm(standing):
        return []
    told = [
        reason_heading(standing),
        *reason_sentences(standing, steps),
        recency_words(standing),
        to_go_words(standing),
    ]
    return _wrapped(told)


def _wrapped(told: Iterable[str]) -> list[str]:
    return [
        line
        for sentence in filter(None, told)
        for line in wrap(sentence, _WIDE, initial_indent=" " * 7, subsequent_indent=" " * 9)
    ]


def _percent(share: float) -> str:
    return f"{100 * share:.0f}"
