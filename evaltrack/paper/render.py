"""Printing: a sheet becomes a tagged PDF. The only module that knows typst.

All words go to the template as data, so nothing that a coach types is ever taken for a command.
"""

import json
import re
from collections.abc import Sequence
from dataclasses import asdict, dataclass, fields
from datetime import UTC, date, datetime
from functools import cache
from pathlib import Path

import typst

from evaltrack.paper import palette, wording
from evaltrack.paper.board_sheet import BoardSheet, board_words
from evaltrack.paper.rep_sheet import RepSheet, rep_words
from evaltrack.paper.sheet import Sheet
from evaltrack.places import assets
from evaltrack.rink.plain_text import printable

PAPERS = ("us-letter", "a4")
_TEMPLATES = Path(__file__).resolve().parent
_NO_LETTER = re.compile(r'the text `"(?P<letters>.*)"` could not be displayed', re.DOTALL)


@dataclass(frozen=True, slots=True)
class Printed:
    """A finished file: its bytes, its pages, and what the coach must know before giving it away."""

    content: bytes
    pages: int
    problem: str | None = None


def print_note(sheet: Sheet, charts: Sequence[str], paper: str = PAPERS[0]) -> Printed:
    """Return a family's page as PDF.

    Parameters
    ----------
    charts : SVG text, one for each of the sheet's rows.
    paper : ``us-letter`` or ``a4``.
    """
    return _print("note.typ", _note_words(sheet, charts, paper), sheet.axis.last)


def picture_note(sheet: Sheet, charts: Sequence[str], paper: str = PAPERS[0], ppi: int = 144) -> list[bytes]:
    """Return the same pages as PNG pictures. A picture has no text for a screen reader: send text too."""
    words = _note_words(sheet, charts, paper)
    pages = _compiler("note.typ").compile(sys_inputs=_inputs(words), format="png", ppi=ppi)
    return pages if isinstance(pages, list) else [pages]


def print_boards(sheets: Sequence[BoardSheet]) -> Printed:
    """Return the sheets of one occasion as PDF, one page for each."""
    return _print("board_sheet.typ", board_words(sheets), sheets[0].occasion.day or date.today())


def print_reps(sheets: Sequence[RepSheet]) -> Printed:
    """Return the pages of one step by rep as PDF."""
    return _print("rep_sheet.typ", rep_words(sheets), sheets[0].occasion.day or date.today())


def _note_words(sheet: Sheet, charts: Sequence[str], paper: str) -> dict:
    said = {f.name: getattr(sheet, f.name) for f in fields(sheet) if f.name not in ("axis", "doubts", "rows")}
    rows = [_row_words(row, svg) for row, svg in zip(sheet.rows, charts, strict=True)]
    return said | {
        "title": f"Family note: {sheet.name}",
        "paper": paper,
        "palette": palette.NAMES,
        "from": wording.long_date(sheet.axis.first),
        "to": wording.long_date(sheet.axis.last),
        "months": sheet.axis.months(),
        "strengths": [asdict(item) for item in sheet.strengths],
        "steps": [asdict(item) for item in sheet.steps],
        "rows": rows,
        "fixed": {name.lower(): getattr(wording, name) for name in wording.FIXED},
    }


def _row_words(row, svg: str) -> dict:
    shown = ("name", "looks_like", "count", "share", "direction", "level", "chart_words")
    return {name: getattr(row, name) for name in shown} | {"svg": svg}


def _print(template: str, words: dict, day: date) -> Printed:
    """Print with the PDF/UA-1 rules checked; where they refuse, print without the claim and say why."""
    compiler, inputs = _compiler(template), _inputs(words)
    # the moment in the file is the day up to which is counted: the same numbers give the same bytes
    moment = int(datetime(day.year, day.month, day.day, tzinfo=UTC).timestamp())
    try:
        content, problem = _pdf(compiler, inputs, moment, ["ua-1"]), None
    except typst.TypstError as refusal:
        content, problem = _pdf(compiler, inputs, moment, []), _explained(str(refusal))
    pages = int(json.loads(compiler.query("<pages>", field="value", one=True)))
    return Printed(content, pages, problem)


def _pdf(compiler: typst.Compiler, inputs: dict[str, str], moment: int, standards: list[str]) -> bytes:
    return compiler.compile(sys_inputs=inputs, format="pdf", pdf_standards=standards, timestamp=moment)


def _inputs(words: dict) -> dict[str, str]:
    return {"words": json.dumps(_plain(words), ensure_ascii=False)}


def _plain(words):
    """Return the words with every text in them printable."""
    if isinstance(words, dict):
        return {name: _plain(value) for name, value in words.items()}
    if isinstance(words, list | tuple):
        return [_plain(value) for value in words]
    return printable(words) if isinstance(words, str) else words


def _explained(refusal: str) -> str:
    found = _NO_LETTER.search(refusal)
    if found:
        letters = found["letters"]
        return f"no font has the letter {letters}, so it is an empty box on paper; spell it another way"
    return f"printed, but screen readers may not read all of it: {refusal}"


@cache
def _compiler(template: str) -> typst.Compiler:
    # only our own fonts: a system's "last resort" font has a box for every letter and hides what is missing
    fonts = typst.Fonts(
        include_system_fonts=False, include_embedded_fonts=False, font_paths=[str(assets() / "fonts")]
    )
    return typst.Compiler(str(_TEMPLATES / template), root=str(_TEMPLATES), font_paths=fonts)
