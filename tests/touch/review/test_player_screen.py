"""A player's page under real touches."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from kivy.graphics import Ellipse, Line, Mesh, Rectangle
from kivy.metrics import dp
from made_standings import AnsweringThread, standing, standings_for

from evaltrack.analysis.standings.standing import Call, Met, Seen
from evaltrack.rink.practice import Practice
from evaltrack.rink.tally import Outcome, Tally
from evaltrack.store.opening import open_season
from evaltrack.touch.app import EvaltrackApp
from evaltrack.touch.review.review import Review
from evaltrack.touch.widgets import fonts
from evaltrack.touch.widgets.glyphs import texture
from evaltrack.touch.widgets.trend_geometry import TrendGeometry
from evaltrack.words.recency import recency_words
from evaltrack.words.wording import told


@pytest.fixture
def page(drive, season_path):
    """Return a function that opens the page of a player over hand-made standings."""

    def opened(number, make=standings_for):
        app = EvaltrackApp(season_path)
        driver = drive(app=app)
        desk = app.desk
        if make:
            app.review = Review(
                desk, AnsweringThread(lambda _: make(desk.players, list(desk.skills.values())))
            )
        app.go("team")
        driver.wait(lambda: app.review.state == "ready", timeout=60)
        app._to_player(None, number)
        driver.settle()
        return driver, app.screens.get_screen("player")

    return opened


@pytest.fixture
def tallied(season_path):
    """Put tallies of the first player on disk: three practices, three skills."""
    with open_season(season_path) as season:
        player = season.people.players()[0]
        days = [date(2025, 10, 1) + timedelta(weeks=week) for week in range(3)]
        practices = [Practice(day.isoformat(), day) for day in days]
        season.log.add_many(
            practices,
            [
                Tally(p.key, player.id, skill, outcome, "breakout_attack", "two_on_one", "Marit")
                for p in practices
                for skill in ("outlet_pass", "gap_up", "stop")
                for outcome in [Outcome.DONE] * 5 + [Outcome.MISSED] * 3
            ],
        )
    return season_path


def keys(screen):
    return [chart.skill.key for chart in reversed(screen.ids.charts.children)]


def test_a_chart_for_each_skill_in_catalogue_order(page):
    """The skills of a defender stand in the order of the catalogue, whatever their shares."""
    _, screen = page("2")
    desk = screen.desk
    assert keys(screen) == [k for k, s in desk.skills.items() if s.suits(desk.players[0].position)]
    assert screen.heading == "2  Zoë Łukasik"
    assert screen.summary == "defender, seen at 4 practices"


def aged(players, skills):
    """Return three standings of the first player: 118 tries, 18 of them in the last third of four weeks."""
    own = [skill for skill in skills if skill.suits(players[0].position)][:3]
    made = [standing(players[0], skill, tries=118, done=105) for skill in own]
    early, late = (date(2025, 9, 9), 100), (date(2025, 9, 29), 18)
    seen = tuple(Seen(day, tries, tries - 5) for day, tries in (early, late))
    return [replace(one, seen=seen) for one in made]


def few_and_doubted(players, skills):
    """Return of the first player a skill of two tries, and one whose estimate does not stand."""
    few, other = (standing(players[0], skill, done=24) for skill in skills[:2])
    few = replace(few, call=Call.TOO_FEW, tries=2, done=2, practices=1, seen=few.seen[:1])
    return [few, replace(other, doubt="The estimate did not settle.", path=())]


def drawn(chart, *kinds):
    """Return how many instructions of these kinds a chart's canvas has."""
    (group,) = chart.canvas.children
    return sum(isinstance(part, kinds) for part in group.children)


def test_plain_counts_are_words_and_no_rings(page):
    """A card of too few tries, or of a doubted estimate, has no ring, line, band or target."""
    driver, screen = page("2", make=few_and_doubted)
    assert [drawn(chart, Ellipse, Line, Mesh) for chart in screen.ids.charts.children] == [0, 0]
    assert [word in screen.told for word in ("Rings", "Bands", "target", "Grey:")] == [False] * 3 + [True]
    driver.tap(screen.ids.charts.children[1])
    driver.wait(lambda: screen.why)
    assert screen.why == "Outlet pass: too few yet: 8 more tries, at 2 more practices."
    driver.tap(screen.ids.charts.children[0])
    driver.wait(lambda: "did not settle" in screen.why)


def with_opponents(players, skills):
    """Return of the first player a plain count of two tries and one skill more; both know who was met."""
    few, other = (standing(players[0], skill, done=12) for skill in skills[:2])
    few = replace(few, call=Call.TOO_FEW, tries=2, done=2, practices=1, seen=few.seen[:1])
    return [replace(few, met=(Met("17", 2, 2),)), replace(other, met=(Met("17", 9, 4), Met("9", 6, 5)))]


def test_the_page_says_whom_a_player_met(page):
    """Below what moved a share, or a plain count, stands who was met: number, tries and dones."""
    driver, screen = page("2", make=with_opponents)
    few, other = reversed(screen.ids.charts.children)
    driver.tap(few)
    driver.wait(lambda: screen.why)
    assert screen.why.splitlines()[-1] == "Met by rep: 17 in 2 (2 done)"
    driver.tap(other)
    driver.wait(lambda: "17 in 9" in screen.why)
    assert screen.why.splitlines()[-1] == "Met by rep: 17 in 9 (4 done), 9 in 6 (5 done), not known in 9"
    assert not any(player.name in screen.why for player in driver.app.desk.players)


@pytest.mark.parametrize("window", [(1280, 800), (800, 1280)], ids=["wide", "upright"], indirect=True)
def test_few_recent_tries_stand_beside_the_count_and_below_the_chart(page, window):
    """Whole, also where three charts stand side by side; and in what is told when the chart is tapped."""
    driver, screen = page("2", make=aged)
    chart = screen.ids.charts.children[0]
    words = recency_words(chart.standing)
    assert words.startswith("18 of 118 tries since ")
    line = f"{told(chart.standing)}; {words}"
    textures = [part.texture for part in chart.canvas.children[0].children if isinstance(part, Rectangle)]
    whole = [texture(line, round(dp(size)), fonts.PLAIN) for size in (16, 14)]
    assert {drawn.width for drawn in textures if drawn} & {drawn.width for drawn in whole}
    driver.tap(chart)
    driver.wait(lambda: words in screen.why.splitlines())


def test_a_firm_share_is_drawn_and_its_legend_told(page):
    """A ring for each practice and the dot at the end of the line; nothing is said of grey."""
    _, screen = page("2")
    rings = [drawn(chart, Line) for chart in screen.ids.charts.children]
    assert min(rings) >= 4
    assert [word in screen.told for word in ("Line", "Rings", "Bands", "target", "Grey:")] == [True] * 4 + [
        False
    ]


def test_next_and_previous_go_by_number(page):
    """The first player has none before them and the last one none after."""
    driver, screen = page("2")
    assert (screen.before, screen.after) == ("", "5 Bo Tarnquist")
    driver.tap(screen.ids.after, frames=3)
    assert (screen.number, screen.before) == ("5", "2 Zoë Łukasik")
    driver.tap(screen.ids.before, frames=3)
    driver.tap(screen.ids.before, frames=3)
    assert screen.number == "2"
    screen.number = "59"
    driver.frames(3)
    assert screen.after == ""


def test_charts_do_not_overlap(page):
    """Three charts in a row, each inside the page and clear of the next."""
    _, screen = page("2")
    charts = screen.ids.charts.children
    assert screen.columns == 3
    for one in charts:
        assert one.width > 350
        assert one.height >= 180
        for other in charts:
            if one is not other:
                apart = (
                    one.right <= other.x or other.right <= one.x or one.top <= other.y or other.top <= one.y
                )
                assert apart


def test_player_without_tallies(page):
    """A page without charts says why, and offers no note."""
    driver, screen = page("2", make=lambda players, skills: standings_for(players[1:], skills))
    assert screen.empty == "No tallies of this player yet."
    assert screen.ids.note.disabled
    driver.tap(screen.ids.after, frames=3)
    assert screen.empty == ""
    assert len(keys(screen)) > 0


def test_back_goes_to_the_team(page):
    """One tap leads back."""
    driver, screen = page("2")
    driver.tap(screen.ids.back, frames=3)
    assert driver.app.screens.current == "team"


def test_one_tap_leads_to_the_page_of_the_family(tallied, page):
    """And Back from there leads to the player again."""
    driver, screen = page("2")
    driver.tap(screen.ids.note, frames=3)
    note = driver.app.screens.current_screen
    assert (note.name, note.heading) == ("note", "2  Zoë Łukasik")
    note.dispatch("on_back")
    assert driver.app.screens.current_screen is screen


def test_a_tapped_chart_says_what_moved_its_share(page, tallied):
    """The way from the plain count to the share stands below the charts, until the same chart is tapped."""
    driver, screen = page("2", make=None)
    chart = screen.ids.charts.children[-1]
    driver.tap(chart)
    driver.wait(lambda: screen.why)
    one = screen.review.of("2")[0]
    assert screen.why.startswith(f"{chart.skill.name}. From {one.done} of {one.tries}, ")
    assert chart.asked
    driver.tap(screen.ids.charts.children[-2])
    driver.wait(lambda: screen.ids.charts.children[-2].asked)
    assert not chart.asked
    driver.tap(screen.ids.charts.children[-2])
    driver.wait(lambda: not screen.why)


def test_the_lowest_chart_stays_in_view_when_it_is_asked(page):
    """The words that come up below do not cover the chart that they are about."""
    driver, screen = page("2")
    chart = screen.ids.charts.children[0]
    driver.tap(chart)
    driver.wait(lambda: screen.why)
    driver.wait(lambda: chart.to_window(*chart.pos)[1] >= screen.ids.why.top - 1)
    driver.tap(screen.ids.after)
    driver.wait(lambda: screen.number == "5")
    assert screen.asked == screen.why == ""


def seen_late(players, skills):
    """Return a standing of the first player, who was there for four weeks and seen in the middle two."""
    one = standing(players[0], skills[0])
    return [replace(one, seen=one.seen[1:3])]


def test_the_curve_goes_from_first_seen_to_last_seen_and_the_share_now_stands_apart(page):
    """Nothing is drawn of the weeks in which nobody saw the player; the dot of now keeps its place."""
    _, screen = page("2", make=seen_late)
    (chart,) = screen.ids.charts.children
    geometry = TrendGeometry(chart._plot(), chart.axis, dp(1))
    (group,) = chart.canvas.children
    days = [geometry.x(point.on) for point in chart.standing.path]
    bands = [part for part in group.children if isinstance(part, Mesh)]
    for band in bands:
        drawn = band.vertices[::4]
        assert (min(drawn), max(drawn)) == pytest.approx((days[1], days[2]))
    now = [part for part in group.children if isinstance(part, Ellipse)][-1]
    assert now.pos[0] + now.size[0] / 2 == pytest.approx(days[-1])
