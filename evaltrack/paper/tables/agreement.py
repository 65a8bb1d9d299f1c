"""The agreement of observers as a table with what to do, and as CSV and JSON for other programs."""

from collections.abc import Iterable
from itertools import groupby

from evaltrack.analysis.agreement.agreement import (
    COLUMNS,
    ENOUGH,
    FEWEST_TRIES,
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
    "Agreed: of the tries that both saw, how many they saw alike. Kappa and AC1 take off what two would",
    "agree on by chance, 1 is all; kappa falls where nearly all is done, AC1 does not.",
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
    """Return what each two observers both watched, how far they agree, and the remarks."""
    lines = []
    for names, rows in groupby(found.rows, lambda row: (row.first, row.second)):
        lines += [f"{names[0]} and {names[1]}", ""]
        lines += [_matched(p) for p in found.pairings if (p.first, p.second) == names and p.pairs]
        lines += ["", *_block(list(rows)), ""]
    lines += [*remarks(found), "", *_LEGEND] if lines else []
    return "\n".join(lines) + "\n" if lines else ""


def remarks(found: Agreement) -> list[str]:
    """Return in sentences what cannot be compared, who agrees too little, and what to do about it."""
    said = [_unmatched(pairing) for pairing in found.pairings if not pairing.pairs]
    if not found.rows:
        return [_nothing(found), *said]
    for _, group in groupby(found.rows, lambda row: (row.first, row.second)):
        rows = list(group)
        said += [_verdict(rows[0]), *_split(rows)]
    return said


def _nothing(found: Agreement) -> str:
    if len(found.observers) < 2:
        seen = f"{found.observers[0]} is the only observer" if found.observers else "nobody tallied yet"
        return f"nothing can be compared: {seen} in this season; {_HOW}"
    return f"nothing can be compared: no two observers have tallied the same tries; {_HOW}"


def _verdict(row: Row) -> str:
    said = f"{row.first} and {row.second} agree in {count_words(round(row.share * row.tries), row.tries)}"
    said += f" tries, {_percent(row.share)} %"
    if row.share_low is None:
        return f"{said}: too few minutes to say how sure that is; {_HOW}."
    said += f" ({_percent(row.share_low)} to {_percent(row.share_high)})"
    if row.share >= ENOUGH:
        return (
            f"{said}, not under {_percent(ENOUGH)} %; the chance that it really is under is {_chance(row)}."
        )
    return (
        f"{said}. That is under {_percent(ENOUGH)} %; the chance that it really is under is {_chance(row)}. "
        "Read the definitions together, agree on five tries as examples of each skill, and watch one "
        "station together again."
    )


def _split(rows: list[Row]) -> list[str]:
    row = split_most(rows)
    if row is None:
        return []
    low, high = row.share_low, row.share_high
    agreed = f"{_percent(row.share)} % of {row.tries} tries {_between(low, high, _percent)}".rstrip()
    said = f"Of the skills with {FEWEST_TRIES} tries or more they split most on {row.skill}: {agreed} agreed"
    done = f"{row.first} has {row.first_done} done, {row.second} {row.second_done}"
    if is_stricter(row):
        strict, _ = (row.first, row.second) if row.difference < 0 else (row.second, row.first)
        span = sorted(abs(end) for end in (row.difference_low, row.difference_high))
        gap = f"{_percent(abs(row.difference))} points ({_percent(span[0])} to {_percent(span[1])})"
        done += f", and {strict} is the stricter by {gap}"
    return [f"{said}; {done}. Begin with its definition."]


def _chance(row: Row) -> str:
    if row.p_below < 0.01:
        return "under 1 %"
    return "over 99 %" if row.p_below > 0.99 else f"{_percent(row.p_below)} %"


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
    width = max(len(row.skill) for row in rows)
    names = (rows[0].first, rows[0].second)
    head = f"  {'skill':<{width}}  tries  {'agreed, 90 %':<17}  {'kappa':<19}  {'AC1':<19}"
    head += f"  {' minus '.join(names)}, points"
    return [head, *(_line(row, width) for row in rows)]


def _line(row: Row, width: int) -> str:
    share = f"{_percent(row.share):>3} % {_between(row.share_low, row.share_high, _percent):<11}"
    kappa = "undefined" if row.kappa is None else _figure(row.kappa, row.kappa_low, row.kappa_high)
    ac1 = _figure(row.ac1, row.ac1_low, row.ac1_high)
    gap = f"{_points(row.difference)} {_between(row.difference_low, row.difference_high, _points)}"
    return f"  {row.skill:<{width}}  {row.tries:>5}  {share:<17}  {kappa:<19}  {ac1:<19}  {gap}".rstrip()


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
