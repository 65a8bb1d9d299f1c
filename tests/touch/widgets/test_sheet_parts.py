"""Parts of a sheet: a day that can be chosen, lines in one font each, and keys that wait."""

from datetime import date

import pytest
from every_screen import show
from kivy.graphics import Color, InstructionGroup
from kivy.metrics import sp
from kivy.uix.boxlayout import BoxLayout

from evaltrack.touch.widgets import fonts
from evaltrack.touch.widgets.button import TapButton
from evaltrack.touch.widgets.day_question import DayQuestion
from evaltrack.touch.widgets.sheet import Lines, Option, SheetBar, keys_for
from evaltrack.touch.widgets.theme import theme

TODAY = date(2026, 1, 13)

pytestmark = pytest.mark.usefixtures("window")


def test_a_day_that_has_not_come_cannot_be_chosen():
    """The keys that lead past the latest day are off, and it stays where it is."""
    question = DayQuestion(latest=TODAY, verb="was")
    question.ask("On which day was it?", TODAY, TODAY)
    keys = {key.title: key for key in question.walk() if isinstance(key, TapButton)}
    assert [title for title, key in keys.items() if key.disabled] == ["A day later", "A week later"]
    question.move(1)
    assert question.day == TODAY
    question.move(-7)
    assert not keys["A week later"].disabled
    question.move(7)
    assert question.words(question.day) == "It was Tuesday 13 January 2026"


def test_a_tablet_that_may_be_wrong_has_no_latest_day():
    """At the start of a practice the day may well be later than the clock says."""
    question = DayQuestion()
    question.ask("Which day is it?", date(2010, 1, 1), date(2010, 1, 1))
    question.move(7)
    assert question.words(question.day) == "It is Friday 8 January 2010"


def test_one_name_in_other_letters_leaves_the_other_lines_in_their_font():
    """Lines before and after it are one text each, in the font of the app."""
    lines = Lines(["2 Beth: Stop 0 of 2", "4 Iñaki: Stop 1 of 1", "17 Юля: Stop 2 of 4", "19 Ben: none"], 600)
    found = [(part.text.count("\n") + 1, part.font_name) for part in lines.children[::-1]]
    assert found == [(2, fonts.PLAIN), (1, fonts.FALLBACK), (1, fonts.PLAIN)]


@pytest.mark.parametrize(("in_bar", "filled"), [(True, False), (False, True)], ids=["bar", "choice"])
def test_a_main_key_that_waits_lies_flat(in_bar, filled):
    """A blue key in a bar invites a tap that would do nothing; a choice that is made stays visible."""
    key = TapButton(title="Save", active=True, in_bar=in_bar, disabled=True, size=(200, 60))
    drawn = InstructionGroup()
    key.draw(drawn)
    colours = [tuple(part.rgba) for part in drawn.children if isinstance(part, Color)]
    assert (tuple(theme.palette.fill) in colours) == filled


def test_a_long_name_on_a_key_has_a_second_line():
    """It is neither cut nor set in small letters, since the key has room for two lines."""
    keys = keys_for([Option("11 Marguerite-Anne de la Fontaine-Beauchamp", "", print)])
    assert all(key.wraps for key in keys.children)


@pytest.mark.parametrize("name", ["player_form", "skill_form"])
def test_save_of_a_new_form_lies_flat_until_it_can_save(demo, name):
    """Nothing is written yet, so it waits; in colour it would ask to be tapped, and do nothing."""
    screen = show(demo, name)
    screen.open(None)
    (save,) = [key for key in screen.walk(restrict=True) if getattr(key, "title", "") == "Save"]
    assert (save.disabled, save.in_bar) == (True, True)


def bar_of(titles: int) -> SheetBar:
    """Return a bar with so many keys."""
    bar = SheetBar(heading="3  Maeve O'Brien-Nguyễn", summary="forward")
    for number in range(titles):
        bar.add_widget(TapButton(title=str(number), size_hint_x=None, width=sp(84)))
    return bar


def laid_out(bar: SheetBar, width: float) -> None:
    """Give a bar its place in a window of that width."""
    bar.width = width
    rows = [bar, *reversed(bar.children)]
    for row in [*rows, *(part for part in rows[1].children if isinstance(part, BoxLayout))]:
        row.do_layout()


def titles_in(row) -> list[str]:
    """Return what stands on the keys of a row, from the left."""
    return [key.title for key in reversed(row.children) if isinstance(key, TapButton)]


def test_keys_that_would_crowd_the_heading_have_a_row_of_their_own():
    """In portrait five do, in landscape and beside few keys none; turned about, each is where it was."""
    bar = bar_of(5)
    for width, upper, lower in ((1280, "01234", ""), (800, "", "01234"), (1280, "01234", "")):
        laid_out(bar, width)
        rows = [titles_in(row) for row in reversed(bar.children)]
        assert rows == [["Back", *upper], [*lower]], width
        assert bar.folded == bool(lower)
    few = bar_of(2)
    laid_out(few, 800)
    assert not few.folded


def test_keys_that_grow_with_the_words_of_the_tablet_are_folded_too():
    """A heading has its room at each size of words, and is not set in smaller ones."""
    bar = bar_of(4)
    laid_out(bar, 800)
    assert not bar.folded
    for key in titles_keys(bar):
        key.width *= 1.4
    laid_out(bar, 800)
    assert bar.folded
    heading = next(part for part in bar.walk() if getattr(part, "text", "") == bar.heading)
    heading.texture_update()
    assert heading.width >= sp(210)
    assert heading.shrunk == 1.0


def titles_keys(bar: SheetBar) -> list[TapButton]:
    """Return the keys of a bar but Back."""
    return [part for part in bar.walk() if isinstance(part, TapButton) and part.title.isdigit()]
