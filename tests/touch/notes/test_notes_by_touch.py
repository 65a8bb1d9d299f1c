"""A family's page by touch: drafted, edited, read, printed, agreed on, and looked back at in March."""

from datetime import date, timedelta
from pathlib import Path

import pytest
from by_finger import ByFinger
from invented_evenings import evening_for
from kivy.core.window import Window
from watched_for_notes import AFTER, BEFORE, watch

from evaltrack.rink.family_note import Agreed
from evaltrack.rink.note_life import NoteKey
from evaltrack.rink.tally import Withdrawal
from evaltrack.store.opening import open_season
from evaltrack.touch.notes.editors import DayStepper
from evaltrack.touch.notes.sentence_row import SentenceRow
from evaltrack.touch.widgets.field import Field

JANUARY, MARCH = date(2026, 1, 20), date(2026, 3, 5)


class Hand(ByFinger):
    """Works the screens of the families' pages by touch."""

    def __init__(self, driver):
        super().__init__(driver)
        self.app, self.notes = driver.app, driver.app.notes_in_hand
        self.notes.today = lambda: JANUARY
        self.player = self.desk.players[0]

    @property
    def life(self):
        """Return the newest page of the first player, as a fresh reader of the file finds it."""
        with open_season(self.desk.season.path) as season:
            lives = season.notes.all()
        return lives[max(key for key in lives if key.player == self.player.id)]

    def ready(self) -> None:
        """Wait until the pages are there."""
        self.driver.wait(lambda: not self.screen.waiting)
        self.driver.settle()

    def list_families(self) -> None:
        """Go to the list of families."""
        self.app.go("home")
        self.tap("Family notes")
        self.ready()

    def open_page(self) -> None:
        """Have the page of the first player's family in front, with a draft where there is none."""
        self.list_families()
        self.tap(f"{self.player.number}  {self.player.name}")
        self.ready()

    def starting(self, words: str):
        """Return the row or key of which the title begins so."""
        return next(key for key in self.all_keys() if key.title.startswith(words))

    def all_keys(self):
        """Return what can be pressed."""
        return [self.key(title, nth) for title, nth in _numbered(self.titles())]

    def field(self, hint: str) -> Field:
        """Return the field with a hint."""
        self.driver.settle()
        fields = [one for one in self.screen.walk(restrict=True) if isinstance(one, Field)]
        return next(one for one in fields if one.hint_text.startswith(hint))

    def type(self, hint: str, text: str) -> Field:
        """Tap a field, and type another text on the system's keyboard."""
        field = self.field(hint)
        self.press(field)
        assert field.focus
        field.select_all()
        field.delete_selection()
        for letter in text:
            field.insert_text(letter)
        return field

    def print_out(self, title: str = "Print", ending: str = ".pdf") -> Path:
        """Tap a key that prints, and return the file that is told."""
        self.tap(title)
        self.driver.wait(lambda: not self.screen.printing)
        assert self.screen.words.startswith("Printed"), self.screen.words
        return Path(self.screen.words.partition(": ")[2].partition(ending)[0] + ending)

    def lines(self) -> str:
        """Return all that is said on the screen."""
        return "\n".join([*self.told(), *self.titles()])


def _numbered(titles):
    seen = {}
    for title in titles:
        seen[title] = seen.get(title, -1) + 1
        yield title, seen[title]


@pytest.fixture
def hand(drive, season_path, window):
    """Return a hand on a season of which three players were watched up to January."""
    watch(season_path)
    return Hand(drive(season_path))


@pytest.mark.parametrize("window", [(1280, 800), (800, 1280)], indirect=True)
def test_a_whole_round_of_a_page(hand):
    """Draft, edit, read, print, agree, talk over; in March it is due, and looked back at."""
    hand.list_families()
    assert hand.rows()["2  Zoë Łukasik"] == "No page yet."
    hand.tap("Draft them")
    assert hand.rows()["2  Zoë Łukasik"] == "A draft: nobody has read it yet."
    hand.tap("2  Zoë Łukasik")
    hand.ready()
    assert hand.screen.summary == "Draft, counts up to 13 January 2026"
    hand.press(hand.starting("Outlet pass: "))
    hand.type("Left out", "Her first pass is flat and hard.")
    hand.tap("Close")
    assert hand.key("Her first pass is flat and hard.").small == "in your words"
    hand.press(hand.starting("Stop: "))
    hand.tap("Leave it out")
    assert hand.life.edits.words == {
        "going_well.outlet_pass": "Her first pass is flat and hard.",
        "going_well.stop": "",
    }
    hand.type("What the counts", "Asks good questions.").focus = False
    hand.tap("Add what was agreed")
    hand.type("What will be tried", "Ten wall passes a day")
    hand.type("Who helps", "Her dad")
    for _ in range(2):
        hand.tap("A week later", 0)
    hand.tap("Close")
    agreed = Agreed("Ten wall passes a day", "Her dad", date(2026, 3, 10))
    assert hand.life.edits.agreed == (agreed,)
    hand.tap("I have read it")
    assert hand.screen.summary == "Read, counts up to 13 January 2026"
    paper = hand.print_out()
    first = paper.read_bytes()
    assert paper.parent.parts[-2:] == ("notes", "season")
    hand.tap("Talked over")
    hand.app.go("notes")
    hand.ready()
    assert "Talked over on 20 January 2026. Look again on 10 March 2026." in hand.rows()["2  Zoë Łukasik"]

    watch(hand.desk.season.path, AFTER, {"gap_up": 6, "outlet_pass": 10})
    hand.notes.today = lambda: date(2026, 3, 10)
    hand.list_families()
    row = hand.key("2  Zoë Łukasik")
    assert row.marked
    assert row.small.startswith("Look again: it was agreed for 10 March 2026.")
    hand.press(row)
    hand.ready()
    hand.tap("Look back")
    assert "Gap up. Since then it worked in 12 of 24 tries." in hand.lines()
    hand.tap("Looked at again")
    assert "Looked at again on " in hand.lines()
    hand.tap("Back")
    hand.ready()
    assert hand.print_out() == paper
    assert paper.read_bytes() == first, "the same day, the same page, the same bytes"
    hand.tap("Draft a new page")
    assert hand.screen.summary == "Draft, counts up to 3 March 2026"
    assert hand.life.edits.words == {}
    newer = hand.print_out()
    assert newer.parent == paper.parent
    assert newer != paper
    assert newer.read_bytes().startswith(b"%PDF")
    assert paper.read_bytes() == first
    with open_season(hand.desk.season.path) as season:
        pages = [life for key, life in season.notes.all().items() if key.player == hand.player.id]
    assert [len(life.printed) for life in pages] == [2, 1]
    assert not pages[0].due(MARCH)


def test_where_no_skill_is_worked_on_all_are_looked_back_at(drive, season_path, window):
    """A family may agree on something although all goes well; what was counted since stands beside it too."""
    watch(season_path, done={"stop": 11, "outlet_pass": 11})
    hand = Hand(drive(season_path))
    hand.open_page()
    hand.tap("Add what was agreed")
    hand.type("What will be tried", "Ten hard passes a day")
    hand.tap("Close")
    watch(season_path, AFTER, {"stop": 6, "outlet_pass": 10})
    hand.open_page()
    hand.tap("Look back")
    assert "names no skill to work on; these are all" in hand.lines()
    assert "Stop. Since then it worked in 12 of 24 tries." in hand.lines()
    assert "Outlet pass. Since then it worked in 20 of 24 tries." in hand.lines()


def test_a_page_that_is_changed_after_it_was_read_is_a_draft_again(hand):
    """And to have it as it was read again is to have read it."""
    hand.open_page()
    hand.tap("I have read it")
    assert not hand.screen.is_draft
    hand.press(hand.starting("Outlet pass: "))
    hand.type("Left out", "A flat pass.")
    hand.tap("Close")
    assert hand.screen.is_draft
    assert "changed after it was read" in hand.screen.advice
    hand.tap("A flat pass.")
    hand.tap("Our words")
    assert not hand.screen.is_draft


def test_tallies_put_right_make_a_draft_of_a_page_that_was_read(hand):
    """The counts of January change with a correction: the screen says so, and asks to read it again."""
    hand.open_page()
    hand.tap("I have read it")
    with open_season(hand.desk.season.path) as season:
        ids = [
            tally.id for tally in season.log.tallies(practice=BEFORE[3].isoformat()) if tally.skill == "stop"
        ]
        season.log.withdraw(Withdrawal(ids[0]))
    hand.open_page()
    assert hand.screen.is_draft
    assert "a count was put right" in hand.screen.advice
    hand.list_families()
    assert "the season behind it has changed" in hand.rows()["2  Zoë Łukasik"]


def test_practices_after_the_day_of_a_page_do_not_change_it(hand):
    """As-of is fixed: a page that was read stays read, and its sentences stay as they are."""
    hand.open_page()
    hand.tap("I have read it")
    before = hand.titles()
    watch(hand.desk.season.path, AFTER)
    hand.open_page()
    assert not hand.screen.is_draft
    assert [title for title in hand.titles() if title != "Draft a new page"] == before


def test_what_was_done_is_taken_back_one_by_one(hand):
    """Each change is listed, the newest first; taken back what was before it holds, and it can come again."""
    hand.open_page()
    for words in ("One.", "Two."):
        hand.press(next(row for row in hand.screen.ids.page.children[::-1] if isinstance(row, SentenceRow)))
        hand.type("Left out", words)
        hand.tap("Close")
    hand.tap("History")
    assert [line[-6:] for line in hand.told() if "in your words" in line] == ["“Two.”", "“One.”"]
    hand.tap("Take back", 0)
    (words,) = hand.life.edits.words.values()
    assert words == "One."
    hand.tap("Bring back")
    hand.tap("Take back", 1)
    (words,) = hand.life.edits.words.values()
    assert words == "Two."
    hand.tap("Back")
    hand.ready()
    assert hand.key("Two.").small == "in your words"
    assert len(hand.life.facts) == 3


def test_what_is_being_typed_is_kept_when_the_page_is_left(hand):
    """Without Close, and without leaving the field first."""
    hand.open_page()
    hand.press(hand.starting("Gap up. "))
    hand.type("Left out", "Follow the play.")
    hand.type("What the counts", "Cheers for everyone.")
    hand.tap("Back")
    edits = hand.life.edits
    assert (edits.words, edits.coach_words) == ({"next.gap_up": "Follow the play."}, "Cheers for everyone.")


def test_the_next_family_is_one_touch_away_and_gets_no_words_of_this_one(hand):
    """What is being typed is kept on the page that it was typed for."""
    hand.open_page()
    hand.press(hand.starting("Gap up. "))
    hand.type("Left out", "Follow the play.")
    hand.tap("Next family")
    hand.ready()
    other = hand.desk.players[1]
    assert hand.screen.heading == f"{other.number}  {other.name}"
    with open_season(hand.desk.season.path) as season:
        words = {key.player: life.edits.words for key, life in season.notes.all().items()}
    assert words == {hand.player.id: {"next.gap_up": "Follow the play."}, other.id: {}}


def test_what_cannot_be_saved_stays_in_its_field(hand):
    """It is said why, nothing of it is lost, and shorter it is saved; Back asks once more."""
    hand.open_page()
    hand.press(hand.starting("Gap up. "))
    field = hand.field("Left out")
    field.text = "word " * 500
    hand.tap("Close")
    assert "2,000 characters at most" in hand.lines()
    assert hand.field("Left out").text == "word " * 500
    hand.tap("Back")
    assert hand.name == "note"
    hand.field("Left out").text = "word"
    hand.tap("Close")
    assert hand.life.edits.words == {"next.gap_up": "word"}
    assert "characters at most" not in hand.lines()
    hand.press(hand.key("word"))
    hand.field("Left out").text = "word " * 500
    hand.tap("Back")
    hand.tap("Back")
    assert hand.name == "notes"


def test_another_child_in_the_coachs_words_is_told(hand):
    """Whole names stop the printing, a part of one is a question; without one nothing is told."""
    hand.open_page()
    assert "Look at this first" not in hand.lines()
    other = hand.desk.players[1]
    hand.type("What the counts", f"Plays well with {other.name}.").focus = False
    assert f'"From the coach" names another child ({other.name})' in hand.screen.advice
    hand.tap("Talked over")
    assert "Look at this first" in hand.lines()
    hand.tap("Print")
    hand.driver.wait(lambda: not hand.screen.printing)
    assert "names another child" in hand.screen.words
    assert "Printed" not in hand.screen.words
    assert hand.life.printed == ()
    hand.type("What the counts", f"Plays well with {other.name.split()[1]}.").focus = False
    hand.tap("Talked over")
    assert f'Does "From the coach" name another child? ({other.name.split()[1]})' in hand.lines()


def test_the_coach_picks_from_what_the_calls_allow(hand):
    """One skill less under going well, and as drafted again; what is to be worked on is not offered."""
    hand.open_page()
    drafted = [title for title in hand.titles() if title.startswith(("Outlet pass", "Stop"))]
    hand.tap("Choose what goes well")
    assert not any(title.startswith("Gap up") for title in hand.titles())
    hand.press(hand.starting("Outlet pass"))
    assert hand.life.edits.strengths is not None
    hand.tap("Back")
    hand.ready()
    assert len([title for title in hand.titles() if title.startswith(("Outlet pass", "Stop"))]) == 1
    hand.tap("Choose what goes well")
    hand.tap("As drafted")
    hand.tap("Back")
    hand.ready()
    assert [title for title in hand.titles() if title.startswith(("Outlet pass", "Stop"))] == drafted


def test_a_page_is_saved_in_another_form(hand):
    """Text for an e-mail, with the coach's words in it; the history says what was printed."""
    hand.open_page()
    hand.type("What the counts", "Asks good questions.").focus = False
    text = hand.print_out("Plain text", ".txt").read_text("utf-8")
    assert "Asks good questions." in text
    assert "Draft" in text
    hand.tap("A4" if hand.screen.paper == "a4" else "Letter")
    hand.tap("I have read it")
    assert "Draft" not in hand.print_out("Plain text", ".txt").read_text("utf-8")
    assert [fact.value for fact in hand.life.printed] == ["text letter draft", "text a4"]
    hand.tap("History")
    assert "Printed as a draft: text, letter." in hand.lines()


def test_meeting_and_coach_stand_on_the_page_and_go_on_to_the_next_one(hand):
    """The day by touch, the name by the keyboard; the name stands on the page of March too."""
    hand.open_page()
    (stepper,) = [one for one in hand.screen.walk(restrict=True) if isinstance(one, DayStepper)]
    hand.tap("A day later")
    hand.tap("A week later")
    assert stepper.words == "On Tuesday 27 January 2026"
    hand.type("The coach's name", "Marit Solheim").focus = False
    assert (hand.life.edits.meeting, hand.life.edits.coach) == (date(2026, 1, 27), "Marit Solheim")
    watch(hand.desk.season.path, AFTER[:1])
    hand.open_page()
    hand.tap("Draft a new page")
    assert (hand.life.edits.meeting, hand.life.edits.coach) == (None, "Marit Solheim")
    assert hand.life.key == NoteKey(hand.player.id, AFTER[0])


def test_a_page_has_the_day_of_the_evening_and_the_coach_of_another_page_by_a_touch(hand):
    """Drafted after the evening was made it has the day; before, a key gives it; another names the coach."""
    hand.open_page()
    hand.type("The coach's name", "Marit Solheim").focus = False
    assert not any(title.startswith("Meeting: ") for title in hand.titles())
    evening, desk = evening_for(hand.desk.players), hand.desk
    assert desk.save(lambda: desk.season.meetings.add(evening, desk.tablet.id, desk.now()))
    hand.open_page()
    hand.tap("Meeting: 20 January 2026")
    assert hand.life.edits.meeting == JANUARY
    assert not any(title.startswith(("Meeting: ", "Coach: ")) for title in hand.titles())
    hand.player = desk.players[1]
    hand.open_page()
    assert hand.life.edits.meeting == JANUARY
    hand.tap("Coach: Marit Solheim")
    assert hand.life.edits.coach == hand.field("The coach's name").text == "Marit Solheim"
    hand.notes.today = lambda: JANUARY + timedelta(1)
    hand.player = desk.players[2]
    hand.open_page()
    assert hand.life.edits.meeting is None


def test_a_page_that_was_printed_with_the_evening_counts_as_printed(hand):
    """The batch of all families notes it of each page that was drafted, as a draft where it was one."""
    evening, desk = evening_for(hand.desk.players[:3]), hand.desk
    assert desk.save(lambda: desk.season.meetings.add(evening, desk.tablet.id, desk.now()))
    hand.list_families()
    hand.tap("Draft them")
    hand.open_page()
    hand.tap("I have read it")
    hand.app.go("home")
    hand.tap("Meetings")
    hand.tap("Print")
    hand.driver.wait(lambda: not hand.screen.printing, timeout=60)
    assert "2 of 3 notes are still drafts" in hand.screen.words
    assert [one.value for one in hand.life.printed] == ["pdf letter"]
    hand.list_families()
    rows = list(hand.rows().values())
    assert rows[0] == "Read and printed."
    assert rows[1] == "A draft: nobody has read it yet."
    hand.player = desk.players[1]
    assert [one.value for one in hand.life.printed] == ["pdf letter draft"]


def test_words_that_may_name_another_child_are_asked_about_before_the_page_is_read(hand):
    """Typed and read in one go it stays a draft, and says why; the second touch is the coach's answer."""
    hand.open_page()
    other = hand.desk.players[1].name.split()[0]
    hand.type("What the counts", f"Helps {other}.")
    hand.tap("I have read it")
    assert hand.screen.is_draft
    assert hand.screen.words.startswith(f'Does "From the coach" name another child? ({other}) Look at it')
    hand.tap("I have read it")
    assert not hand.screen.is_draft
    assert hand.screen.words == ""


def test_what_is_in_sight_stays_in_its_place_while_it_is_changed(hand):
    """An editor opens where the sentence was, wherever the page is scrolled to."""
    hand.open_page()
    row = hand.starting("Gap up. ")
    hand.screen.ids.view.scroll_y = 0
    hand.driver.settle()
    top = row.to_window(row.x, row.top)[1]
    hand.driver.tap(row)
    hand.driver.frames(6)
    hand.driver.settle()
    field = hand.field("Left out")
    assert field.to_window(field.x, field.top)[1] == pytest.approx(top, abs=12)
    assert 0 < field.to_window(*field.pos)[1] < Window.height


def test_a_player_of_whom_nothing_was_noted_has_no_page(hand):
    """The list says so, and the screen what is missing; nothing is written."""
    hand.list_families()
    hand.tap("Draft them")
    nobody = hand.desk.players[5]
    assert hand.rows()[f"{nobody.number}  {nobody.name}"] == "No page yet."
    hand.tap(f"{nobody.number}  {nobody.name}")
    hand.ready()
    assert hand.screen.advice.startswith("Nothing was noted of this player yet")
    assert hand.key("Back")
    assert not {"Print", "History", "I have read it"} & set(hand.titles())
    with open_season(hand.desk.season.path) as season:
        assert len(season.notes.all()) == 3


def test_a_season_without_a_practice_has_no_pages(drive, season_path):
    """It says what is missing."""
    hand = Hand(drive(season_path))
    hand.list_families()
    assert hand.screen.words.startswith("No practice was held yet")
