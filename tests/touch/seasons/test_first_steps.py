"""From an empty home folder to a standing on the team board: touches and the system's keyboard."""

import re

from kivy.core.clipboard import Clipboard
from on_boards import both_ways_up, tap
from pressing import press

from evaltrack.device.season_places import demo_folder, seasons_folder
from evaltrack.device.tablet import load_tablet
from evaltrack.founding.demo import DEMO_FILE
from evaltrack.rink.tally import Outcome
from evaltrack.store.opening import open_season

SHEET = """#\tPlayer\tPos
2\tZoë Łukasik\tD
5\tBo Tarnquist\tD
8\tSeán O'Brien-Ó Sé\tdefence
11\tNguyễn Ánh\tLD
14\tKaan Yıldız\tF
17\tOyelaran, Amara\tLeft Wing
20\tÐóra Þórsdóttir\tC
23\tIlze Kēniņa\tRW
26\tMina Řeháček\tF
29\t雪 千代\tF
00\tLucía Íbarra\tF
0\tJonah Feld\tF
44\tDario "Dash" Sestri\tF
47\tAoife Ní Dhúlain\tF
50\tPer Håkansgård\tF
53\tChloé Côtéval\tF
31\tTheo Bannerman\tGoalie
"""


def standings_on_board(driver):
    """Go to the team board and return the standings once they are there."""
    press(driver, "Team board")
    driver.wait(lambda: driver.app.review.state == "ready")
    driver.settle()
    return driver.app.review.standings


@both_ways_up
def test_looking_round_takes_two_taps_to_a_standing(counted, tablet_home):
    """The invented team is made in the app's own folder, whole, and its calls stand on the team board."""
    assert list(tablet_home.glob("**/*.db")) == []
    press(counted, "Look round")
    assert counted.screen.making
    counted.wait(lambda: counted.screen.name == "home")
    counted.settle()
    standings = standings_on_board(counted)
    print(f"look round to the team board: {counted.taps} taps")
    assert counted.taps == 2
    assert any(standing.call == "work on" for standing in standings)
    assert counted.app.desk.season.path == demo_folder() / DEMO_FILE
    assert counted.app.desk.season.log.count() > 5000


@both_ways_up
def test_our_own_season_from_nothing_to_a_standing(counted, tablet_home):
    """Team, age class, seventeen players pasted, a practice, a tally: a standing on the team board."""
    press(counted, "Start our season")
    counted.type_in(counted.screen.ids.team, "Zoë's Łódź Kestrels")
    press(counted, "12U")
    assert "the rules of your league and association win" in counted.screen.customs
    press(counted, "Next: the roster")
    Clipboard.copy(SHEET)
    press(counted, "Paste")
    assert counted.screen.summary == "17 players"
    press(counted, "Make the season")
    counted.wait(lambda: counted.screen.name == "home")
    desk = counted.app.desk
    season = desk.season.path
    assert season.parent == seasons_folder()
    assert re.fullmatch(r"zoes-lodz-kestrels-12u-20\d\d-\d\d.db", season.name)
    assert str(season) in desk.message
    assert counted.screen.first == "Start a practice"
    press(counted, "Start a practice")
    press(counted, "Start")
    assert counted.screen.name == "board"
    tap(counted, 0, Outcome.DONE)
    assert desk.total == 1
    press(counted, "Practice")
    press(counted, "End practice")
    press(counted, "End it")
    (standing,) = standings_on_board(counted)
    print(f"our own season to the team board: {counted.taps} taps, {counted.words} name typed")
    assert (standing.tries, standing.done) == (1, 1)
    names = [player.name for player in desk.players]
    assert "Amara Oyelaran" in names
    assert "Ðóra Þórsdóttir" in names
    assert len(names) == 17


def test_the_season_made_by_touch_is_the_one_on_disk_and_opens_at_the_next_start(counted, drive):
    """What was pasted is in the file, name by name, and the tablet opens it by itself."""
    press(counted, "Start our season")
    counted.type_in(counted.screen.ids.team, "Kestrels")
    press(counted, "10U")
    press(counted, "Next: the roster")
    Clipboard.copy(SHEET)
    press(counted, "Paste")
    press(counted, "Make the season")
    counted.wait(lambda: counted.screen.name == "home")
    path = counted.app.desk.season.path
    counted.close()
    with open_season(path) as season:
        players = {player.number: player for player in season.people.players()}
        assert (str(season.team), season.invented) == ("Kestrels 10U", False)
    assert len(players) == 17
    assert (players["00"].name, players["0"].name) == ("Lucía Íbarra", "Jonah Feld")
    assert (players["31"].position, players["11"].position) == ("G", "D")
    assert load_tablet().season == str(path)
    assert drive().app.screens.current_screen.summary.startswith("17 players")
