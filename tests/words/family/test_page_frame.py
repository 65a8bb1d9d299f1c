"""What stands on every page around its sentences."""

from dataclasses import replace
from datetime import date

import pytest
from sample_sheets import SAMPLES

from evaltrack.rink.family_note import Agreed
from evaltrack.words.family import page_frame, page_words
from evaltrack.words.reading_grade import reading_grade

_PAGE = SAMPLES["usual"]()


@pytest.mark.parametrize(
    ("meeting", "coach", "words"),
    [
        (date(2026, 1, 20), "Dana Whitlock", "Meeting on 20 January 2026 with Dana Whitlock."),
        (date(2026, 1, 20), "", "Meeting on 20 January 2026."),
        (None, "Dana Whitlock", "Meeting with Dana Whitlock."),
        (None, "", ""),
    ],
)
def test_the_meeting_is_told_as_far_as_it_is_known(meeting, coach, words):
    """The day, the coach, both or nothing."""
    assert page_frame.meeting(replace(_PAGE, meeting=meeting, coach=coach)) == words


def test_the_frame_says_whose_page_it_is():
    """Team, days, number and position; who finds a second page knows where it belongs."""
    assert page_frame.kind(_PAGE) == "Kettle Bay Lanterns 12U · family note"
    assert page_frame.days(_PAGE) == "2 October 2025 to 12 January 2026"
    assert page_frame.who(_PAGE) == "Number 7, defender."
    assert page_frame.continued(_PAGE) == "Zoë Łukasik, continued"
    assert page_frame.private(_PAGE) == "Kettle Bay Lanterns 12U · private: for this family only"
    assert page_frame.title(_PAGE) == "Family note: Zoë Łukasik"
    assert page_frame.title(replace(_PAGE, is_draft=True)) == "Draft family note: Zoë Łukasik"


def test_what_was_agreed_stands_in_three_cells():
    """What is not known leaves its cell empty; above them stands what they are."""
    columns = page_frame.AIM_COLUMN, page_frame.HELPER_COLUMN, page_frame.AGAIN_COLUMN
    assert columns == ("We will try", "Who helps", "Look again on")
    assert page_frame.cells(Agreed("Skates", "Dad", date(2026, 3, 1))) == ("Skates", "Dad", "1 March 2026")
    assert page_frame.cells(Agreed("Skates")) == ("Skates", "", "")


def test_without_charts_only_words_are_explained():
    """Plain text has no chart to explain, and still says what `solid` and a range mean."""
    words = page_frame.reading_without_charts(_PAGE)
    assert "chart" not in words
    assert "Solid means" in words
    assert words in _PAGE.how_to_read
    assert page_frame.reading_without_charts(SAMPLES["too_few_everywhere"]()) == ""


def test_the_caution_says_what_it_must():
    """When not to practise, who decides, and that counts are no grade."""
    for words in ("injury", "no practice", "medical advice", "local rules"):
        assert words in page_words.CAUTION
    assert "not a grade" in page_words.NO_GRADE


def test_the_key_to_a_chart_is_easy_to_read():
    """At most grade 8, as all sentences of a page; beside each chart stand its ends and its middle."""
    assert page_frame.TICKS == ("10 of 10", "5 of 10", "0 of 10")
    assert reading_grade(page_frame.key_words()) <= 8
