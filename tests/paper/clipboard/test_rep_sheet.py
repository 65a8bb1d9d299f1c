"""The board by rep on paper: whose turn it is in every rep, and a box for whatever they show."""

from itertools import pairwise

import pytest
from lantern_pages import skills
from printed_words import words_of

from evaltrack.errors import EvaltrackError
from evaltrack.intake.catalogue import read_drills
from evaltrack.paper.clipboard.occasion import PAPERS, PRIVACY, SAFETY, Occasion
from evaltrack.paper.clipboard.pdf import print_reps
from evaltrack.paper.clipboard.rep_sheet import COLUMN_HEAD, make_reps
from evaltrack.places import sample_roster
from evaltrack.rink.drill import Slot, Step
from evaltrack.rink.player import Player, Position
from evaltrack.rink.rotation.rotation import Rotation

SKILLS = {skill.key: skill for skill in skills()}
DRILLS = read_drills(sample_roster() / "drills.toml", SKILLS.values())
STEPS = [(drill, step) for drill in DRILLS for step in drill.steps]
BREAKOUT = STEPS[0]
SQUAD = [Player(str(n), f"Name{n}", Position("DFFDFG"[n % 6])) for n in range(10, 30)]


def pages_of(at=BREAKOUT, paper="a4", players=SQUAD, keys=None):
    """Return the pages of a step, for all its skills or these."""
    drill, step = at
    watched = [SKILLS[key] for key in keys or step.skills]
    return make_reps(Occasion("Kettle Bay Lanterns 12U", drill, step), watched, players, PAPERS[paper])


@pytest.mark.parametrize("at", STEPS, ids=lambda at: at[1].key)
def test_the_numbers_are_those_of_the_rotation(at):
    """Rep after rep, over both pages, a watched slot has the player whose turn it is, as on the tablet."""
    rotation, numbers = Rotation.first(at[1], SQUAD), {player.id: player.number for player in SQUAD}
    names = {slot.name: slot.key for slot in at[1].slots}
    for page in pages_of(at):
        for rep in range(len(page.rows[0].numbers)):
            shown = {names[row.name]: row.numbers[rep] for row in page.rows}
            assert shown == {slot: numbers[rotation.slots[slot]] for slot in shown}
            rotation = rotation.next_rep()


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("at", STEPS, ids=lambda at: at[1].key)
def test_a_step_fits_between_head_and_foot(at, paper):
    """Two pages hold more than twenty reps of any shipped step, with lines high enough for a box of 4 mm."""
    pages = pages_of(at, paper)
    assert len(pages) == 2
    assert pages[1].first == len(pages[0].rows[0].numbers) + 1
    assert sum(len(page.rows[0].numbers) for page in pages) > 20
    for page in pages:
        height = COLUMN_HEAD + sum(page.who + len(row.skills) * page.line for row in page.rows)
        assert height <= page.paper.board.height + 1e-6
        assert page.line >= 4.9
        assert page.slot + page.rep * len(page.rows[0].numbers) <= page.paper.board.width + 1e-6


@pytest.mark.parametrize("paper", PAPERS)
def test_numbers_stand_in_their_columns(paper):
    """In the printed file every number is under the head of its rep, row under row, above the foot."""
    pages = pages_of(STEPS[2], paper)
    made = print_reps(pages)
    assert made.problem is None
    assert made.pages == 2
    for page, words in zip(pages, words_of(made.content), strict=True):
        heads = [w for w in words if w.text.startswith("rep ") and w.text[4:].isdigit()]
        assert [w.text for w in heads] == [f"rep {page.first + i}" for i in range(len(heads))]
        foot = page.paper.height - page.paper.board.y
        for column, head in enumerate(heads):
            left = 8 + page.slot + column * page.rep
            below = [w for w in words if w.text.isdigit() and left <= w.x and w.right <= left + page.rep]
            assert left <= head.x
            assert [w.text for w in below] == [row.numbers[column] for row in page.rows]
            assert all(one.y < other.y for one, other in pairwise([head, *below]))
            assert below[-1].y < foot


def test_the_page_says_what_is_watched():
    """Slots, skills with their words, how to mark and the cautions are on every page."""
    drill, step = BREAKOUT
    for words in words_of(print_reps(pages_of()).content):
        text = " ".join(w.text for w in words)
        for said in (
            drill.name,
            step.name,
            *(slot.name for slot in step.slots),
            "strike out",
            SAFETY,
            PRIVACY,
        ):
            assert said in text
        for key in step.skills:
            assert f"{SKILLS[key].name}: {SKILLS[key].caption}" in text


def test_one_skill_leaves_the_other_slots_out():
    """Whoever watches one skill has only the slots that show it."""
    (row,) = pages_of(keys=["outlet_pass"])[0].rows
    assert (row.name, row.skills) == ("Breakout D", ("Outlet pass",))


def test_skills_of_no_slot_are_refused():
    """A sheet without a slot would be empty; the group is the board for it."""
    with pytest.raises(EvaltrackError, match="no slot for these skills"):
        pages_of(keys=["stop"])


def test_a_slot_that_nobody_fills_stays_empty():
    """Without a goalie there is no number to print, but a cell to write one in."""
    skaters = [player for player in SQUAD if player.position is not Position.GOALIE]
    goalie = next(row for row in pages_of(players=skaters)[0].rows if row.name == "Goalie")
    assert set(goalie.numbers) == {""}


def test_many_slots_go_over_more_pages():
    """A step with more slots than a page holds is spread, and each slot stands once for each rep."""
    keys = ("receive_pass", "shot_on_net", "stop")
    slots = tuple(Slot(f"s{n}", f"Slot {n}", Position.FORWARD, None, keys) for n in range(20))
    pages = pages_of((DRILLS[0], Step("big", "Big", slots)), players=SQUAD)
    assert len(pages) > 2
    assert print_reps(pages).pages == len(pages)
    for first in {page.first for page in pages}:
        names = [row.name for page in pages if page.first == first for row in page.rows]
        assert names == [slot.name for slot in slots]
