"""Names and captions on tiles and keys: whole, or not there at all; on every board, at every size.

Twenty players and forty, both ways up, words as they are and 40 % larger, and the shipped skills.
"""

from dataclasses import replace
from datetime import date

import pytest
from kivy.core.window import Window
from kivy.graphics import Rectangle
from on_boards import board_of, screen_of
from seasons_for_touch import new_season, roster

from evaltrack.rink.player import Status
from evaltrack.touch.widgets import glyphs

FIRST = ("Ada", "Bo", "Maximiliane-Antoinette", "Bartholomew", "Oskar", "Juno", "Ilze", "Nguyễn", "Chloé")


@pytest.fixture
def cut():
    """Collect what is drawn with an ellipsis."""
    found, whole = [], glyphs.texture

    def watched(text, size, font=glyphs.fonts.PLAIN, width=None):
        drawn = whole(text, size, font, width)
        if width is not None and whole(text, size, font, None).width > width:
            found.append(text)
        return drawn

    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(glyphs, "texture", watched)
        yield found


def team(count):
    """Return players of whom many share a first name, and some are limited."""
    named = [replace(p, name=f"{FIRST[i % 9]} {'ABCDE'[i // 9]}arsh") for i, p in enumerate(roster(count))]
    return [replace(p, status=Status.LIMITED) if i % 4 == 1 else p for i, p in enumerate(named)]


@pytest.mark.parametrize("larger_words", [1.0, 1.4], ids=["words", "larger"], indirect=True)
@pytest.mark.parametrize("window", [(1280, 800), (800, 1280)], ids=["wide", "upright"], indirect=True)
@pytest.mark.parametrize("players", [8, 20, 40])
def test_nothing_is_cut_on_any_board(drive, tmp_path, window, larger_words, players, cut):
    """Every step of every drill, on the board of the group, by rep, and of a player; a slot put right."""
    driver = drive(new_season(tmp_path / "season.db", team(players)))
    desk = driver.app.desk
    assert desk.begin(date(2026, 1, 20), desk.players, "breakout_attack", "two_on_one", "Ines")
    driver.app.go("board")
    driver.settle()
    screen, board = screen_of(driver), board_of(driver)
    assert min(board.size) > 300
    cut.clear()  # what is drawn before a screen is laid out, 100 pixels wide, nobody sees
    for kind in ("group", "rep", "player"):
        screen.choose(kind)
        for drill in desk.drills:
            for step in drill.steps:
                desk.run(drill.key, step.key)
                driver.frames(2)
        driver.settle()
    desk.run("small_area", "three_on_three")
    screen.choose("rep")
    screen.press(2)
    driver.frames(2)
    assert cut == []


def words_drawn(group):
    """Return how many rectangles of a group carry text, those in its groups too."""
    found = 0
    for child in group.children:
        found += type(child) is Rectangle and child.texture is not None
        found += words_drawn(child) if hasattr(child, "children") else 0
    return found


@pytest.mark.parametrize("window", [(1280, 800), (800, 1280)], ids=["wide", "upright"], indirect=True)
def test_twenty_players_have_every_caption(drive, tmp_path, window):
    """On ten inches none is left out: each tile by rep and of a player has its words, and its caption."""
    driver = drive(new_season(tmp_path / "season.db"))
    desk = driver.app.desk
    assert desk.begin(date(2026, 1, 20), desk.players, "breakout_attack", "two_on_one", "Ines")
    driver.app.go("board")
    for kind in ("rep", "player"):
        screen_of(driver).choose(kind)
        for drill in desk.drills:
            for step in drill.steps:
                desk.run(drill.key, step.key)
                driver.settle()
                board = board_of(driver)
                for place, face in enumerate(board.faces):
                    tab = bool(face.number) + 1 + bool(face.unseen)
                    if (
                        face.here and place in board.layout.tiles
                    ):  # two counts, two words, the tab, the caption
                        assert words_drawn(board._groups["tile", place]) == 4 + tab + 1, (step.name, face)
    assert max(Window.size) == 1280
