"""An evening of meetings by touch: asked for, worked out, changed, ticked, printed; a card at each."""

from datetime import date, time

import pytest
from every_screen import show
from pressing import keys_of, press
from pypdf import PdfReader

from evaltrack.device.season_places import meetings_folder
from evaltrack.rink.meeting_evening import MeetingWishKind
from evaltrack.rink.note_life import NoteFact, NoteField, NoteKey
from evaltrack.touch.meetings.meeting_row import MeetingRow
from evaltrack.touch.notes.editors import ThingEditor
from evaltrack.touch.widgets.sheet import KeyedLine, Line
from evaltrack.words.family.drafting import read_ground
from evaltrack.words.family.in_force import read_pages
from evaltrack.words.meeting_cards import NOTHING_AGREED


class Hand:
    """Works the screens of the meetings by touch."""

    def __init__(self, driver):
        self.driver, self.app, self.desk = driver, driver.app, driver.app.desk

    @property
    def screen(self):
        return self.app.screens.current_screen

    @property
    def evening(self):
        """Return the evening as the season file has it."""
        return self.desk.season.meetings.last()

    def tap(self, widget) -> None:
        """Have a widget in sight and tap it."""
        self.driver.settle()
        if "view" in self.screen.ids and widget in self.screen.ids.view.walk(restrict=True):
            self.screen.ids.view.scroll_to(widget, animate=False)
            self.driver.settle()
        self.driver.tap(widget)
        self.driver.settle()

    def press(self, start: str, nth: int = 0) -> None:
        """Tap one of the keys of which the title begins so."""
        self.driver.settle()
        self.tap([key for key in keys_of(self.driver) if key.title.startswith(start)][nth])

    def turn(self, words: str, title: str = "+") -> None:
        """Tap the key for more or less beside a value."""
        self.driver.settle()
        (stepper,) = [one for one in self.screen.walk(restrict=True) if getattr(one, "words", "") == words]
        (key,) = [one for one in stepper.children if getattr(one, "title", "") == title]
        self.tap(key)

    def rows(self) -> list[MeetingRow]:
        """Return the rows in order of time."""
        self.driver.settle()
        found = [one for one in self.screen.walk(restrict=True) if isinstance(one, MeetingRow)]
        return sorted(found, key=lambda row: -row.y)

    def press_in(self, at: int, title: str) -> None:
        """Tap a key in a row."""
        (key,) = [key for key in self.rows()[at].children if key.title == title]
        self.tap(key)

    def lines(self) -> str:
        return "\n".join(one.text for one in self.screen.walk(restrict=True) if isinstance(one, Line))


@pytest.fixture
def hand(drive, season_path, window):
    """Return a hand on the meetings of a season of twenty players without a tally."""
    hand = Hand(drive(season_path))
    show(hand.driver, "meetings")
    return hand


def test_an_evening_is_made_with_wishes_and_worked_out(drive, season_path, window):
    """From home: two tables, a break, brother and sister, not before; then everybody has a time."""
    hand = Hand(drive(season_path))
    press(hand.driver, "Meetings")
    assert hand.screen.name == "evening"
    hand.turn("1 table")
    hand.turn("no break")
    one, other, late = (hand.desk.players[n] for n in (2, 9, 0))
    for player, kind, value in (
        (one, "Brother or sister", f"{other.number}  "),
        (late, "Not before", "19:10"),
    ):
        hand.press("Add a wish")
        hand.press(f"{player.number}  ")
        hand.press(kind)
        hand.press(value, nth=-1)
        hand.press("Keep it")
    said = [one.words for one in hand.screen.walk(restrict=True) if isinstance(one, KeyedLine)]
    first = {player: f"{player.number} {player.name.split()[0]}" for player in (one, other, late)}
    assert said == [
        f"{first[one]} and {first[other]} one straight after the other",
        f"{first[late]} not before 19:10",
    ]
    hand.press("Work it out")
    hand.driver.wait(lambda: hand.screen.name == "meetings")
    evening = hand.evening
    assert (evening.tables, evening.breaks) == (2, ((time(19), time(19, 10)),))
    assert [wish.kind for wish in evening.wishes] == [MeetingWishKind.SIBLING, MeetingWishKind.NOT_BEFORE]
    assert set(evening.slots) == {player.id for player in hand.desk.players}
    assert evening.slots[late.id].start >= time(19, 10)
    assert evening.slots[one.id].table == evening.slots[other.id].table
    assert len(hand.rows()) == len(hand.desk.players)
    assert "19:00–19:10  Break" in hand.lines()


def test_wishes_that_clash_are_told_in_words(hand):
    """Two families at one table at one time: the later wish is not met, and what it clashes with is named."""
    meetings = hand.app.meetings_in_hand
    hand.press("Change")
    for n in (0, 1):
        for kind, value in (("At", "18:00"), ("Table", "Table 1")):
            hand.press("Add a wish")
            hand.press(f"{hand.desk.players[n].number}  ")
            hand.press(kind)
            hand.press(value)
            hand.press("Keep it")
    hand.press("Work it out")
    hand.driver.wait(lambda: hand.screen.name == "meetings")
    assert len(meetings.remarks) == 1
    assert meetings.remarks[0].startswith("Not met: ")
    assert meetings.remarks[0] in hand.lines()


def test_two_families_change_places_with_two_touches_and_stay_there(hand):
    """Both are locked; worked out anew they keep their times; a third touch frees one again."""
    before = [player for player, _ in hand.evening.in_order()]
    hand.press_in(0, "Swap")
    assert hand.screen.words == "Tap Swap on the other family."
    hand.press_in(5, "Swap")
    after = [player for player, _ in hand.evening.in_order()]
    assert (after[0], after[5]) == (before[5], before[0])
    assert all(hand.evening.slots[player].locked for player in (after[0], after[5]))
    kept = {player: hand.evening.slots[player] for player in (after[0], after[5])}
    hand.press("Change")
    hand.press("Work it out")
    hand.driver.wait(lambda: hand.screen.name == "meetings")
    assert {player: hand.evening.slots[player] for player in kept} == kept
    hand.press_in(0, "Locked")
    assert not hand.evening.slots[after[0]].locked


def test_who_came_is_ticked_and_unticked(hand):
    """At once on disk, counted in the bar; on the card too."""
    first, second = (player for player, _ in hand.evening.in_order()[:2])
    hand.press_in(0, "Came")
    hand.press_in(1, "Came")
    assert hand.desk.season.meetings.who_came(hand.evening.key) == {first, second}
    assert hand.screen.summary == "2 of 20 came"
    hand.press_in(1, "Came")
    assert hand.desk.season.meetings.who_came(hand.evening.key) == {first}
    hand.tap(hand.rows()[1].ids.row)
    assert hand.screen.name == "cue_card"
    hand.press("Came")
    assert hand.desk.season.meetings.who_came(hand.evening.key) == {first, second}


def test_the_card_says_what_the_page_says_and_leads_to_the_next(demo):
    """The strengths of the family's page, the counts of the team board; the next meeting by one touch."""
    hand = Hand(demo)
    show(demo, "cue_card")
    demo.wait(lambda: hand.app.review.state == "ready")
    demo.wait(lambda: " in 10" in hand.lines())
    order = [player for player, _ in hand.evening.in_order()]
    assert hand.screen.player == order[2]
    number = hand.desk.player(order[2]).number
    counts = [f"{one.done} of {one.tries}" for one in hand.app.review.of(number)]
    assert counts
    assert all(count in hand.lines() for count in counts)
    hand.press(hand.desk.player(order[3]).number)
    assert hand.screen.player == order[3]
    hand.press("Charts")
    assert hand.screen.name == "player"
    assert hand.screen.number == hand.desk.player(order[3]).number
    press(demo, "Back")
    assert hand.screen.name == "cue_card"


@pytest.mark.parametrize(("talked", "told"), [(date(2026, 1, 14), True), (date(2026, 1, 20), False)])
def test_the_card_leads_to_the_page_and_tells_what_was_agreed_before_the_evening(demo, talked, told):
    """Noted on the page by one touch from the card; back on the card it is last time's, or only tonight's."""
    hand = Hand(demo)
    hand.app.notes_in_hand.today = lambda: talked
    show(demo, "cue_card")
    demo.wait(lambda: " in 10" in hand.lines())
    player = hand.screen.player
    hand.press("Page")
    assert hand.screen.name == "note"
    demo.wait(lambda: not hand.screen.waiting)
    hand.press("Add what was agreed")
    (editor,) = [one for one in hand.screen.walk(restrict=True) if isinstance(one, ThingEditor)]
    editor.ids.what.text = "Ten passes a day"
    hand.press("Close")
    hand.press("Talked over")
    hand.press("Back")
    assert (hand.screen.name, hand.screen.player) == ("cue_card", player)
    demo.wait(lambda: " in 10" in hand.lines())
    assert ("Ten passes a day." in hand.lines()) is told
    assert (NOTHING_AGREED in hand.lines()) is not told


def test_a_card_of_an_earlier_day_does_not_tell_what_was_agreed_later(demo):
    """An old evening printed again with the counts of its day: only pages of days before it are looked at."""
    desk = demo.app.desk
    player, days = desk.players[0], [date(2025, 11, 4), date(2025, 12, 2)]
    keys = [NoteKey(player.id, day) for day in days]
    facts = [NoteFact(key, NoteField.AGREED, f"Up to {key.as_of}", "a1") for key in keys]
    assert desk.save(lambda: desk.season.notes.add(facts, desk.tablet.id, desk.now()))
    for as_of, told in ((days[0], ()), (days[1], (days[0],)), (None, (days[1],))):
        pages = read_pages(desk.season, read_ground(desk.season, as_of))
        assert [one.what for one in pages.agreed.get(player.id, ())] == [f"Up to {day}" for day in told]


def test_the_evening_is_printed_beside_the_season_files(hand):
    """List, calendar and cards; where they are is said. Without a tally there is no note and no overview."""
    hand.press("Letter")
    hand.press("Numbers")
    hand.press("Print")
    hand.driver.wait(lambda: not hand.screen.printing, timeout=60)
    assert hand.screen.words.startswith("3 files are in ")
    assert hand.screen.words.count("no page yet") == 1
    folder = meetings_folder(hand.desk.season.path) / hand.evening.day.isoformat()
    names = sorted(path.name.rpartition("-2026")[0] for path in folder.iterdir() if path.is_file())
    assert names == ["cue-cards", "meetings", "meetings"]
    assert b"Family meeting\\, no. 2 " in (folder / "meetings-2026-01-20.ics").read_bytes()
    cards = PdfReader(folder / "cue-cards-2026-01-20.pdf")
    assert len(cards.pages) == len(hand.evening.slots)
    assert round(float(cards.pages[0].mediabox.height)) == 842


def test_an_evening_that_cannot_be_says_why(hand):
    """Over before all have been: the sentence says what would help, and the evening stays as it was."""
    before = hand.evening
    hand.press("Change")
    hand.turn("as long as it takes")
    hand.turn("2 tables", "−")
    hand.press("Work it out")
    hand.driver.wait(lambda: not hand.screen.waiting)
    assert hand.screen.words.startswith("The evening could not be worked out: 20 families need 20 rounds")
    assert hand.evening == before


def test_what_is_asked_for_stays_within_a_day(hand):
    """However often a key is pressed: no empty break, nothing after midnight; it can be kept."""
    meetings = hand.app.meetings_in_hand
    acts = (meetings.move_start, meetings.change_break, meetings.move_break, meetings.move_end)
    for by in (15, -15, 5):
        for act in acts:
            for _ in range(120):
                act(by)
            wanted = meetings.wanted
            assert all(pause.start < pause.end for pause in wanted.breaks)
            assert meetings.keep(wanted)
            assert hand.evening == wanted
    for _ in range(70):
        meetings.change_minutes(1)
        meetings.change_tables(1)
    assert (meetings.wanted.minutes, meetings.wanted.tables) == (60, 8)


def test_another_evening_leaves_this_one_as_it_is(hand):
    """It has a key of its own, and one touch on the first one leads back to it."""
    first = hand.evening
    hand.press("Change")
    hand.press("Another evening")
    hand.press("Work it out")
    hand.driver.wait(lambda: hand.screen.name == "meetings")
    assert hand.evening.key != first.key
    assert hand.desk.season.meetings.of(first.key) == [first]
    hand.press("Change")
    hand.press("Tuesday 20 January 2026, 18:00")
    assert (hand.screen.name, hand.screen.heading) == ("meetings", "Tuesday 20 January 2026, 18:00")
    hand.press_in(0, "Came")
    assert hand.desk.season.meetings.who_came(first.key) == {first.in_order()[0][0]}
