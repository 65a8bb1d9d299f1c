"""A family's page as a PDF."""

from collections.abc import Sequence
from dataclasses import asdict, fields
from pathlib import Path

from evaltrack.paper import palette
from evaltrack.paper.note.page import Page
from evaltrack.paper.render import Printed, print_pdf
from evaltrack.words import wording

PAPERS = ("us-letter", "a4")
_TEMPLATE = Path(__file__).resolve().with_name("note.typ")


def print_note(page: Page, charts: Sequence[str], paper: str = PAPERS[0]) -> Printed:
    """Return a family's page as PDF.

    Parameters
    ----------
    charts : SVG text, one for each of the page's rows.
    paper : ``us-letter`` or ``a4``.
    """
    return print_pdf(_TEMPLATE, _words(page, charts, paper), page.axis.last)


def _words(page: Page, charts: Sequence[str], paper: str) -> dict:
    said = {f.name: getattr(page, f.name) for f in fields(page) if f.name not in ("axis", "doubts", "rows")}
    rows = [_row_words(row, svg) for row, svg in zip(page.rows, charts, strict=True)]
    return said | {
        "title": f"Family note: {page.name}",
        "paper": paper,
        "palette": palette.NAMES,
        "from": wording.long_date(page.axis.first),
        "to": wording.long_date(page.axis.last),
        "months": page.axis.months(),
        "strengths": [asdict(item) for item in page.strengths],
        "next_skills": [asdict(item) for item in page.next_skills],
        "rows": rows,
        "fixed": {name.lower(): getattr(wording, name) for name in wording.FIXED},
    }


def _row_words(row, svg: str) -> dict:
    shown = ("name", "looks_like", "count", "share", "direction", "level", "chart_words")
    return {name: getattr(row, name) for name in shown} | {"svg": svg}
