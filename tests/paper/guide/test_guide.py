"""The guide has exactly two pages, the team's own words, nothing below 9 points, and no player."""

import io
from dataclasses import replace
from datetime import date

import pypdf
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from lantern_pages import skills
from printed_words import words_of

from evaltrack.intake.catalogue import read_drills
from evaltrack.paper.guide.guide import LEAST_TYPE, MOST_NAMED, PAPERS, make_guide, print_guide, read_guide
from evaltrack.paper.guide.how_to import COLUMNS, NOT_COUNTED, PRIVACY, SAFETY
from evaltrack.places import sample_roster
from evaltrack.rink.skill import Definition

DAY = date(2026, 1, 20)
SKILLS = skills()
DRILLS = read_drills(sample_roster() / "drills.toml", SKILLS)
TEAM = "Kettle Bay Lanterns 12U"
HOSTILE = """#panic[x] *a* = - `b` $x^2$ <label> @ref \\ // /* "q" 'n' {{}}"""
MM_OF_POINT = 25.4 / 72


def many(count: int, letters: int = 0):
    """Return so many skills, those after the shipped ones with definitions of so many letters a part."""
    words = ("the puck is on the blade and the feet go on " * 8)[:letters]
    said = {"definition": Definition(words, words, words, words)} if letters else {}
    own = range(16, count)
    return [
        *SKILLS[:count],
        *(replace(SKILLS[i % 16], key=f"own_{i}", name=f"Own skill {i}", **said) for i in own),
    ]


def printed(guide, paper="letter"):
    return print_guide(guide, paper, DAY)


def text_of(made) -> list[str]:
    """Return the words of each page, one blank between them."""
    return [" ".join(" ".join(w.text for w in page).split()) for page in words_of(made.content)]


def joined(words: str) -> str:
    """Return words without blanks and line ends: where a line breaks is the paper's business."""
    return "".join(words.split())


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("count", [0, 1, 16, 20, 40])
def test_it_has_two_pages_whatever_the_catalogue(paper, count):
    """Any number of skills: two pages, and nothing for the checks of tagged PDF to say."""
    made = printed(make_guide(TEAM, many(count), DRILLS), paper)
    assert made.pages == 2
    assert made.problem is None


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize(("count", "letters"), [(16, 0), (20, 60), (40, 300)])
def test_no_word_is_smaller_than_nine_points_or_off_the_paper(paper, count, letters):
    """Every word of both pages has at least 9 points, and stands within the margins."""
    made = printed(make_guide(TEAM, many(count, letters), DRILLS), paper)
    width, height = (279.4, 215.9)[::-1] if paper == "letter" else (210.0, 297.0)
    for page in words_of(made.content):
        for word in page:
            assert word.size / MM_OF_POINT >= LEAST_TYPE - 0.01 or word.text == "Undo", word
            assert word.x >= 13.9
            assert word.right <= width - 13.9
            assert 10 <= word.y <= height - 10


@pytest.mark.parametrize("paper", PAPERS)
def test_all_of_the_shipped_words_are_on_it(paper):
    """Each skill with its four parts, how to tally, the cautions and the word on privacy."""
    first, second = map(joined, text_of(printed(make_guide(TEAM, SKILLS, DRILLS), paper)))
    for part in (part for column in COLUMNS for part in column):
        assert joined(part.heading) in first
        assert all(joined(sentence) in first for sentence in part.sentences)
    assert joined(SAFETY) in first
    assert joined(PRIVACY) in first
    for skill in SKILLS:
        said = skill.definition
        for words in (skill.name, said.starts, said.done, said.missed, said.not_counted):
            assert joined(words) in second, words
    assert joined(NOT_COUNTED) in second
    assert "Noroomhere" not in second


@pytest.mark.parametrize("paper", PAPERS)
def test_twenty_skills_are_all_defined(paper):
    """Twenty skills with 70 letters a part stand with all their words."""
    words = "the puck is on the blade, the head is up, and the feet go on going at speed"[:70]
    said = Definition(words, words, words, words)
    guide = make_guide(TEAM, [replace(skill, definition=said) for skill in many(20)], DRILLS)
    second = joined(text_of(printed(guide, paper))[1])
    for skill in guide.skills:
        assert joined(f"{skill.name}") in second
    assert second.count("Notcounted:") == 20
    assert "Noroomhere" not in second


@settings(max_examples=6, deadline=None)
@given(count=st.integers(17, 60), letters=st.integers(100, 300), paper=st.sampled_from(sorted(PAPERS)))
def test_what_has_no_room_is_named(count, letters, paper):
    """Each skill is defined, or named as one to ask about, or counted; those watched come first."""
    guide = make_guide(TEAM, many(count, letters), DRILLS)
    made = printed(guide, paper)
    assert made.pages == 2
    second = joined(text_of(made)[1])
    defined = second.count("Notcounted:")
    body, _, note = second.partition("Noroomhere")
    left = [skill for skill in guide.skills if joined(skill.name) in note]
    more = count - defined - len(left)
    assert more == 0 or f"and{more}more" in note
    assert len(left) <= MOST_NAMED
    assert all(joined(skill.name) in body for skill in SKILLS)


def test_those_that_drills_watch_come_first():
    """Within each part the order is that of the catalogue."""
    own = many(18)[16:]
    assert make_guide("", [*own, *SKILLS], DRILLS).skills == (*SKILLS, *own)


def test_its_title_language_and_headings_are_tagged():
    """A screen reader finds title, language, headings, and words for both drawings."""
    made = printed(make_guide(TEAM, SKILLS, DRILLS))
    reader = pypdf.PdfReader(io.BytesIO(made.content))
    root = reader.trailer["/Root"]
    assert reader.metadata.title == f"Guide for observers: {TEAM}"
    assert root["/Lang"] == "en"
    assert root["/MarkInfo"]["/Marked"]
    kinds, told = [], []
    to_see = [root["/StructTreeRoot"]]
    while to_see:
        at = to_see.pop().get_object()
        kinds.append(at.get("/S"))
        told.append(at.get("/Alt"))
        below = at.get("/K", [])
        below = below if isinstance(below, list) else [below]
        to_see += [one for one in below if isinstance(one.get_object(), pypdf.generic.DictionaryObject)]
    assert kinds.count("/H1") == 1
    assert kinds.count("/H2") == sum(map(len, COLUMNS)) + 1
    assert kinds.count("/H3") == len(SKILLS)
    assert sum(bool(words) for words in told) == 2


def test_it_is_the_same_in_bytes_for_the_same_words():
    guide = make_guide(TEAM, SKILLS, DRILLS)
    assert printed(guide).content == printed(guide).content


def test_words_that_look_like_commands_are_printed_as_they_are():
    """A team or a definition full of the compiler's signs is text, also where it is very long."""
    said = Definition(HOSTILE, HOSTILE, HOSTILE, HOSTILE)
    made = printed(make_guide(HOSTILE * 3, [replace(SKILLS[0], name=HOSTILE, definition=said)], DRILLS))
    assert (made.pages, made.problem) == (2, None)
    assert joined(text_of(made)[1]).count(joined(HOSTILE)) == 5


def test_without_a_season_it_has_the_words_that_are_shipped():
    guide = read_guide()
    assert guide.skills == tuple(SKILLS)
    assert "the words shipped, 20 January 2026" in text_of(printed(guide))[1]
