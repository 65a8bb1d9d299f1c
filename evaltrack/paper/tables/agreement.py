"""How far observers agree: in sentences with what to do and a table, and as CSV and JSON for programs."""

from collections.abc import Iterable, Iterator
from itertools import groupby

from evaltrack.analysis.agreement.agreement import (
    COLUMNS,
    ENOUGH,
    Agreement,
    Row,
    is_stricter,
    split_most,
)
from evaltrack.analysis.agreement.pairing import Pairing
from evaltrack.analysis.standings.strict_observer import StrictObserver
from evaltrack.paper.tables.for_programs import json_text, plain_row, rows_csv
from evaltrack.paper.tables.strict_observers import as_rows
from evaltrack.words.wording import count_words, counted

_LEGEND = (
    "Agreed: of the tries that both saw, those they saw alike; in brackets where the true figure lies in 9",
    "of 10 cases. Points: the share done of the observer named first, minus the other's. Kappa and AC1, for",
    "those who use them: agreement beyond what chance would give, 1 is all of it; kappa falls where nearly",
    "all is done, AC1 does not.",
)
_MEND = (
    "Read the definitions together, agree on five tries as examples of each skill, and watch one station "
    "together again."
)
_HOW = (
    "let two observers watch the same skill at the same station for one drill of 8 minutes or more, each "
    "on their own tablet or with times in the file"
)


def as_csv(found: Agreement) -> str:
    """Return the rows with exactly the columns of ``COLUMNS``; empty where there is no value."""
    return rows_csv(COLUMNS, found.rows)


def as_json(found: Agreement, strict: Iterable[StrictObserver] = ()) -> str:
    """Return ``rows``, the ``practices`` that both watched with the clocks' offset, and ``remarks``.

    ``strict`` are the observers who are much stricter than the others, or note mostly failures.
    """
    whole = {
        "rows": [plain_row(row) for row in found.rows],
        "practices": [_practice(pairing) for pairing in found.pairings],
        "remarks": remarks(found),
        "strict": as_rows(strict),
    }
    return json_text(whole)


def as_table(found: Agreement) -> str:
    """Return for each two observers how far they agree, what to do, the figures and what was matched."""
    lines = []
    for names, rows in _by_two(found):
        lines += [*_said(rows), "", *_block(rows), ""]
        lines += [_matched(p) for p in found.pairings if (p.first, p.second) == names and p.pairs]
        lines.append("")
    lines += [*_apart(found), *_LEGEND] if lines else []
    return "\n".join(lines) + "\n" if lines else ""


def remarks(found: Agreement) -> list[str]:
    """Return in sentences how far each two agree, what to do about it, and what cannot be compared."""
    said = [sentence for _, rows in _by_two(found) for sentence in _said(rows)]
    return [*(said or [_nothing(found)]), *map(_unmatched, _not_paired(found))]


def _by_two(found: Agreement) -> Iterator[tuple[tuple[str, str], list[Row]]]:
    for names, rows in groupby(found.rows, lambda row: (row.first, row.second)):
        yield names, list(rows)


def _said(rows: list[Row]) -> list[str]:
    return [_verdict(rows[0]), *_split(rows)]


def _not_paired(found: Agreement) -> list[Pairing]:
    return [pairing for pairing in found.pairings if not pairing.pairs]


def _apart(found: Agreement) -> list[str]:
    lines = [_unmatched(pairing) for pairing in _not_paired(found)]
    return [*lines, ""] if lines else []


def _nothing(found: Agreement) -> str:
    if len(found.observers) < 2:
        seen = f"{found.observers[0]} is the only observer" if found.observers else "nobody tallied yet"
        return f"nothing can be compared: {seen} in this season; {_HOW}"
    return f"nothing can be compared: no two observers have tallied the same tries; {_HOW}"


def _verdict(row: Row) -> str:
    said = f"{row.first} and {row.second} agreed in {_agreed(row)}"
    if row.share_low is None:
        return f"{said}. The minutes are too few to say how sure that is: {_HOW}."
    between = f"{_percent(row.share_low)} and {_percent(row.share_high)} %"
    return f"{said}; the true figure lies between {between} in 9 of 10 cases. {_advice(row)}"


def _advice(row: Row) -> str:
    aim = _percent(ENOUGH)
    if row.share_low >= ENOUGH:
        return f"That is enough: the aim is {aim} %."
    if row.share_high < ENOUGH:
        return f"That is too little: the aim is {aim} %. {_MEND}"
    unsure = f"The aim is {aim} %, and the chance that they truly reach it is {_chance(1 - row.p_below)}."
    if row.share < ENOUGH:
        return f"{unsure} {_MEND}"
    return f"{unsure} To be surer, let them watch one station together again."


def _split(rows: list[Row]) -> list[str]:
    row = split_most(rows)
    if row is None:
        return []
    if is_stricter(row):
        return [f"Talk over the definition of {row.skill} first: {_severity(row)}"]
    done = f"{row.first} saw {row.first_done} done, {row.second} {row.second_done}"
    return [f"Talk over the definition of {row.skill} first: they agreed in {_agreed(row)}; {done}."]


def _severity(row: Row) -> str:
    sides = [(row.first, row.first_done), (row.second, row.second_done)]
    (strict, fewer), (other, more) = sides if row.difference < 0 else sides[::-1]
    low, high = sorted(abs(end) for end in (row.difference_low, row.difference_high))
    counts = f"{strict} saw {count_words(fewer, row.tries)} tries done, {other} {more}"
    points = f"{_percent(abs(row.difference))} points ({_percent(low)} to {_percent(high)})"
    return f"{counts}. {strict} is the stricter there, by {points}."


def _agreed(row: Row) -> str:
    return f"{_counts(row)} {'try' if row.tries == 1 else 'tries'}, {_percent(row.share)} %"


def _chance(chance: float) -> str:
    if chance < 0.01:
        return "under 1 %"
    return "over 99 %" if chance > 0.99 else f"{_percent(chance)} %"


def _matched(pairing: Pairing) -> str:
    seconds = round(abs(pairing.offset) / 1000)
    side = "ahead" if pairing.offset > 0 else "behind"
    clock = f"{pairing.second}'s clock {seconds} s {side}" if seconds else "clocks alike"
    tries = f"{pairing.first_tries} and {pairing.second_tries}"
    return f"  {pairing.practice}: {counted(len(pairing.pairs), 'try', 'tries')} matched of {tries}, {clock}"


def _unmatched(pairing: Pairing) -> str:
    who = f"{pairing.first} and {pairing.second}"
    return (
        f"{pairing.practice}: {who} tallied the same skill, but no common time was found; either they "
        "watched different tries, or their clocks are more than 5 minutes apart: set them alike"
    )


def _block(rows: list[Row]) -> list[str]:
    skill = max(len(row.skill) for row in rows)
    agreed = max(len(_counts(row)) for row in rows)
    head = f"  {'skill':<{skill}}  {'agreed':<{agreed + 18}}  {'points':<16}  {'kappa':<19}  AC1"
    return [head, *(_line(row, skill, agreed) for row in rows)]


def _line(row: Row, skill: int, agreed: int) -> str:
    share = f"{_percent(row.share):>3} % {_between(row.share_low, row.share_high, _percent):<12}"
    apart = f"{_points(row.difference)} {_between(row.difference_low, row.difference_high, _points)}"
    kappa = "undefined" if row.kappa is None else _figure(row.kappa, row.kappa_low, row.kappa_high)
    ac1 = _figure(row.ac1, row.ac1_low, row.ac1_high)
    line = f"  {row.skill:<{skill}}  {_counts(row):>{agreed}} {share}  {apart:<16}  {kappa:<19}  {ac1}"
    return line.rstrip()


def _counts(row: Row) -> str:
    return count_words(round(row.share * row.tries), row.tries)


def _figure(value: float, low: float | None, high: float | None) -> str:
    return f"{value:5.2f} {_between(low, high, '{:.2f}'.format)}"


def _between(low: float | None, high: float | None, form) -> str:
    return "" if low is None else f"({form(low)} to {form(high)})"


def _percent(share: float) -> str:
    return f"{100 * share:.0f}"


def _points(difference: float) -> str:
    return f"{100 * difference:+.0f}"


def _practice(pairing: Pairing) -> dict:
    return {
        "practice": pairing.practice,
        "first": pairing.first,
        "second": pairing.second,
        "clock_offset_s": None if pairing.offset is None else pairing.offset / 1000,
        "matched": len(pairing.pairs),
        "first_tries": pairing.first_tries,
        "second_tries": pairing.second_tries,
    }
