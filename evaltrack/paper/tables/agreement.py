"""How far observers agree: in sentences with what to do and a table, and as CSV and JSON for programs."""

from collections.abc import Iterable
from textwrap import wrap

from evaltrack.analysis.agreement.agreement import COLUMNS, Agreement, Row
from evaltrack.analysis.agreement.pairing import Pairing
from evaltrack.analysis.standings.strict_observer import StrictObserver
from evaltrack.language import Language, mark, speaking, tr
from evaltrack.paper.tables.for_programs import json_text, plain_row, rows_csv
from evaltrack.paper.tables.strict_observers import as_rows
from evaltrack.words.agreement import (
    against_aim,
    agreed_count,
    by_two,
    not_paired,
    remarks,
    sentences_of,
    unmatched_words,
)
from evaltrack.words.wording import counted, decimal

_WIDE = 103  # characters of a line
_LEGEND = mark(
    "Agreed: of the tries that both saw, those they saw alike; in brackets where the true figure lies in 9 "
    "of 10 cases. Points: the share done of the observer named first, minus the other's. Kappa and AC1, for "
    "those who use them: agreement beyond what chance would give, 1 is all of it; kappa falls where nearly "
    "all is done, AC1 does not."
)


def as_csv(found: Agreement) -> str:
    """Return the rows with exactly the columns of ``COLUMNS``; empty where there is no value."""
    return rows_csv(COLUMNS, found.rows)


@speaking(Language.ENGLISH)
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
    for names, rows in by_two(found):
        lines += [*sentences_of(rows), "", *_block(rows), ""]
        lines += [_matched(p) for p in found.pairings if (p.first, p.second) == names and p.pairs]
        lines.append("")
    lines += [*_apart(found), *wrap(tr(_LEGEND), _WIDE)] if lines else []
    return "\n".join(lines) + "\n" if lines else ""


def _apart(found: Agreement) -> list[str]:
    lines = [unmatched_words(pairing) for pairing in not_paired(found)]
    return [*lines, ""] if lines else []


def _matched(pairing: Pairing) -> str:
    seconds = round(abs(pairing.offset) / 1000)
    clock = mark("clocks alike")
    if seconds:
        ahead = pairing.offset > 0
        clock = (
            mark("{name}'s clock {seconds} s ahead") if ahead else mark("{name}'s clock {seconds} s behind")
        )
    return "  " + tr(
        "{practice}: {matched} matched of {first} and {second}, {clock}",
        practice=pairing.practice,
        matched=counted(len(pairing.pairs), "try", "tries"),
        first=pairing.first_tries,
        second=pairing.second_tries,
        clock=tr(clock, name=pairing.second, seconds=seconds),
    )


def _block(rows: list[Row]) -> list[str]:
    skill = max(len(row.skill) for row in rows)
    agreed = max(len(agreed_count(row)) for row in rows)
    head = f"  {tr('skill'):<{skill}}  {tr('agreed'):<{agreed + 18}}  {tr('points'):<16}  {'kappa':<19}  AC1"
    return [head, *(_line(row, skill, agreed) for row in rows)]


def _line(row: Row, skill: int, agreed: int) -> str:
    between = _between(row.share_low, row.share_high, against_aim)
    share = f"{against_aim(row.share):>3} % {between:<12}"
    apart = f"{_points(row.difference)} {_between(row.difference_low, row.difference_high, _points)}"
    kappa = tr("undefined") if row.kappa is None else _figure(row.kappa, row.kappa_low, row.kappa_high)
    ac1 = _figure(row.ac1, row.ac1_low, row.ac1_high)
    line = f"  {row.skill:<{skill}}  {agreed_count(row):>{agreed}} {share}  {apart:<16}  {kappa:<19}  {ac1}"
    return line.rstrip()


def _figure(value: float, low: float | None, high: float | None) -> str:
    return f"{_two_digits(value):>5} {_between(low, high, _two_digits)}"


def _between(low: float | None, high: float | None, form) -> str:
    return "" if low is None else f"({tr('{low} to {high}', low=form(low), high=form(high))})"


def _two_digits(value: float) -> str:
    return decimal(value, 2)


def _points(difference: float) -> str:
    # a bound that is not zero is not told as zero, or it would speak against who is told to be stricter
    return f"{100 * difference:+.0f}" if round(100 * difference) else f"{100 * difference:+.1g}"


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
