"""Save a picture of each board: twenty players and nine, long names, both hands, measured screens.

python shoot_boards.py WIDTH HEIGHT LOOK STEM
"""

import os
import sys
import tempfile
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from evaltrack.touch.launch import prepare

prepare()

from kivy.config import Config

WIDTH, HEIGHT, LOOK, STEM = int(sys.argv[1]), int(sys.argv[2]), sys.argv[3], sys.argv[4]
Config.set("graphics", "width", str(WIDTH))
Config.set("graphics", "height", str(HEIGHT))

from driver import Driver
from kivy.core.window import Window
from seasons_for_touch import new_season, roster

from evaltrack.device.tablet import keep_tablet, load_tablet
from evaltrack.language import tr
from evaltrack.rink.board_grid import aim_of
from evaltrack.rink.player import Position, Status
from evaltrack.rink.tally import Outcome
from evaltrack.touch.app import EvaltrackApp

LONG_SIDE = max(WIDTH, HEIGHT)
FIRST_NAMES = ("Maximiliane-Antoinette", "Bartholomew", "Nguyễn-Katharina", "Christopher-James")


@dataclass(frozen=True)
class Variant:
    """A team and a tablet to take pictures of."""

    name: str
    players: int = 20
    long_names: bool = False
    hand: str = "right"
    glass: float = 0  # mm of the long side, 0 when it is not measured


VARIANTS = {
    "light": (
        Variant("20"),
        Variant("9", 9),
        Variant("long", long_names=True),
        Variant("10-inch", glass=217),
        Variant("8-inch", glass=172),
    ),
    "dark": (Variant("20-left", hand="left"), Variant("9-left", 9, hand="left")),
}


def team(variant: Variant) -> list:
    """Return the players, with long first names that some of them share when the variant asks for them."""
    players = [
        replace(p, status=Status.LIMITED) if i % 8 == 1 else p for i, p in enumerate(roster(variant.players))
    ]
    if not variant.long_names:
        return players
    return [
        replace(p, name=f"{FIRST_NAMES[i % 4]} {p.name.split(' ')[-1]}", number=str(70 + i))
        for i, p in enumerate(players)
    ]


def picture(driver: Driver, name: str) -> None:
    """Save what the window shows."""
    driver.settle()
    Window.canvas.ask_update()
    Window.dispatch("on_draw")
    taken = Path(Window.screenshot(name=f"{STEM}-{name}.png"))
    taken.rename(f"{STEM}-{name}.png")


def tap(driver: Driver, place: int, outcome: Outcome) -> None:
    """Tap a tile of the board in front with a real touch."""
    driver.settle()
    driver.tap(aim_of(driver.app.screens.current_screen.ids.board.layout.tile(place), outcome))


def fill(desk) -> None:
    """Give everybody some tallies in the skill that is watched and in the others of the step."""
    for turn, player in enumerate(desk.players * 3):
        outcome = tuple(Outcome)[(0, 1, 0, 0, 1, 0, 2)[(turn * 5 + turn // 9) % 7]]
        fitting = [key for key in desk.step.skills if desk.skills[key].suits(player.position)]
        desk.tally(player.id, outcome, (fitting or [None])[turn % max(len(fitting), 1)])


def empty_some(driver: Driver, screen) -> None:
    """Let whoever stands in the net and some others go off the ice, and leave a slot empty."""
    desk = driver.app.desk
    skaters = [player for player in desk.here() if player.position is not Position.GOALIE]
    assert desk.arrange(skaters[: len(skaters) * 2 // 3])
    screen.press(1)
    screen.press(next(i for i, key in enumerate(screen.ids.board.buttons) if key.title == tr("nobody")))


def walk(driver: Driver, variant: Variant) -> None:
    """Take the boards in turn, in the first step and in the one with the most tiles."""
    desk = driver.app.desk
    assert desk.begin(date(2026, 1, 20), desk.players, "breakout_attack", "two_on_one", "Ines"), desk.message
    fill(desk)
    driver.app.go("board")
    tap(driver, 4, Outcome.DONE)
    screen = driver.app.screens.current_screen
    picture(driver, f"{variant.name}-group")
    screen.undo()
    picture(driver, f"{variant.name}-group-redo")
    screen.redo()
    screen.choose("rep")
    tap(driver, 1, Outcome.MISSED)
    picture(driver, f"{variant.name}-rep")
    screen.press(1)
    picture(driver, f"{variant.name}-rep-choice")
    screen.press(1)
    empty_some(driver, screen)
    picture(driver, f"{variant.name}-rep-empty")
    screen.press(2)
    picture(driver, f"{variant.name}-rep-late")
    screen.press(2)
    screen.choose("player")
    tap(driver, 2, Outcome.UNSEEN)
    picture(driver, f"{variant.name}-player")
    desk.watch(drill="small_area", step="three_on_three")
    screen.choose("rep")
    picture(driver, f"{variant.name}-rep-full")


def main() -> None:
    """Start the app once for each variant of this look."""
    for variant in VARIANTS[LOOK]:
        measured = LONG_SIDE / variant.glass if variant.glass else 0.0
        with tempfile.TemporaryDirectory() as folder:
            keep_tablet(
                load_tablet(), dark=LOOK == "dark", hand=variant.hand, px_per_mm=measured, board="group"
            )
            driver = Driver(EvaltrackApp(new_season(Path(folder) / "season.db", players=team(variant))))
            walk(driver, variant)
            driver.close()


main()
os._exit(0)  # all is saved: how a software renderer and its threads are taken down is not ours to picture
