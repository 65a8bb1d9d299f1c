"""The whole-group board on paper: the places of the screen, room to tick, and every word in its box."""

import io
from datetime import date

import pypdf
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from lantern_pages import roster, season_of, skills
from printed_words import words_of

from evaltrack.intake.catalogue import read_drills
from evaltrack.paper.clipboard.board_sheet import (
    LABEL,
    TABLET_BOARD,
    Place,
    boxes_in,
    make_board,
    on_paper,
    read_places,
)
from evaltrack.paper.clipboard.occasion import CUT, MARGIN, PAPERS, PRIVACY, SAFETY, Occasion
from evaltrack.paper.clipboard.pdf import print_boards
from evaltrack.places import sample_roster
from evaltrack.rink.board_grid import lay_out
from evaltrack.rink.player import Player, Position, Status
from evaltrack.rink.practice import Attendance, Practice, Station
from evaltrack.rink.skill import Definition, Skill

HOSTILE = """#panic[x] *a* = - `b` $x^2$ <label> @ref \\ // /* "q" 'n' {{}}"""
SKILLS = {skill.key: skill for skill in skills()}
DRILL = read_drills(sample_roster() / "drills.toml", SKILLS.values())[0]
OCCASION = Occasion("Kettle Bay Lanterns 12U", DRILL, DRILL.steps[0])
LONG = "Wilhelmina-Aleksandra-Konstantinopoulou"


def squad(count: int, name=lambda number: f"Name{number} Last", first: int = 1) -> list[Player]:
    """Return players with the numbers from ``first`` on, defenders and forwards in turn."""
    return [Player(str(n), name(n), Position("DF"[n % 2])) for n in range(first, first + count)]


def sheet_of(players, paper="a4", skill="outlet_pass", gone=(), occasion=OCCASION):
    """Return the sheet of these players, those in ``gone`` by number not here."""
    places = [Place(player, player.number not in gone) for player in players]
    known = SKILLS[skill] if isinstance(skill, str) else skill
    return make_board(occasion, known, places, players, PAPERS[paper])


def halves(sheet):
    """Return width and height of a half, its label and its boxes."""
    return sheet.width / 2, sheet.height - sheet.head


@pytest.mark.parametrize("paper", PAPERS)
@settings(max_examples=20)
@given(count=st.integers(1, 40))
def test_the_places_are_those_of_the_tablet(paper, count):
    """Row by row, whoever stands beside or under another on the tablet does so on paper."""
    screen, page = lay_out(count, TABLET_BOARD), on_paper(count, PAPERS[paper])
    assert (page.columns, page.rows) == (screen.columns, screen.rows)
    tiles = sheet_of(squad(count), paper).tiles
    assert [tile.number for tile in tiles] == [str(n) for n in range(1, count + 1)]
    across, down = sorted({tile.x for tile in tiles}), sorted({tile.y for tile in tiles})
    for place, tile in enumerate(tiles):
        assert (down.index(tile.y), across.index(tile.x)) == divmod(place, screen.columns)


@pytest.mark.parametrize("paper", PAPERS)
@settings(max_examples=20)
@given(count=st.integers(1, 40))
def test_the_tiles_share_the_page_without_touching(paper, count):
    """No tile lies on another, on the head, on the foot or in the margin."""
    sheet = sheet_of(squad(count), paper)
    board, slack = sheet.paper.board, 1e-6
    top = sheet.paper.height - board.y - board.height
    for tile in sheet.tiles:
        assert MARGIN - slack <= tile.x <= sheet.paper.width - MARGIN - sheet.width + slack
        assert top - 1 <= tile.y <= top + board.height - sheet.height + 1
    for one in sheet.tiles:
        for other in sheet.tiles:
            apart = abs(one.x - other.x) >= sheet.width or abs(one.y - other.y) >= sheet.height
            assert apart or one is other


@pytest.mark.parametrize("paper", PAPERS)
def test_halves_for_twenty_players_have_nineteen_mm(paper):
    """A page with twenty players has halves as large as the tablet must have them."""
    for count in range(1, 21):
        assert min(halves(sheet_of(squad(count), paper))) >= 19


@given(width=st.floats(15, 60), height=st.floats(12, 60))
def test_boxes_stay_in_their_half(width, height):
    """However large a half is, its rows of boxes and the shaded one fit below its label."""
    boxes = boxes_in(width, height)
    wide = 5 * boxes.fives * (boxes.side + 0.5) + 1.4 * (boxes.fives - 1)
    assert wide <= width
    assert (boxes.rows + 1) * (boxes.side + 0.5) + 2 <= height or boxes.rows == 1
    assert boxes.side <= 5.4


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize(("count", "least"), [(9, 20), (20, 15), (40, 10)])
def test_there_are_boxes_enough(paper, count, least):
    """In each half there are at least two fives besides the shaded row, of at least 2.8 mm, and they fit."""
    sheet = sheet_of(squad(count), paper)
    boxes = sheet.boxes
    assert 5 * boxes.fives * boxes.rows >= least
    assert boxes.side >= (3.8 if count <= 20 else 2.8)
    assert (boxes.rows + 1) * (boxes.side + 0.5) + 2 <= halves(sheet)[1] - LABEL


@pytest.mark.parametrize(("paper", "count"), [("a4", 9), ("letter", 20), ("letter", 40)])
@pytest.mark.parametrize("name", [lambda n: f"{LONG}{n} Last", lambda n: "W" * 59], ids=["long", "all W"])
def test_every_word_of_a_tile_stands_in_its_tile(paper, count, name):
    """Number, name and labels are inside the tile of their player in the printed file, whatever the name."""
    sheet = sheet_of(squad(count, name, first=901 if count == 40 else 80), paper)
    (words,) = words_of(print_boards([sheet]).content)
    for tile in sheet.tiles:
        own = [w for w in words if w.inside(tile.x, tile.y, sheet.width, sheet.height)]
        assert [w.text for w in own[:1] + own[2:]] == [tile.number, "missed", "done"]
        assert tile.name[:8].startswith(own[1].text.rstrip("…")[:8])
        assert own[1].size >= 2
        middle = tile.x + sheet.width / 2
        assert own[2].right < middle < own[3].x
    board = sheet.paper.height - sheet.paper.board.y
    assert sum(sheet.tiles[0].y <= w.y <= board for w in words) == 4 * count


def test_short_names_stand_whole():
    """A first name of usual length is neither cut nor set smaller than its neighbours."""
    sheet = sheet_of(roster())
    (words,) = words_of(print_boards([sheet]).content)
    sizes = {w.size for w in words if w.text in {tile.name for tile in sheet.tiles}}
    assert len(sizes) == 1
    assert {tile.name for tile in sheet.tiles} <= {w.text for w in words}


def test_whoever_is_not_here_keeps_his_place_and_his_boxes():
    """A player who has left or comes late has their tile where it is on screen, and it says so."""
    sheet = sheet_of(squad(9), gone={"4"})
    (words,) = words_of(print_boards([sheet]).content)
    assert [tile.number for tile in sheet.tiles if not tile.here] == ["4"]
    assert sheet.tiles[3].number == "4"
    assert "Name4, not here" in [w.text for w in words]
    assert [w.text for w in words].count("done") == 9


def test_who_is_not_watched_in_a_skill_is_told_apart():
    """A forward's tile is not one to look at for a skill of the defence."""
    watched = {tile.number: tile.watched for tile in sheet_of(squad(4)).tiles}
    assert watched == {"1": False, "2": True, "3": False, "4": True}


def test_who_stands_where(tmp_path):
    """Before a practice all who are not away stand by number; once it runs, its places count.

    Players who have left the practice keep their place, and are marked as not here.
    """
    players = roster()
    players[5] = Player("7", players[5].name, players[5].position, status=Status.AWAY)
    with season_of(tmp_path / "season.db", players, tries=0, days=()) as season:
        assert read_places(season) == [Place(player, True) for player in players if player.number != "7"]
        order = [players[i] for i in (3, 0, 5)]
        marks = [Attendance(player.id, player is not order[1], place) for place, player in enumerate(order)]
        station = Station("2025-12-01", DRILL.key, DRILL.steps[0].key, "outlet_pass", "Ines")
        season.practices.begin(Practice("2025-12-01", date(2025, 12, 1)), marks, station)
        assert read_places(season) == [Place(player, player is not order[1]) for player in order]


def printed(players=None, skill="outlet_pass", **about):
    """Return a printed sheet of one skill, whole, and the words of its page."""
    occasion = Occasion(**({"team": "Lanterns 12U", "drill": DRILL, "step": DRILL.steps[0]} | about))
    made = print_boards([sheet_of(players or squad(9), skill=skill, occasion=occasion)])
    return made, " ".join(w.text for w in words_of(made.content)[0])


def test_the_page_says_what_is_watched_and_how():
    """Team, drill, step, skill, the whole definition, how to mark, the cautions: all is on the page."""
    said, text = SKILLS["outlet_pass"].definition, printed()[1]
    for words in (
        "Lanterns 12U",
        DRILL.name,
        DRILL.steps[0].name,
        "Outlet pass",
        "Date",
        "Observer",
        "shaded row",
    ):
        assert words in text
    for words in (said.starts, said.done, said.missed, said.not_counted, SAFETY, PRIVACY):
        assert words in text


def test_day_and_observer_are_printed_when_they_are_known():
    """What is known need not be written at the boards."""
    text = printed(day=date(2026, 1, 12), observer="Ines Falk")[1]
    assert "12 January 2026" in text
    assert "Ines Falk" in text


def test_the_file_is_tagged_and_says_what_it_is():
    """A reader for the blind learns the language, the title and the order; the rules of PDF/UA are met."""
    made = printed()[0]
    reader = pypdf.PdfReader(io.BytesIO(made.content))
    assert made.problem is None
    assert reader.trailer["/Root"]["/Lang"] == "en"
    assert reader.trailer["/Root"]["/MarkInfo"]["/Marked"]
    assert "/StructTreeRoot" in reader.trailer["/Root"]
    assert reader.metadata.title == f"Board: {DRILL.name}, {DRILL.steps[0].name}"


def test_words_are_never_commands():
    """Names, team, observer and definition arrive as they were typed, whatever signs are in them."""
    said = Definition(HOSTILE, HOSTILE, HOSTILE, HOSTILE)
    skill = Skill("odd", "#odd", tuple(Position), "*cap*", said, "x")
    made, text = printed(squad(3, lambda n: f"#{n}*_`"), skill, team="<T> $x$", observer="@Ann = -")
    assert made.problem is None
    assert text.count(HOSTILE) == 4
    for words in ("#odd", "*cap*", "#2*_`", "<T> $x$", "@Ann = -"):
        assert words in text


def test_unusual_letters():
    """Letters of many scripts are printed; one that no font has is told by name, and the page still comes."""
    made, _ = printed([Player("7", "Ṣọlá Łukasik", Position.DEFENCE), Player("8", "Zoë K", Position.DEFENCE)])
    assert made.problem is None
    assert "Ṣọlá" in pypdf.PdfReader(io.BytesIO(made.content)).pages[0].extract_text()
    odd, _ = printed([Player("7", "王 Wei", Position.DEFENCE)])
    assert "no font has the letter 王" in odd.problem
    assert odd.pages == 1


@pytest.mark.parametrize("length", [1, 6, 40])
def test_a_long_definition_stays_at_the_foot(length):
    """A definition is set smaller, and at last cut, rather than run into the tiles or off the page."""
    said = Definition(*(["All of these words belong to it. " * length] * 4))
    sheet = sheet_of(squad(20), skill=Skill("long", "Long", tuple(Position), "c", said, "x"))
    made = print_boards([sheet])
    (words,) = words_of(made.content)
    assert made.pages == 1
    assert [w for w in words if w.text.startswith(PRIVACY[:15])]
    foot = sheet.paper.height - sheet.paper.board.y
    lines = [w for w in words if w.text.startswith("All of these")]
    assert lines
    assert min(w.y - w.size for w in lines) > foot
    assert bool([w for w in words if w.text == CUT]) == (length == 40)
    assert all(w.right <= sheet.paper.width - MARGIN + 0.5 for w in lines)


def test_one_page_for_each_skill():
    """Several skills make as many pages, each with its number, its skill and its own definition."""
    sheets = [sheet_of(squad(9), skill=key) for key in ("outlet_pass", "gap_at_line", "stop")]
    made = print_boards(sheets)
    pages = [" ".join(w.text for w in page) for page in words_of(made.content)]
    assert made.pages == 3
    for number, (text, sheet) in enumerate(zip(pages, sheets, strict=True), start=1):
        assert f"sheet {number} of 3" in text
        assert sheet.skill.name in text
        assert sheet.skill.definition.done in text
