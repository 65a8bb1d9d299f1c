"""What an evening prints: read back from the files themselves."""

from datetime import UTC, datetime, timedelta, timezone
from io import BytesIO

import pikepdf
import pytest
from family_pages import family_page, standings_of_many
from form_words import languages_of, tags_of
from icalendar import Calendar
from invented_evenings import evening_for
from made_standings import standings_for
from pypdf import PdfReader
from seasons_for_touch import roster

from evaltrack.intake.catalogue import read_skills
from evaltrack.paper.meetings.calendar_file import calendar_file
from evaltrack.paper.meetings.printed import PAPERS, print_cards, print_list, print_overview
from evaltrack.paper.note.batch import write_batch
from evaltrack.paper.note.notes import WrittenNote
from evaltrack.places import sample_roster
from evaltrack.rink.family_note import NoteEdits
from evaltrack.rink.placed_evening import entries_of, swapped
from evaltrack.rink.player import by_number
from evaltrack.words.date_axis import axis_of
from evaltrack.words.family.ground import Ground
from evaltrack.words.meeting_cards import by_player, cue_card
from evaltrack.words.meetings import COACHES_ONLY
from evaltrack.words.team_overview import overview_of

TEAM = sorted(roster(20), key=by_number)
SKILLS = read_skills(sample_roster() / "skills.toml")
EVENING = evening_for(TEAM)
PLAYERS = {player.id: player for player in TEAM}
ZONE = timezone(-timedelta(hours=5))
STAMP = datetime(2026, 1, 6, 12, 30, 5, 999, tzinfo=UTC)


def texts(content: bytes) -> list[str]:
    return [" ".join(page.extract_text().split()) for page in PdfReader(BytesIO(content)).pages]


def events(content: bytes) -> dict[str, dict]:
    found = {}
    for event in Calendar.from_ical(content).walk("VEVENT"):
        assert not event.errors
        found[str(event["UID"])] = event
    return found


@pytest.mark.parametrize("paper", PAPERS)
def test_the_list_has_numbers_and_first_names_in_order_of_time(paper):
    """On one page; no last name, and the break between those before it and after it."""
    made = print_list("Kettle Bay Lanterns 12U", EVENING, PLAYERS, paper)
    (page,) = texts(made.content)
    assert made.problem is None
    places = [page.index(f" {player.number} {player.name.split()[0]}") for player in TEAM]
    assert places == sorted(places)
    assert "19:00–19:10 break" in page
    assert not any(player.name.split()[-1] in page for player in TEAM if " " in player.name)


def test_the_calendar_is_read_back_by_a_calendar_library():
    """Moments in UTC, tables and place, numbers alone; identifiers without a name, all different."""
    entries = entries_of([EVENING])
    labels = {player.id: player.number for player in TEAM}
    found = events(calendar_file(entries, labels, 2, STAMP, ZONE))
    assert set(found) == {slot.uid for slot in EVENING.slots.values()}
    for player, slot in EVENING.slots.items():
        event = found[slot.uid]
        start = EVENING.begins(slot).replace(tzinfo=ZONE)
        assert event.decoded("DTSTART") == start
        assert event.decoded("DTSTART").utcoffset() == timedelta(0)
        assert event.decoded("DTEND") - start == timedelta(minutes=12)
        assert event.decoded("DTSTAMP") == STAMP.replace(microsecond=0)
        assert str(event["SUMMARY"]) == f"Family meeting, no. {PLAYERS[player].number}"
        assert str(event["LOCATION"]) == f"Rink, room 2, table {slot.table}"
        assert event["SEQUENCE"] == 0


def test_a_second_calendar_moves_what_was_moved_and_cancels_what_is_not_held():
    """The same identifiers; SEQUENCE is higher just where something changed."""
    one, other = TEAM[0].id, TEAM[7].id
    moved = swapped(EVENING, one, other)
    rest = {player: slot for player, slot in moved.slots.items() if player != TEAM[3].id}
    history = [
        EVENING,
        moved,
        type(moved)(**{f: getattr(moved, f) for f in moved.__slots__} | {"slots": rest}),
    ]
    found = events(calendar_file(entries_of(history), {}, 2, STAMP, ZONE))
    assert set(found) == {slot.uid for slot in EVENING.slots.values()}
    changed = {EVENING.slots[player].uid for player in (one, other, TEAM[3].id)}
    assert {uid for uid, event in found.items() if event["SEQUENCE"] == 1} == changed
    gone = found[EVENING.slots[TEAM[3].id].uid]
    assert (str(gone["STATUS"]), "not held" in str(gone["SUMMARY"])) == ("CANCELLED", True)


def test_lines_are_folded_as_the_standard_says():
    """No line has more than 75 octets, and each ends in CR LF."""
    labels = {player.id: "Ø" * 60 for player in TEAM}
    content = calendar_file(entries_of([EVENING]), labels, 2, STAMP, ZONE)
    assert all(len(line) <= 75 for line in content.split(b"\r\n"))
    assert content.count(b"\n") == content.count(b"\r\n")


def test_each_card_is_one_page_for_coaches_in_the_order_of_the_meetings():
    """Marked on every page; nobody else's name on it."""
    standings = standings_for(TEAM, SKILLS)
    ground = Ground("Kettle Bay Lanterns 12U", axis_of(standings), {s.key: s for s in SKILLS}, {})
    own = by_player(standings)
    cards = {player.id: cue_card(ground, player, own[player.number], agreed=()) for player in TEAM}
    made = print_cards(ground.team, EVENING, cards, ground.axis.last, "letter")
    pages = texts(made.content)
    assert made.problem is None
    assert len(pages) == len(TEAM)
    for page, (player, _) in zip(pages, EVENING.in_order(), strict=True):
        assert page.startswith(COACHES_ONLY)
        said = page.replace(" ", "")
        assert PLAYERS[player].name.replace(" ", "") in said
        assert not any(other.name.replace(" ", "") in said for other in TEAM if other.id != player)
    assert made.content == print_cards(ground.team, EVENING, cards, ground.axis.last, "letter").content


@pytest.mark.parametrize("paper", PAPERS)
def test_the_overview_is_one_page_marked_for_coaches(paper):
    """All players of a full team, in order of number within their group."""
    standings = standings_for(TEAM, SKILLS)
    made = print_overview(overview_of("Kettle Bay Lanterns 12U", TEAM, SKILLS, standings), paper)
    (page,) = texts(made.content)
    assert made.problem is None
    assert COACHES_ONLY in page
    assert "For coaches only" in page
    assert all(player.number in page for player in TEAM)


def test_no_sheet_of_the_batch_holds_two_families_and_each_page_keeps_its_tags_and_language(tmp_path):
    """Each note begins on a front, in the order of the meetings; the printing is the same a second time."""
    ordered = [player for player, _ in EVENING.in_order()][:3]
    languages = dict(zip(ordered, ("en", "fr-CA", "en"), strict=True))
    written = []
    for place, player in enumerate(reversed(ordered)):
        own, long = PLAYERS[player], "Kind words.\n" * 70
        edits = NoteEdits(language=languages[player], coach_words=long if place == 1 else "")
        page = family_page(own, standings_of_many(own), edits)
        written.append(WrittenNote(own, tmp_path / "a.pdf", 1, None, page))
    left_out = WrittenNote(PLAYERS[next(iter(EVENING.slots))], None, 0, "no page yet")
    target = write_batch(EVENING, [left_out, *written], tmp_path)
    content = target.read_bytes()
    texts = [page.extract_text() for page in PdfReader(BytesIO(content)).pages]
    places = [next(at for at, text in enumerate(texts) if PLAYERS[one].name in text) for one in ordered]
    assert places == sorted(places)
    assert [place % 2 for place in places] == [0, 0, 0]
    assert all(sum(PLAYERS[one].name in text for one in ordered) <= 1 for text in texts)
    assert write_batch(EVENING, written, tmp_path).read_bytes() == content
    with pikepdf.open(BytesIO(content)) as pdf:
        assert [kind for kind, _ in tags_of(pdf)].count("/H1") == 3
        assert languages_of(pdf) == {"en", "fr-CA"}
