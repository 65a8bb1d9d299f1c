"""What stands on every family's page around its sentences: headings of tables, labels, the word draft."""

from evaltrack.rink.family_note import Agreed
from evaltrack.words.family.page_words import how_to_read
from evaltrack.words.family.rows import SOLID
from evaltrack.words.family.sheet import FamilySheet
from evaltrack.words.wording import long_date

DRAFT = "Draft"
DRAFT_LINE = "Draft: the coach has not read this page yet."
SKILLS = "Skills we watched"
CAPTION = "How often each skill worked, and where it is heading"
SKILL_COLUMN = "Skill and what it looks like"
RESULT_COLUMN = "Worked, and direction"
CHART_COLUMN = "Over the season"
AIM_COLUMN, HELPER_COLUMN, AGAIN_COLUMN = "We will try", "Who helps", "Look again on"
QUESTIONS = "Your notes and questions"
PRIVATE = "private: for this family only"
PAGE = "page"
TICKS = ("10 of 10", "5 of 10", "0 of 10")
RING = "Ring: one practice, bigger for more tries."
LINE = "Line: how often it works."
SHADE = "Shade: how sure we are. A wide one is less sure."
KEY_WORDS = "How to read a chart. " + " ".join((RING, LINE, SHADE))


def reading_without_charts(sheet: FamilySheet) -> str:
    """Return how a page is read that has no charts; empty when nothing must be explained."""
    return how_to_read(
        drawn=False,
        ranged=any(row.level.removeprefix(SOLID) for row in sheet.rows),
        solid=any(row.level.startswith(SOLID) for row in sheet.rows),
    )


def title(sheet: FamilySheet) -> str:
    """Return what a window or a list of files calls the page."""
    return f"Draft family note: {sheet.name}" if sheet.is_draft else f"Family note: {sheet.name}"


def kind(sheet: FamilySheet) -> str:
    """Return whose page it is and of what kind: ``Kettle Bay Lanterns 12U · family note``."""
    return f"{sheet.team} · family note"


def days(sheet: FamilySheet) -> str:
    """Return the days that are counted: ``9 September 2025 to 13 January 2026``."""
    return f"{long_date(sheet.axis.first)} to {long_date(sheet.axis.last)}"


def who(sheet: FamilySheet) -> str:
    """Return ``Number 14, defender.``."""
    return f"Number {sheet.number}, {sheet.position}."


def meeting(sheet: FamilySheet) -> str:
    """Return when and with whom the family meets; empty when neither is known."""
    if sheet.meeting and sheet.coach:
        return f"Meeting on {long_date(sheet.meeting)} with {sheet.coach}."
    if sheet.meeting:
        return f"Meeting on {long_date(sheet.meeting)}."
    return f"Meeting with {sheet.coach}." if sheet.coach else ""


def continued(sheet: FamilySheet) -> str:
    """Return what stands at the head of a second page."""
    return f"{sheet.name}, continued"


def private(sheet: FamilySheet) -> str:
    """Return what stands at the foot of every page."""
    return f"{sheet.team} · {PRIVATE}"


def cells(agreed: Agreed) -> tuple[str, str, str]:
    """Return what was agreed as it stands in a table: what, who helps, the day to look again."""
    return agreed.what, agreed.who_helps, long_date(agreed.look_again) if agreed.look_again else ""
