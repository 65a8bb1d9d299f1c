"""What stands on every family's page around its sentences: headings of tables, labels, the word draft."""

from evaltrack.language import mark, tr
from evaltrack.rink.family_note import Agreed
from evaltrack.rink.player import Position
from evaltrack.words.family.page_words import how_to_read
from evaltrack.words.family.sheet import FamilySheet
from evaltrack.words.wording import long_date

DRAFT = mark("Draft")
DRAFT_LINE = mark("Draft: the coach has not read this page yet.")
SKILLS = mark("Skills we watched")
CAPTION = mark("How often each skill worked, and where it is heading")
SKILL_COLUMN = mark("Skill and what it looks like")
RESULT_COLUMN = mark("Worked, and direction")
CHART_COLUMN = mark("Over the season")
# whole sentences, since French has words for each group that suit a girl and a boy
_WHO = {
    (Position.DEFENCE,): mark("Number {number}, defender."),
    (Position.FORWARD,): mark("Number {number}, forward."),
    (Position.GOALIE,): mark("Number {number}, goalie."),
    (Position.DEFENCE, Position.FORWARD): mark("Number {number}, defender and forward."),
    (Position.FORWARD, Position.DEFENCE): mark("Number {number}, forward and defender."),
}
AIM_COLUMN, HELPER_COLUMN, AGAIN_COLUMN = mark("We will try"), mark("Who helps"), mark("Look again on")
QUESTIONS = mark("Your notes and questions")
PRIVATE = mark("private: for this family only")
PAGE = mark("page")
TICKS = mark("10 of 10"), mark("5 of 10"), mark("0 of 10")
RING = mark("Ring: one practice, bigger for more tries.")
LINE = mark("Line: how often it works.")
SHADE = mark("Shade: how sure we are. A wide one is less sure.")
_HOW_TO_READ = mark("How to read a chart.")


def key_words() -> str:
    """Return how a chart is read, in the words that stand beside its key."""
    return " ".join(map(tr, (_HOW_TO_READ, RING, LINE, SHADE)))


def reading_without_charts(sheet: FamilySheet) -> str:
    """Return how a page is read that has no charts; empty when nothing must be explained."""
    return how_to_read(
        drawn=False,
        ranged=any(row.is_ranged for row in sheet.rows),
        solid=any(row.is_solid for row in sheet.rows),
    )


def title(sheet: FamilySheet) -> str:
    """Return what a window or a list of files calls the page."""
    said = mark("Draft family note: {name}") if sheet.is_draft else mark("Family note: {name}")
    return tr(said, name=sheet.name)


def kind(sheet: FamilySheet) -> str:
    """Return whose page it is and of what kind: ``Kettle Bay Lanterns 12U · family note``."""
    return tr("{team} · family note", team=sheet.team)


def days(sheet: FamilySheet) -> str:
    """Return the days that are counted: ``9 September 2025 to 13 January 2026``."""
    first, last = long_date(sheet.axis.first), long_date(sheet.axis.last)
    return tr("{first_counted} to {last_counted}", first_counted=first, last_counted=last)


def who(sheet: FamilySheet) -> str:
    """Return ``Number 14, defender.``."""
    said = _WHO.get(sheet.plays, mark("Number {number}, {position}."))
    return tr(said, number=sheet.number, position=sheet.position)


def meeting(sheet: FamilySheet) -> str:
    """Return when and with whom the family meets; empty when neither is known."""
    if sheet.meeting and sheet.coach:
        day = long_date(sheet.meeting)
        return tr("Meeting on {day} with {coach}.", day=day, coach=sheet.coach)
    if sheet.meeting:
        return tr("Meeting on {day}.", day=long_date(sheet.meeting))
    return tr("Meeting with {coach}.", coach=sheet.coach) if sheet.coach else ""


def continued(sheet: FamilySheet) -> str:
    """Return what stands at the head of a second page."""
    return tr("{name}, continued", name=sheet.name)


def private(sheet: FamilySheet) -> str:
    """Return what stands at the foot of every page."""
    return f"{sheet.team} · {tr(PRIVATE)}"


def cells(agreed: Agreed) -> tuple[str, str, str]:
    """Return what was agreed as it stands in a table: what, who helps, the day to look again."""
    return agreed.what, agreed.who_helps, long_date(agreed.look_again) if agreed.look_again else ""
