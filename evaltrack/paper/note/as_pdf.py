"""Families' pages as PDF: tagged, on Letter or A4, in usual or large type."""

from collections.abc import Sequence
from pathlib import Path

from evaltrack.language import tr
from evaltrack.paper import palette
from evaltrack.paper.note.chart import KEY_HEIGHT, chart_height, chart_svg, key_svg
from evaltrack.paper.render import Printed, print_pdf, print_pngs, tagged
from evaltrack.rink.family_note import Agreed
from evaltrack.rink.plain_text import runs_right
from evaltrack.words.family import page_frame, sheet
from evaltrack.words.family.page_language import in_words_of, page_language
from evaltrack.words.family.sheet import FamilySheet, Part, SkillRow

PAPERS = ("us-letter", "a4")
_TEMPLATE = Path(__file__).resolve().with_name("note.typ")
_SIZES, _LARGE_SIZES = (10, 9.5, 9), (12,)  # points; the first in which a page holds all is taken


def print_sheets(
    sheets: Sequence[FamilySheet],
    paper: str = PAPERS[0],
    large_print: bool = False,
    blank_backs: bool = False,
) -> Printed:
    """Return the pages of these families, as of one day, as one PDF; the pages of each are counted anew.

    Parameters
    ----------
    paper : ``us-letter`` or ``a4``.
    large_print : 12 points, on as many pages as that takes; else 10, or down to 9 to stay on one page.
    blank_backs : begin each family on the front of a leaf, so that no leaf holds two when it is printed on
        both sides.
    """
    return print_pdf(_TEMPLATE, _all_words(sheets, paper, large_print, blank_backs), sheets[0].axis.last)


def pictures_of(
    sheets: Sequence[FamilySheet], paper: str = PAPERS[0], large_print: bool = False, dots: int = 80
) -> list[bytes]:
    """Return each page as a PNG with so many dots to the inch: a picture has no words for screen readers."""
    return print_pngs(_TEMPLATE, _all_words(sheets, paper, large_print, False), dots)


def _all_words(sheets: Sequence[FamilySheet], paper: str, large_print: bool, blank_backs: bool) -> dict:
    with in_words_of(sheets[0]):
        title = page_frame.title(sheets[0])
    if len(sheets) > 1:
        title = tr("Family notes: {team}", team=sheets[0].team)
    return {
        "title": title,
        "author": sheets[0].team,
        "paper": paper,
        "sizes": _LARGE_SIZES if large_print else _SIZES,
        "blank_backs": blank_backs,
        "palette": palette.NAMES,
        "key": {"svg": key_svg(), "height": KEY_HEIGHT},
        "sheets": [_words(one) for one in sheets],
        **tagged(page_language(sheets[0].language)),
    }


_LABELS = (
    "DRAFT", "DRAFT_LINE", "SKILLS", "SKILL_COLUMN", "CHART_COLUMN", "RESULT_COLUMN",
    "AIM_COLUMN", "HELPER_COLUMN", "AGAIN_COLUMN", "QUESTIONS", "PAGE", "RING", "LINE", "SHADE",
)  # fmt: skip


def _words(one: FamilySheet) -> dict:
    with in_words_of(one):
        return _words_of(one) | tagged(page_language(one.language))


def _words_of(one: FamilySheet) -> dict:
    height = chart_height(len(one.rows))
    return {
        "labels": {name.lower(): tr(getattr(page_frame, name)) for name in _LABELS}
        | {"ticks": [tr(words) for words in page_frame.TICKS], "key_words": page_frame.key_words()},
        "name": one.name,
        "kind": page_frame.kind(one),
        "days": page_frame.days(one),
        "who": page_frame.who(one),
        "meeting": page_frame.meeting(one),
        "is_draft": one.is_draft,
        "continued": page_frame.continued(one),
        "private": page_frame.private(one),
        "parts": {key: _part(one.part(key)) for key in sheet.PARTS},
        "months": one.axis.months(),
        "chart_height": height,
        "rows": [_row(one, row, height) for row in one.rows],
        "how_to_read": one.how_to_read,
        "thin": one.thin,
        "agreed": [_cells(agreed) for agreed in one.agreed],
        "footers": one.footers,
    }


def _part(part: Part) -> dict:
    said = [{"text": one.text, "lead": one.lead, "right": runs_right(one.text)} for one in part.sentences]
    return {"heading": part.heading, "sentences": said, "to_write": part.to_write}


def _row(one: FamilySheet, row: SkillRow, height: float) -> dict:
    shown = ("name", "looks_like", "count", "share", "direction", "level", "chart_words")
    svg = chart_svg(one.axis, row.path, row.seen, height) if row.drawn else ""
    return {name: getattr(row, name) for name in shown} | {"svg": svg}


def _cells(agreed: Agreed) -> list[dict]:
    return [{"text": text, "right": runs_right(text)} for text in page_frame.cells(agreed)]
