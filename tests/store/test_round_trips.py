"""What is put into a season file comes out of it alike after it was closed and opened again.

Cases: team; players; skills; drills; practices; practices running and ended; attendance; stations; reps;
tallies of every kind; texts of any kind.
"""

from dataclasses import astuple, replace
from datetime import date
from uuid import UUID

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from lanterns_season import DRILLS, PLAYERS, PRACTICES, SKILLS, TEAM, definition, station, tally

from evaltrack.rink.plain_text import one_line, printable
from evaltrack.rink.player import Player, Position, Status
from evaltrack.rink.practice import Attendance, Practice, Rep, Surface
from evaltrack.rink.rotation.rotation_fact import Change, RotationFact
from evaltrack.rink.skill import Definition, Skill
from evaltrack.rink.tally import Outcome
from evaltrack.store.creating import create_season
from evaltrack.store.opening import open_season

FIRST = PRACTICES[0].key
# SQLite's text ends at no character but is UTF-8, which has no lone surrogates
text = st.text(st.characters(exclude_categories=["Cs"]), max_size=20)
line = text.map(lambda words: " ".join(words.split())).filter(bool)


def test_a_new_file_knows_team_players_and_catalogue(season_path):
    """The file that was made gives back whose it is, the roster by number and the catalogue in order."""
    with open_season(season_path) as season:
        assert str(season.team) == "Kettle Bay Lanterns 12U"
        assert [player.number for player in season.people.players()] == ["0", "00", "2", "7", "10"]
        assert sorted(season.people.players(), key=lambda p: p.name) == sorted(PLAYERS, key=lambda p: p.name)
        assert {player.id for player in season.people.players()} == {player.id for player in PLAYERS}
        assert season.catalogue.skills() == SKILLS
        assert season.catalogue.drills() == DRILLS


def test_practices_come_out_by_date(season_path):
    """Practices keep all their fields and come in order of date, whatever the order they came in."""
    earlier = Practice("2025-09-30.2", date(2025, 9, 30), Surface.CROSS)
    with open_season(season_path) as season:
        season.practices.add([earlier])
    with open_season(season_path) as season:
        assert season.practices.all() == [earlier, *PRACTICES]


def test_a_practice_that_is_there_stays_as_it_is(season):
    """Adding a practice of the same key again does not overwrite the first."""
    season.practices.add([replace(PRACTICES[0], surface=Surface.CROSS)])
    assert season.practices.all() == PRACTICES


def test_a_running_practice_is_found_until_it_ends(season_path):
    """After the app was closed amid a practice it finds that practice running, and not after its end."""
    with open_season(season_path) as season:
        assert season.practices.running() is None
        season.practices.begin(replace(PRACTICES[0], started_at=5), [], station())
    with open_season(season_path) as season:
        assert season.practices.running() == replace(PRACTICES[0], started_at=5)
        season.practices.end(FIRST, at=9)
        assert season.practices.running() is None
        assert season.practices.all()[0] == replace(PRACTICES[0], started_at=5, ended_at=9)
        season.practices.begin(replace(PRACTICES[0], started_at=20), [], station())
        assert season.practices.running() == replace(PRACTICES[0], started_at=5)


def test_a_practice_begun_without_a_moment_runs(season):
    """A practice that is begun runs, also when nobody said when it started."""
    season.practices.begin(PRACTICES[0], [], station())
    assert season.practices.running().key == FIRST


def test_attendance_comes_out_by_place(season_path):
    """Attendance keeps who is here and the place; what is written last counts, whatever the clock said."""
    here = [Attendance(p.id, True, place, at=10) for place, p in enumerate(reversed(PLAYERS))]
    gone = replace(here[1], here=False, at=9)
    with open_season(season_path) as season:
        season.practices.begin(PRACTICES[0], here, station())
        season.practices.mark(FIRST, [replace(here[1], at=11)])
        season.practices.mark(FIRST, [gone])
    with open_season(season_path) as season:
        assert season.practices.attendance(FIRST) == [here[0], gone, *here[2:]]


def test_each_tablet_has_its_own_station(season_path):
    """What a tablet watched last comes out with all its fields, and another tablet's is another."""
    last = station(step="three_on_one", skill="shot_on_net", observer="Wren", pressure=True, at=2**41)
    with open_season(season_path) as season:
        season.practices.watch(station())
        season.practices.watch(last)
        season.practices.watch(station(tablet="stand", observer="Tuomo"))
    with open_season(season_path) as season:
        assert season.practices.station(FIRST, "bench") == last
        assert season.practices.station(FIRST, "stand") == station(tablet="stand", observer="Tuomo")
        assert season.practices.station(FIRST, "else") is None
        assert season.people.observers() == ["Ines", "Tuomo", "Wren"]


def test_observers_come_out_by_name(season):
    """Observers are listed as a reader orders names: Ø under O, and small letters with the capitals."""
    for name in ("Zita", "Øyvind", "pia", "Olga", "Łucja", "Mika"):
        season.people.add_observer(name)
    found = [name for name in season.people.observers() if name not in ("Ines", "Tuomo", "Wren")]
    assert found == ["Łucja", "Mika", "Olga", "Øyvind", "pia", "Zita"]


def begin(season, rep: Rep) -> None:
    """Keep a rep with a fact of its own."""
    season.reps.begin(rep, RotationFact(FIRST, rep.tablet, rep.drill, rep.step, Change.NEXT, rep.id))


def test_reps_come_out_as_they_were_begun(season_path):
    """A rep keeps who was in which slot and whose line it is; a clock set back changes nothing."""
    slots = {"breakout_d": PLAYERS[0].id, "wall_f": PLAYERS[4].id}
    first, second = (Rep(FIRST, "breakout_attack", "two_on_one", slots, "bench", at) for at in (20, 10))
    with open_season(season_path) as season:
        for rep in (first, second):
            begin(season, rep)
    with open_season(season_path) as season:
        assert season.reps.all(FIRST) == [first, second]
        assert [rep.id for rep in season.reps.all(FIRST)] == [first.id, second.id]


@pytest.mark.parametrize("outcome", Outcome)
@pytest.mark.parametrize("pressure", [None, True, False])
def test_a_tally_comes_out_alike(season_path, outcome, pressure):
    """A tally keeps every field, with and without pressure and rep."""
    rep = Rep(FIRST, "breakout_attack", "two_on_one", {}, at=1)
    with_rep = tally(1, outcome, pressure=pressure, rep=rep.id, tablet="")
    with open_season(season_path) as season:
        begin(season, rep)
        season.log.add(with_rep)
        season.log.add(tally(0, outcome, pressure=pressure))
    with open_season(season_path) as season:
        assert season.log.tallies() == [tally(0, outcome, pressure=pressure), with_rep]


def test_tallies_of_a_practice_or_a_player(season):
    """Tallies can be asked for by practice, by player, and by both."""
    other = {"practice": PRACTICES[1].key}
    reed = {"player": PLAYERS[4].id}
    mine = [tally(0), tally(1, **other), tally(2, **reed), tally(3, **other, **reed)]
    season.log.add_many([], mine)
    assert season.log.tallies() == mine
    assert season.log.tallies(practice=FIRST) == [mine[0], mine[2]]
    assert season.log.tallies(player=PLAYERS[4].id) == [mine[2], mine[3]]
    assert season.log.tallies(practice=FIRST, player=PLAYERS[4].id) == [mine[2]]
    assert season.log.tallies(practice="2001-01-01") == []


def shown(skill: Skill) -> Skill:
    """Return a skill as it comes out: names on one line, nothing hidden."""
    words = Definition(*(printable(words) for words in astuple(skill.definition)))
    return replace(
        skill,
        name=one_line(skill.name),
        caption=one_line(skill.caption),
        definition=words,
        looks_like=printable(skill.looks_like),
        at_home=tuple(map(one_line, skill.at_home)),
    )


@settings(max_examples=20, deadline=None)
@given(name=text, word=text, at_home=st.lists(line, max_size=3), target=st.floats(0.01, 0.99))
def test_any_text_comes_out_alike(tmp_path_factory, name, word, at_home, target):
    """Names and definitions may hold quotes and any script; what hides in them comes out replaced."""
    player = Player("4", name, Position.GOALIE, None, Status.FULL, UUID(int=4))
    skill = Skill("stop", name, (Position.GOALIE,), word, definition(word), word, tuple(at_home), target)
    path = tmp_path_factory.mktemp("text") / "any.db"
    team = {**TEAM, "team": name}
    with create_season(path, **team, players=[player], skills=[skill], drills=DRILLS) as made:
        made.people.add_observer(word)
    with open_season(path) as season:
        assert season.team.name == one_line(name)
        assert season.people.players() == [replace(player, name=one_line(name))]
        assert season.people.observers() == [one_line(word)]
        assert season.catalogue.skills() == [shown(skill)]


def test_a_suggestion_with_line_breaks_stays_one(season):
    """A suggestion for home that was written over two lines does not become two suggestions."""
    season.catalogue.write([replace(SKILLS[0], at_home=("Pass to a\n  wall.", "Again."))], [])
    assert season.catalogue.skills()[0].at_home == ("Pass to a wall.", "Again.")
