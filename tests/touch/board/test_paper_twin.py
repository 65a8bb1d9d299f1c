"""The sheet for the clipboard against the board of the app: the same players in the same places."""

from datetime import date

import pytest
from seasons_for_touch import new_season

from evaltrack.paper.clipboard.board_sheet import make_board, read_places
from evaltrack.paper.clipboard.occasion import PAPERS, Occasion
from evaltrack.store.opening import open_season


def begin(driver, gone=()):
    """Start a practice of everyone who is likely here; then some of them leave."""
    desk = driver.app.desk
    here = desk.likely_present()
    drill = desk.drills[0]
    assert desk.begin(date(2026, 1, 12), here, drill.key, drill.steps[0].key, "Ines")
    if gone:
        assert desk.arrange([player for player in here if player.number not in gone])
    driver.app.go("board")
    driver.settle()
    return driver.app.screens.get_screen("board").ids.board


def on_screen(board) -> list[tuple]:
    """Return row, column, number, name and whether they are here, tile by tile."""
    tiles = [board.layout.tile(place) for place in range(len(board.faces))]
    down = sorted({round(-tile.y) for tile in board.layout.tiles.values()})
    across = sorted({round(tile.x) for tile in board.layout.tiles.values()})
    return [
        (
            down.index(round(-tile.y)),
            across.index(round(tile.x)),
            face.number,
            face.name,
            face.watched,
            face.here,
        )
        for tile, face in zip(tiles, board.faces, strict=True)
    ]


def on_paper(path, paper) -> list[tuple]:
    """Return the same of the sheet that is printed now."""
    with open_season(path) as season:
        places, roster = read_places(season), season.people.players()
        drill, skill = season.catalogue.drills()[0], season.catalogue.skills()[0]
    sheet = make_board(Occasion("", drill, drill.steps[0]), skill, places, roster, PAPERS[paper])
    down, across = sorted({tile.y for tile in sheet.tiles}), sorted({tile.x for tile in sheet.tiles})
    return [
        (down.index(tile.y), across.index(tile.x), tile.number, tile.name, tile.watched, tile.here)
        for tile in sheet.tiles
    ]


@pytest.mark.parametrize(("count", "paper"), [(9, "a4"), (20, "letter"), (34, "a4")])
def test_the_places_on_paper_are_those_on_screen(drive, tmp_path, count, paper):
    """On a 10-inch tablet held on its side, each player has the row and the column they have on paper.

    A sheet printed before the practice is right already, and so is one that is printed while it runs.
    """
    path = new_season(tmp_path / "season.db", count)
    before = on_paper(path, paper)
    driver = drive(path)
    assert on_screen(begin(driver)) == before
    assert on_paper(path, paper) == before


def test_who_has_left_keeps_his_place_on_both(drive, season_path):
    """Two players go: their tiles stay where they were, and neither board moves another one."""
    board = begin(drive(season_path), gone={"5", "20"})
    assert on_screen(board) == on_paper(season_path, "a4")
    assert [row[2] for row in on_screen(board) if not row[-1]] == ["5", "20"]


@pytest.mark.parametrize("here", [9, 13, 16])
def test_late_players_move_nobody_on_either(drive, season_path, here):
    """The sheet printed for those who were there stays right: late ones fill the places behind them."""
    driver = drive(season_path)
    desk, drill = driver.app.desk, driver.app.desk.drills[0]
    assert desk.begin(date(2026, 1, 12), desk.players[:here], drill.key, drill.steps[0].key, "Ines")
    driver.app.go("board")
    driver.settle()
    board = driver.app.screens.get_screen("board").ids.board
    before = on_screen(board)
    assert before == on_paper(season_path, "letter")
    for count in range(here + 1, 21):
        assert desk.arrange(desk.players[:count])
        driver.settle()
        assert on_screen(board)[:here] == before
        assert on_screen(board) == on_paper(season_path, "letter")
