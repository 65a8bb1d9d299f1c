"""The plan and the sheets for a clipboard in French: as many pages, each marked as French, all of it said.

Cases: Letter and A4; the sentences that these papers say of their own accord.
"""

import io
from datetime import date

import pypdf
import pytest
from lantern_pages import skills
from lanterns_season import PLAYERS
from planned_cards import card
from printed_words import words_of

from evaltrack.intake.catalogue import read_drills
from evaltrack.language import Language, speaking
from evaltrack.paper.clipboard import board_sheet, occasion, rep_sheet
from evaltrack.paper.clipboard.pdf import print_boards, print_reps
from evaltrack.paper.plan import plan_page
from evaltrack.places import sample_roster

SKILLS = skills()
DRILLS = read_drills(sample_roster() / "drills.toml", SKILLS)
DRILL = DRILLS[0]
SAID = {  # sentences that stand on each paper in English
    "plan": (plan_page.CAUTION, plan_page.WATCHER, "For the observer", "The ice time", "Group 1", "Train:"),
    "board": (board_sheet.HOW_TO_MARK, occasion.SAFETY, occasion.PRIVACY, "A try starts", "missed", "done"),
    "reps": (rep_sheet.HOW_TO_MARK, occasion.SAFETY, occasion.PRIVACY, "rep 1", "Observer", "sheet 1 of"),
}
FRENCH = {"plan": "Pour l’observateur", "board": "Un essai commence", "reps": "rép. 1"}


def printed(what: str, paper: str):
    """Return a paper as it is printed in the language in force."""
    if what == "plan":
        plan = card()
        players = [player for player in PLAYERS if player.id in plan.places]
        page = plan_page.make_page("Kettle Bay Lanterns 12U", plan, SKILLS, DRILLS, players)
        return plan_page.print_page(page, paper)
    at = occasion.Occasion("Kettle Bay Lanterns 12U", DRILL, DRILL.steps[0], date(2026, 1, 20), "Inès")
    if what == "board":
        places = [board_sheet.Place(player, player.number != "5") for player in PLAYERS]
        return print_boards([board_sheet.make_board(at, SKILLS[0], places, PLAYERS, occasion.PAPERS[paper])])
    return print_reps(rep_sheet.make_reps(at, SKILLS, PLAYERS, occasion.PAPERS[paper]))


def said_on(made) -> str:
    """Return all words of a paper, one blank between two."""
    return " ".join(word.text for page in words_of(made.content) for word in page)


@pytest.mark.parametrize("paper", ["letter", "a4"])
@pytest.mark.parametrize("what", SAID)
def test_a_paper_says_in_french_what_it_says_in_english(what, paper):
    """Nothing falls off a page, the checks of tagged PDF are silent, and no English label is left."""
    english = printed(what, paper)
    with speaking(Language.FRENCH_CANADA):
        french = printed(what, paper)
    assert (french.pages, french.problem) == (english.pages, None)
    assert pypdf.PdfReader(io.BytesIO(french.content)).trailer["/Root"]["/Lang"] == "fr-CA"
    before, after = said_on(english), said_on(french)
    assert [one for one in SAID[what] if one not in before] == []
    assert [one for one in SAID[what] if one in after] == []
    assert FRENCH[what] in after
