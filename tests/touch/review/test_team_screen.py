"""The team board under real touches."""

from dataclasses import replace
from datetime import date

import pytest
from driver import Finger
from kivy.graphics import Ellipse, Line, Rectangle
from kivy.metrics import dp, sp
from made_standings import AnsweringThread, standing, standings_for

from evaltrack.analysis.standings.standing import Call
from evaltrack.analysis.standings.strict_observer import StrictObserver, TeamCount
from evaltrack.device.tablet import keep_tablet, load_tablet
from evaltrack.rink.board_grid import Rect
from evaltrack.rink.player import Player, Position, by_number
from evaltrack.rink.practice import Practice
from evaltrack.rink.tally import Outcome, Tally
from evaltrack.store.creating import create_season
from evaltrack.store.opening import open_season
from evaltrack.touch.app import EvaltrackApp
from evaltrack.touch.review.call_marks import call_width
from evaltrack.touch.review.review import Review
from evaltrack.touch.review.team_cell import count_size
from evaltrack.touch.review.team_choice import Choice, choose
from evaltrack.touch.review.team_layout import LEAST_ROW, MOST_ROW, Columns
from evaltrack.touch.review.team_names import name_size
from evaltrack.touch.widgets import fonts
from evaltrack.touch.widgets.glyphs import texture
from evaltrack.words.wording import count_words


@pytest.fixture
def board(drive, season_path):
    """Return a function that opens the team board over hand-made standings."""

    def opened(make=standings_for, path=season_path):
        app = EvaltrackApp(path)
        driver = drive(app=app)
        desk = app.desk
        asked = []

        def read(_):
            asked.append(1)
            return make(desk.players, list(desk.skills.values()))

        app.review = Review(desk, AnsweringThread(read))
        app.go("team")
        driver.wait(lambda: app.review.state == "ready")
        driver.settle()
        screen = app.screens.get_screen("team")
        screen.asked = asked
        return driver, screen

    return opened


def row(screen, place):
    return screen.ids.rows.to_window(*screen.ids.rows.row_center(place))


def shown(screen):
    return screen.ids.rows.table


def press(driver, button):
    driver.tap(button, frames=3)
    driver.settle()  # the legend's lines change with what is shown, and the rows' room with them


def season_of(path, count, season_path):
    """Make a season with so many players."""
    with open_season(season_path) as season:
        skills, drills = season.catalogue.skills(), season.catalogue.drills()
    players = [Player(str(n + 1), f"Player {n + 1}", Position.FORWARD) for n in range(count)]
    create_season(
        path, team="Lanterns", age_class="12U", players=players, skills=skills, drills=drills
    ).close()
    return path


def test_tap_on_a_row_opens_that_player(board):
    """One tap on a row, wherever in it, opens the page of the player whose row it is."""
    driver, screen = board()
    wanted = shown(screen).players[6]
    driver.tap(row(screen, 6), frames=3)
    driver.wait(lambda: driver.app.screens.current == "player")
    assert driver.app.screens.get_screen("player").number == wanted.number


def test_twenty_players_fit_without_scrolling(board):
    """At 1280 by 800 all rows of all blocks are in view, none lower than the least, once the hint is gone."""
    keep_tablet(load_tablet(), known_acts="team")
    _, screen = board()
    assert len(shown(screen).players) == 20
    assert screen.ids.rows.height <= screen.ids.view.height + 1
    assert screen.ids.rows.rows.each >= sp(LEAST_ROW)


def test_forty_players_scroll_and_scrolling_opens_nobody(board, tmp_path, season_path):
    """Rows never get lower than the least; a finger that moves scrolls."""
    driver, screen = board(path=season_of(tmp_path / "forty.db", 40, season_path))
    rows = screen.ids.rows
    assert rows.rows.each == sp(LEAST_ROW)
    before = screen.ids.view.scroll_y
    finger = Finger(600, 300).down()
    for y in range(300, 560, 20):
        finger.to(600, y)
        driver.frames(1)
    finger.up()
    driver.frames(3)
    assert screen.ids.view.scroll_y < before
    assert driver.app.screens.current == "team"


def early(players, skills):
    """Return of four players one share that is firm, one of too few tries, one doubted, one that is both."""
    whole = [standing(player, skills[0], done=24) for player in players[:4]]
    few = replace(whole[1], call=Call.TOO_FEW, tries=2, done=2, practices=1)
    doubted = replace(whole[2], doubt="The estimate did not settle.", path=())
    return [whole[0], few, doubted, replace(few, player=players[3].number, doubt="Too little.", path=())]


def test_only_what_is_firm_has_a_dot(board):
    """Of the plain counts of an early season nothing is drawn that looks like a share of none or all."""
    _, screen = board(early)
    (group,) = screen.ids.rows.picture.canvas.children
    dots, ticks = ([p for p in group.children if isinstance(p, kind)] for kind in (Ellipse, Line))
    first, half = screen.ids.rows.row_center(0)[1], screen.ids.rows.rows.each / 2
    assert len(dots) == 1
    assert abs(dots[0].pos[1] - first) < half
    assert ticks
    assert all(abs(y - first) <= half for tick in ticks for y in tick.points[1::2])


def test_the_legend_speaks_of_what_is_drawn(board):
    """Dot, bar and tick are told only where there are some, grey only where there is some."""
    _, screen = board(lambda players, skills: early(players, skills)[1:])
    assert [word in screen.legend for word in ("Dot:", "Bar:", "Tick:", "Grey:")] == [False] * 3 + [True]
    _, screen = board()
    assert [word in screen.legend for word in ("Dot:", "Bar:", "Tick:", "Grey:")] == [True] * 3 + [False]
    _, screen = board(lambda players, skills: [])
    assert screen.legend == ""


@pytest.mark.parametrize("window", [(1280, 800), (800, 1280)], ids=["wide", "upright"], indirect=True)
def test_the_longest_legend_has_its_room(board, window):
    """However many lines it takes, no row of the table lies under it."""
    _, screen = board(early)
    (words,) = [w for w in screen.walk(restrict=True) if getattr(w, "text", "") == screen.legend]
    assert words.texture_size[1] <= words.height
    assert screen.ids.view.y >= words.top - 1


def test_order_is_by_number_whatever_the_shares(board):
    """The best of the hand-made standings have the highest numbers, and still stand last."""
    _, screen = board()
    for block in shown(screen).blocks:
        assert list(block.players) == sorted(block.players, key=by_number)


def test_by_name_sorts_by_name_and_back(board):
    """The second tap brings the order by number back."""
    driver, screen = board()
    press(driver, screen.ids.order)
    names = [[p.name for p in block.players] for block in shown(screen).blocks]
    assert (names[0][0], names[0][-1]) == ("Aoife Ní Dhúlain", "Zoë Łukasik")
    assert names[1][0] == "Amara Oyelaran"
    press(driver, screen.ids.order)
    assert shown(screen).players[0].number == "2"


@pytest.mark.parametrize(("button", "group"), [("defenders", "D"), ("forwards", "F"), ("goalies", "G")])
def test_filter_limits_players_and_skills(board, button, group):
    """A position group shows its own players and the skills that are watched in them."""
    driver, screen = board()
    press(driver, screen.ids[button])
    assert {p.position for p in shown(screen).players} == {group}
    assert all(s.suits(Position(group)) for s in shown(screen).skills)
    press(driver, screen.ids.everyone)
    assert len(shown(screen).players) == 20


@pytest.mark.parametrize("window", [(1280, 800), (800, 1280)], ids=["wide", "upright"], indirect=True)
def test_each_group_has_its_own_skills_and_each_of_them_once(board, window):
    """No column is blank by its nature; what finds no room beside the others stands in a block below."""
    _, screen = board()
    blocks = shown(screen).blocks
    assert [block.group for block in blocks] == sorted(
        (block.group for block in blocks), key=list(Position).index
    )
    for group in Position:
        own = [block for block in blocks if block.group == group]
        keys = [skill.key for block in own for skill in block.skills]
        assert keys == [key for key, skill in screen.desk.skills.items() if skill.suits(group)]
        assert len({block.players for block in own}) == 1
    assert all(len(block.skills) <= Columns(screen.width).most for block in blocks)


def test_a_skill_of_another_group_is_shown_where_somebody_was_seen_in_it(board):
    """A forward who was watched as a defender has that standing in the forwards' block."""
    _, screen = board()
    skill = screen.desk.skills["gap_up"]
    forward = next(p for p in screen.desk.players if p.position == Position.FORWARD)
    table = choose(screen.desk.players, screen.desk.skills.values(), [standing(forward, skill)], Choice())
    (block,) = [block for block in table.blocks if block.group == Position.FORWARD]
    assert skill in block.skills
    assert table.shown == [standing(forward, skill)]


def test_a_heading_opens_its_skill(board):
    """One tap on a heading, in whichever block, opens that skill for the whole team."""
    driver, screen = board()
    for heading in (screen.ids.rows.headings[1], screen.ids.rows.headings[-1]):
        driver.app.go("team")
        driver.settle()
        driver.tap(heading, frames=3)
        driver.wait(lambda: driver.app.screens.current == "skill")
        assert driver.app.screens.get_screen("skill").skill == heading.skill.key


def test_only_calls_leaves_out_who_and_what_has_none(board):
    """With one call in the season, the board is that one player and that one skill."""

    def one_call(players, skills):
        return [standing(players[2], skills[0], call=Call.WORK_ON), standing(players[3], skills[1])]

    driver, screen = board(one_call)
    press(driver, screen.ids.calls)
    table = shown(screen)
    assert [p.number for p in table.players] == ["8"]
    assert [s.key for s in table.skills] == ["outlet_pass"]


@pytest.mark.parametrize("window", [(800, 1280)], ids=["upright"], indirect=True)
def test_only_calls_has_no_empty_row_in_any_block(board, window):
    """Whoever has no call among a block's skills does not stand in it, and stands in another."""

    def calls(players, skills):
        own = [skill for skill in skills if skill.suits(players[0].position)]
        everywhere = [standing(players[5], skill, call=Call.SOLID) for skill in own]
        first, last = (standing(players[i], own[j], call=Call.WORK_ON) for i, j in ((0, 0), (6, -1)))
        return [*everywhere, first, last]

    driver, screen = board(calls)
    press(driver, screen.ids.calls)
    table = shown(screen)
    assert [[p.number for p in block.players] for block in table.blocks] == [["2", "17"], ["17", "20"]]
    assert all(
        any(table.cell(p, skill) for skill in block.skills) for block in table.blocks for p in block.players
    )


def names_drawn(screen):
    """Return the textures of the names that the rows show: all that begins where names begin."""
    rows = screen.ids.rows
    (group,) = rows.picture.canvas.children
    return [
        part.texture
        for part in group.children
        if isinstance(part, Rectangle) and part.texture and part.pos[0] == round(rows.x + sp(64))
    ]


@pytest.mark.parametrize("window", [(1280, 800), (800, 1280)], ids=["wide", "upright"], indirect=True)
def test_names_have_one_size_and_their_room(board, window):
    """However long one of them is, all names are drawn in one size, and none reaches into the counts."""
    _, screen = board()
    drawn = names_drawn(screen)
    assert len(drawn) >= 20
    assert len({name.height for name in drawn}) == 1
    assert max(name.width for name in drawn) <= Columns(screen.width).names - sp(74)


def test_short_names_have_the_largest_size():
    """The size of names falls with the longest of them, and no further than can be read."""
    place = Rect(0, 0, sp(232), sp(32))
    longest = "Bartholomew Featherstonehaugh-O'Brien"
    sizes = [name_size(["Bo Lind", name], place) for name in ("Ada Berg", "Maximiliane Osterwald", longest)]
    assert sizes == sorted(sizes, reverse=True)
    assert (sizes[0], sizes[-1]) == (sp(17), sp(15))
    assert name_size([longest], place._replace(height=sp(60))) == sp(15)


@pytest.mark.parametrize("window", [(1280, 800), (800, 1280)], ids=["wide", "upright"], indirect=True)
def test_the_bar_has_room_for_the_count_and_its_day(board, window):
    """Even a season of 12,345 tries and 100 practices is said whole, with its last day."""
    driver, screen = board()
    assert screen.summary.endswith("at 4 practices, to 30 Sep 2025")
    screen.summary = "12,345 tries at 100 practices, to 25 Nov 2026"
    driver.settle()
    (words,) = [w for w in screen.walk(restrict=True) if getattr(w, "text", "") == screen.summary]
    assert not words.is_shortened


def test_only_calls_without_any_says_what_a_call_needs(board):
    """The board is not simply blank."""
    driver, screen = board()
    press(driver, screen.ids.calls)
    assert "10 tries over 3 practices" in screen.empty
    press(driver, screen.ids.calls)
    assert screen.empty == ""


def test_tallies_of_which_none_counts_now_are_not_denied(board, season_path):
    """Under new words no try is left to show, but home counts the tallies, and so does the board."""
    with open_season(season_path) as season:
        practice, player = Practice("2026-01-13", date(2026, 1, 13)), season.people.players()[0]
        tally = Tally(practice.key, player.id, "stop", Outcome.UNSEEN, "stops_starts", "on_lines", "Ines")
        season.log.add_many([practice], [tally])
    _, screen = board(lambda players, skills: [])
    assert screen.empty == "There is no try that counts yet. The season has 1 tally: 1 unseen."
    assert not screen.takes_hint


def test_empty_season_says_where_tallies_come_from(board):
    """Before the first tally the board says so and shows no rows to tap."""
    driver, screen = board(lambda players, skills: [])
    assert "No tallies yet" in screen.empty
    driver.tap((600, 400), frames=3)
    assert driver.app.screens.current == "team"


@pytest.mark.parametrize("count", [0, 1])
def test_small_rosters(board, tmp_path, season_path, count):
    """Nobody on the roster is said in words; one player has one row of ordinary height."""
    _, screen = board(path=season_of(tmp_path / "small.db", count, season_path))
    assert len(shown(screen).players) == count
    assert ("no players" in screen.empty) == (count == 0)
    assert screen.ids.rows.rows.each <= sp(MOST_ROW)


def test_new_tally_makes_the_board_stale(board):
    """After a tally on the bench the next visit works the standings out again, and only then."""
    driver, screen = board()
    app, desk = driver.app, screen.desk
    app.go("home")
    app.go("team")
    driver.frames(3)
    assert len(screen.asked) == 1
    desk.begin(date(2026, 1, 13), desk.players, "breakout_attack", "two_on_one", "Marit")
    desk.tally(desk.players[0].id, Outcome.DONE)
    app.go("home")
    app.go("team")
    driver.wait(lambda: app.review.state == "ready")
    assert len(screen.asked) == 2


def test_wheel_opens_nobody(board):
    """The wheel of a mouse is not a finger."""
    driver, screen = board()
    finger = Finger(*row(screen, 3))
    finger.profile = ["pos", "button"]
    finger.button = "scrolldown"
    finger.down()
    driver.frames(2)
    finger.up()
    driver.frames(3)
    assert driver.app.screens.current == "team"


def test_call_never_touches_the_count(board):
    """In the narrowest column that is used, the longest counts of a season leave a gap to the call."""
    board()
    for width in (1280, 800):
        columns = Columns(width, Columns(width).most)
        assert columns.each >= sp(114)
        left, right = columns.span(0)
        for call, font in ((Call.WORK_ON, fonts.BOLD), *((call, fonts.PLAIN) for call in list(Call))):
            for done, tries in ((9, 20), (38, 40), (88, 120), (188, 240)):
                text = count_words(done, tries)
                room = right - left - call_width(call, sp(12), in_words=False)
                size = count_size(text, font, room - dp(5))
                assert texture(text, round(size), font).width + dp(3) <= room


class TellingThread(AnsweringThread):
    """Answers with standings and, last, with observers who stand out."""

    def __init__(self, read, strict):
        super().__init__(read)
        self._strict = strict

    def ask(self, work, done, failed):
        super().ask(work, lambda pieces: done([*pieces, self._strict]), failed)


def test_an_observer_who_stands_out_is_named_and_can_be_read_of(drive, season_path):
    """A line names them; a tap opens what to do and the team's counts with and without, another closes it."""
    app = EvaltrackApp(season_path)
    driver, desk = drive(app=app), app.desk
    keys = list(desk.skills)[:2]
    counts = tuple(TeamCount(key, 20 * place, 12 * place, 8, 6) for place, key in enumerate(keys, 1))
    marit = StrictObserver("Marit", ("Ines",), 25, 0.8, 0.4, 1.2, 0.97, counts)
    thread = TellingThread(lambda _: standings_for(desk.players, list(desk.skills.values())), (marit,))
    app.review = Review(desk, thread)
    app.go("team")
    driver.wait(lambda: app.review.state == "ready")
    screen = app.screens.get_screen("team")
    driver.wait(lambda: screen.strict)
    driver.settle()
    assert screen.strict == "Marit is much stricter than Ines, or notes mostly failures"
    assert (screen.strict_words, screen.ids.strict_words.height) == ("", 0)
    driver.tap(screen.ids.strict)
    driver.wait(lambda: screen.strict_words)
    driver.settle()
    told = screen.ids.strict_words.text
    assert "Note every try of a player or none" in told
    for count in counts:
        name = desk.skills[count.skill].name
        assert f"{name}: {count.done} of {count.tries}, 60 %; without Marit 6 of 8, 75 %" in told
    assert screen.ids.strict_words.height > dp(60)
    driver.tap(screen.ids.strict)
    driver.wait(lambda: not screen.strict_words)


def test_where_nobody_stands_out_there_is_no_line(board):
    """It takes no room and no tap."""
    _, screen = board()
    assert (screen.strict, screen.ids.strict.height, screen.ids.strict.disabled) == ("", 0, True)
