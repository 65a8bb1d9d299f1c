"""French is longer: on the team board and beside a skill's bars nothing overlaps and nothing is cut."""

from datetime import date

import pytest
from kivy.metrics import dp, sp
from lantern_pages import skills
from made_standings import standing

from evaltrack.analysis.standings.standing import Call
from evaltrack.language import Language, speaking
from evaltrack.rink.player import Player, Position
from evaltrack.touch.review.call_marks import call_width
from evaltrack.touch.review.skill_bars import DrawnBars, SkillRow
from evaltrack.touch.review.team_cell import count_size, fitting_count
from evaltrack.touch.review.team_names import wide
from evaltrack.touch.widgets import fonts
from evaltrack.words.wording import state_words

NARROWEST = 114  # sp, a column of the team board
TADHG, SKILLS = Player("4", "Tadhg Merrivale", Position.DEFENCE), skills()
GAPS = 11  # dp: between two columns, and between a count and its call
LANGUAGES = [Language.ENGLISH, Language.FRENCH_CANADA]


@pytest.mark.parametrize("spoken", LANGUAGES)
@pytest.mark.parametrize("call", Call)
@pytest.mark.parametrize(("done", "tries"), [(1, 2), (16, 37), (88, 99)])
def test_a_count_ends_before_its_call_in_the_narrowest_column(drive, spoken, call, done, tries):
    """Where the words leave no room the count stands in figures."""
    one = standing(TADHG, SKILLS[0], tries, done, call)
    with speaking(spoken):
        taken = call_width(call, sp(12), in_words=False)
        room = sp(NARROWEST) - dp(GAPS) - taken
        text = fitting_count(one, fonts.BOLD, room)
        assert wide(text, count_size(text, fonts.BOLD, room), fonts.BOLD) <= room
        assert text in (f"{done} of {tries}", f"{done} sur {tries}", f"{done}/{tries}")


def test_rows_grow_where_the_words_beside_the_bars_need_two_lines(drive):
    """In English one line is enough; the longer one of French is broken, never cut."""
    one = standing(TADHG, SKILLS[0], 37, 16)
    lowest = []
    for spoken in LANGUAGES:
        with speaking(spoken):
            bars = DrawnBars(width=sp(860))
            bars.rows = [SkillRow(TADHG, one, "", state_words(one, date(2026, 1, 13)))]
            lowest.append(bars.bounds[0])
    assert lowest == [sp(44), sp(62)]
