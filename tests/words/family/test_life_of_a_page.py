"""What stands for the text of a page, what is kept of it, and what is told of its life."""

from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st
from noted_facts import KEYS, note_facts
from sample_sheets import counted, ground_of

from evaltrack.analysis.standings.standing import Call
from evaltrack.rink.note_life import AS_DRAFT, NoteFact, NoteField, NoteLife, Since, Stage
from evaltrack.rink.player import Player, Position
from evaltrack.words.family.drafting import draft_sheet
from evaltrack.words.family.in_force import page_in_force
from evaltrack.words.family.life_words import advice, due_words, looked_words, stage_words, what_was_done
from evaltrack.words.family.read_mark import read_mark

KEY = KEYS[0]
ZOE = Player("7", "Zoë Łukasik", Position.DEFENCE)
GROUND = ground_of(ZOE)
OWN = [
    counted("outlet_pass", 31, 38, call=Call.SOLID, low=0.7, high=0.89, p_below=0.02),
    counted("gap_at_line", 5, 22, call=Call.WORK_ON, low=0.13, high=0.44, p_below=0.98),
]
NAMES = {key: skill.name for key, skill in GROUND.skills.items()}
lives = st.lists(note_facts(), max_size=8).map(
    lambda facts: NoteLife(KEY, tuple(replace(one, note=KEY, nth=nth) for nth, one in enumerate(facts, 1)))
)


def page_of(*facts: tuple, own=OWN):
    """Return a page to which these were done, and its marks."""
    life = NoteLife(KEY, tuple(NoteFact(KEY, *one, nth=nth) for nth, one in enumerate(facts, 1)))
    return page_in_force(GROUND, ZOE, own, life)


def said(page) -> tuple:
    """Return what a family reads that a coach can change."""
    return page.meeting, page.coach, [s.text for part in page.parts for s in part.sentences]


@given(lives, lives)
def test_two_pages_have_one_mark_when_they_read_the_same(one, other):
    """Whatever was done to either, in whatever order."""
    (page, mark), (second, another) = (page_in_force(GROUND, ZOE, OWN, life) for life in (one, other))
    assert (mark.page == another.page) == (said(page) == said(second))
    assert mark.drafted == another.drafted


@given(lives)
def test_a_page_is_no_draft_when_it_was_read_as_it_stands(life):
    """Read now it is none; nothing but its text makes one of it again."""
    _, mark = page_in_force(GROUND, ZOE, OWN, life)
    read = NoteFact(KEY, NoteField.READ, str(mark), nth=99)
    again = NoteLife(KEY, (*life.facts, read))
    assert not page_in_force(GROUND, ZOE, OWN, again)[0].is_draft
    talked = NoteFact(KEY, NoteField.DISCUSSED, "2026-01-20", nth=100)
    assert not page_in_force(GROUND, ZOE, OWN, NoteLife(KEY, (*again.facts, talked)))[0].is_draft
    words = NoteFact(KEY, NoteField.COACH_WORDS, f"{life.edits.coach_words} More.", nth=101)
    assert page_in_force(GROUND, ZOE, OWN, NoteLife(KEY, (*again.facts, words)))[0].is_draft


def test_a_page_without_a_life_is_a_draft():
    """As it comes from the season."""
    page, mark = page_in_force(GROUND, ZOE, OWN, None)
    assert (page, mark) == (draft_sheet(GROUND, ZOE, OWN), None)
    assert page.is_draft


def moved(by: float):
    """Return the standings with a chart that lies otherwise, and the same words."""
    path = tuple(replace(point, share=point.share + by) for point in OWN[0].path)
    return [replace(OWN[0], path=path), OWN[1]]


@pytest.mark.parametrize(
    ("own", "same"),
    [
        ([replace(OWN[0], done=30), OWN[1]], False),
        (OWN[:1], False),
        (moved(0.05), False),
        (moved(1e-9), True),
        ([replace(one, to_go=7, p_up=0.4) for one in OWN], True),
    ],
    ids=["another count", "a skill less", "another chart", "the last digit of a chart", "what is not shown"],
)
def test_what_a_family_sees_is_what_counts(own, same):
    """A count, a chart; not what no family is told, nor how a computer rounds."""
    drafts = [draft_sheet(GROUND, ZOE, standings) for standings in (OWN, own)]
    marks = [read_mark(draft, draft) for draft in drafts]
    assert (marks[0] == marks[1]) == same


def test_counts_that_change_are_told_from_edits():
    """Read, then a count is put right; or edited; or both, which is the season that has changed."""
    _, mark = page_of()
    read = (NoteField.READ, str(mark))
    other = [replace(OWN[0], done=30), OWN[1]]
    edit = (NoteField.WORDS, "A flat pass.", "going_well.outlet_pass")
    cases = [((read,), OWN, Since.AS_READ), ((read,), other, Since.SEASON_CHANGED)]
    cases += [((read, edit), OWN, Since.EDITED), ((read, edit), other, Since.SEASON_CHANGED)]
    for facts, own, expected in cases:
        life = NoteLife(KEY, tuple(NoteFact(KEY, *one, nth=nth) for nth, one in enumerate(facts, 1)))
        page, now = page_in_force(GROUND, ZOE, own, life)
        assert life.since(now) is expected
        assert page.is_draft == (expected is not Since.AS_READ)


@given(note_facts(), st.booleans())
def test_all_that_is_done_is_told_in_a_sentence(fact, in_force):
    """Whatever it is: a capital, an end, no sign of a template; the coach's words as they are."""
    page = draft_sheet(GROUND, ZOE, OWN)
    fact = replace(fact, in_force=in_force)
    words = what_was_done(fact, NoteLife(fact.note, (fact,)), page, NAMES)
    own = fact.value or ""
    assert words[0] == words[0].upper()
    assert "{}" not in words.replace(own, "")
    if fact.field in (NoteField.COACH_WORDS, NoteField.AGREED, NoteField.WHO_HELPS, NoteField.COACH):
        assert " ".join(own.split()) in words


@pytest.mark.parametrize(
    ("fact", "words"),
    [
        ((NoteField.WORDS, "", "next.gap_at_line"), "Working on next, Gap at the line: a sentence left out."),
        ((NoteField.WORDS, None, "seen.counts"), "What we watched: our words put back."),
        ((NoteField.STRENGTHS, "outlet_pass stop"), "Under going well: Outlet pass, Stop."),
        ((NoteField.NEXT_SKILLS, ""), "No skill to work on next."),
        ((NoteField.NEXT_SKILLS, None), "The next steps as drafted."),
        ((NoteField.LOOK_AGAIN, "2026-03-03", "a"), "Agreed to look again on 3 March 2026."),
        ((NoteField.PRINTED, f"pdf a4 large {AS_DRAFT}"), "Printed as a draft: pdf, a4, large."),
        ((NoteField.PRINTED, "html letter"), "Printed: html, letter."),
        ((NoteField.LOOKED_BACK, "2026-03-03", "a"), "Looked at again: what was agreed."),
        ((NoteField.DRAFTED, ""), "Drafted, with all counts up to 12 January 2026."),
    ],
)
def test_what_was_done_in_its_words(fact, words):
    """By the headings of the page and the names of the skills."""
    made = NoteFact(KEY, *fact)
    page = draft_sheet(GROUND, ZOE, OWN)
    assert what_was_done(made, NoteLife(KEY, (made,)), page, NAMES) == words


def test_how_far_a_page_has_come_in_words():
    """Each stage has its sentence, and what was agreed its day."""
    facts = [(NoteField.AGREED, "Wall passes.", "a"), (NoteField.LOOK_AGAIN, "2026-03-03", "a")]
    life = NoteLife(KEY, tuple(NoteFact(KEY, *one, nth=nth) for nth, one in enumerate(facts, 1)))
    assert due_words(life, date(2026, 3, 4)) == "Look again: it was agreed for 3 March 2026."
    assert looked_words(life, "a") == "Wall passes.\nNobody named who helps. Look again on 3 March 2026."
    talked = replace(life, facts=(*life.facts, NoteFact(KEY, NoteField.DISCUSSED, "2026-01-20")))
    told = stage_words(talked, Stage.DISCUSSED, Since.AS_READ)
    assert told == "Talked over on 20 January 2026. Look again on 3 March 2026."
    drafts = {stage_words(life, Stage.DRAFT, since) for since in Since if since is not Since.AS_READ}
    others = {stage_words(life, stage, Since.AS_READ) for stage in (Stage.READ, Stage.PRINTED)}
    assert len(drafts | others) == 5
    assert len({advice(since) for since in Since}) == 4
