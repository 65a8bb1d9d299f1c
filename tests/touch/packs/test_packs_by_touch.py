"""Packs written and taken in under real touches.

Cases: all, sealed under six new words, and since an earlier one; what a pack would bring is shown and nothing
is changed; a backup before; what lost is listed; a damaged pack, a wrong passphrase, a practice that runs.
"""

import shutil
from dataclasses import replace
from datetime import date

import pytest
from pressing import keys_of, press

from evaltrack.device.backup_places import Why, backups_of, copies_elsewhere
from evaltrack.device.sealing import is_sealed, opened, sealed
from evaltrack.device.six_words import WORDS, six_words
from evaltrack.rink.days import in_full
from evaltrack.rink.ident import new_id, now_ms
from evaltrack.rink.practice import Attendance, Practice, Station
from evaltrack.rink.tally import Outcome, Tally
from evaltrack.store.opening import open_season
from evaltrack.store.packs.pack_file import read_pack
from evaltrack.touch.packs.packs_screen import PacksScreen

TODAY = date.today()


@pytest.fixture
def packs(drive, season_path):
    """Return the app with its packs in front."""
    driver = drive(season_path)
    driver.app.go("packs")
    driver.settle()
    return driver


@pytest.fixture
def other_tablet(season_path, tmp_path):
    """Have a copy of the season on another tablet, with a practice of three tallies and another number."""
    path = shutil.copy(season_path, tmp_path / "other.db")
    with open_season(path) as season:
        key, players, now = TODAY.isoformat(), season.people.players(), now_ms()
        skill = season.catalogue.skills()[0]
        where = "breakout_attack", "two_on_one"
        marks = [Attendance(player.id, True, place, now) for place, player in enumerate(players)]
        station = Station(key, *where, skill.key, "Edda", False, "other", now)
        season.practices.begin(Practice(key, TODAY, started_at=now), marks, station)
        for player in players[:3]:
            made = Tally(key, player.id, skill.key, Outcome.DONE, *where, "Edda", tablet="other", at=now)
            season.log.add(replace(made, id=new_id()))
        season.people.change([replace(players[0], number="91")], TODAY, "other")
    return path


def pack_of(path, target):
    """Write a pack of a season file."""
    with open_season(path) as season:
        target.write_bytes(season.packs.pack("other"))
    return target


def done(driver) -> PacksScreen:
    """Wait for what was asked, and return the screen."""
    screen = driver.app.screens.current_screen
    driver.wait(lambda: not screen.busy, timeout=60)
    driver.settle()
    return screen


def look_into(driver, pack) -> PacksScreen:
    """Choose a pack to take in, by touch, and wait for what it would bring."""
    press(driver, "Take in a pack")
    driver.app.screens.current_screen.dispatch("on_chosen", str(pack))
    return done(driver)


def lines(screen) -> list[str]:
    """Return every line that can be read."""
    return [line for part in screen.walk() for line in str(getattr(part, "text", "")).split("\n")]


def test_a_pack_is_sealed_under_six_new_words(packs, write_to, stick):
    """They stand in the field to be written down; the pack opens with them, and is known to be out."""
    front = packs.app.screens.current_screen
    front.ids.passphrase.text = "seven c"
    press(packs, "Write a pack")
    assert (packs.app.screens.current, "at least 8 characters" in front.words) == ("packs", True)
    front.ids.passphrase.text = "eight ch"
    press(packs, "Write a pack")
    assert packs.app.screens.current == "file"
    press(packs, "Back")
    press(packs, "Six new words")
    words = front.ids.passphrase.text
    press(packs, "Write a pack")
    screen = write_to(packs)
    (path,) = stick.iterdir()
    assert "sealed" in screen.words
    content = path.read_bytes()
    assert is_sealed(content)
    assert read_pack("p", opened(content, words)).counts()
    ident = packs.app.desk.season.ident
    assert [(copy.path, copy.sealed) for copy in copies_elsewhere(ident)] == [(path, True)]
    assert any(str(path) in line for line in lines(screen))
    press(packs, "Back")
    assert (packs.app.screens.current, front.ids.passphrase.text) == ("seasons", "")


def test_a_pack_since_an_earlier_one_has_what_is_new(packs, write_to, stick, tmp_path):
    """The earlier one is chosen by touch; a second touch takes all again."""
    earlier = tmp_path / "e.pack"
    earlier.write_bytes(packs.app.desk.season.packs.pack("here"))
    press(packs, "All, or since a pack")
    packs.app.screens.current_screen.dispatch("on_chosen", str(earlier))
    packs.settle()
    assert "Only what is new since e.pack." in lines(packs.app.screens.current_screen)
    press(packs, "Write a pack")
    write_to(packs)
    (path,) = stick.iterdir()
    assert read_pack("p", path.read_bytes()).header.since == read_pack("e", earlier.read_bytes()).digest
    assert any(line.endswith(", not sealed") for line in lines(packs.app.screens.current_screen))
    press(packs, "What lost")
    assert done(packs).words == "No change has lost against a newer one."
    press(packs, "All, or since a pack")
    assert not any("Only what is new" in line for line in lines(packs.app.screens.current_screen))


def test_what_a_pack_would_bring_is_shown_first(packs, other_tablet, tmp_path):
    """How many tallies, of which practice, by whom; nothing is changed before the answer, or by Leave it."""
    screen = look_into(packs, pack_of(other_tablet, tmp_path / "other.pack"))
    assert f"{in_full(TODAY)}, noted by Edda: 3 tallies." in lines(screen)
    desk = packs.app.desk
    assert (desk.season.log.count(), backups_of(desk.season.ident)) == (0, [])
    keys = {key.title: (key.small, key.active) for key in keys_of(packs)}
    assert keys["Take it in"] == ("into this season", True)
    assert keys["Leave it"] == ("nothing is changed", False)
    press(packs, "Leave it")
    assert (screen.asking, desk.season.log.count()) == (False, 0)


def test_a_pack_is_taken_in_after_a_backup(packs, other_tablet, tmp_path):
    """The app shows what came at once; the backup has the state before it."""
    screen = look_into(packs, pack_of(other_tablet, tmp_path / "other.pack"))
    press(packs, "Take it in")
    done(packs)
    desk = packs.app.desk
    assert screen.words == "The pack is in."
    assert (desk.season.log.count(), desk.players[-1].number) == (3, "91")
    (backup,) = backups_of(desk.season.ident)
    assert backup.why is Why.JOIN


def test_what_lost_is_told_and_can_be_looked_up(packs, other_tablet, tmp_path):
    """Where both changed one number, the screen names both, then and later."""
    desk = packs.app.desk
    assert desk.change_roster([replace(desk.players[0], number="77")])
    look_into(packs, pack_of(other_tablet, tmp_path / "other.pack"))
    press(packs, "Take it in")
    screen = done(packs)
    assert any("number of" in line and "91" in line and "77" in line for line in lines(screen))
    packs.app.go("seasons")
    packs.app.go("packs")
    press(packs, "What lost")
    assert any("number of" in line for line in lines(done(packs)))


def test_a_sealed_pack_asks_for_its_passphrase(packs, other_tablet, tmp_path):
    """A wrong one opens nothing and can be typed again."""
    pack = pack_of(other_tablet, tmp_path / "other.pack")
    pack.write_bytes(sealed(pack.read_bytes(), "six words that nobody knows"))
    screen = look_into(packs, pack)
    assert "sealed" in screen.words
    screen.ids.passphrase.text = "another one altogether"
    press(packs, "Look into it")
    assert "not the right one" in done(packs).words
    screen.ids.passphrase.text = "six words that nobody knows"
    press(packs, "Look into it")
    assert f"{in_full(TODAY)}, noted by Edda: 3 tallies." in lines(done(packs))


def test_what_is_no_pack_is_refused_in_a_sentence(packs, tmp_path):
    """And the season stays in hand."""
    (tmp_path / "no.pack").write_bytes(b"\x1f\x8bnothing")
    screen = look_into(packs, tmp_path / "no.pack")
    assert "nothing was taken in" in screen.words
    assert packs.app.desk.season.log.count() == 0


def test_no_pack_is_taken_in_while_a_practice_runs(packs):
    """Its board would show what was before."""
    desk = packs.app.desk
    assert desk.begin(TODAY, desk.players, "breakout_attack", "two_on_one", "Ines")
    press(packs, "Take in a pack")
    screen = packs.app.screens.current_screen
    assert (screen.name, "practice runs" in screen.words) == ("packs", True)


def test_six_words_are_new_each_time():
    """Easy to read out, and long enough for any seal."""
    found = {six_words() for _ in range(200)}
    assert len(found) == 200
    assert {len(words.split()) for words in found} == {WORDS}
    assert all(words.replace(" ", "").isalpha() and words.isascii() for words in found)
