"""How large this screen is: an outline is matched to a bank card, and the sizes on glass follow."""

from pathlib import Path

from kivy.core.window import Window
from kivy.lang import Builder
from kivy.metrics import Metrics
from kivy.properties import BooleanProperty, ObjectProperty, StringProperty

from evaltrack.language import tr
from evaltrack.touch.desk.desk import Desk
from evaltrack.touch.tablet.card_outline import CardOutline  # noqa: F401  the kv rule names it
from evaltrack.touch.tablet.real_size import CARD_WIDTH, LEAST_HALF, Halves, halves, nominal, refusal
from evaltrack.touch.tablet.scale import px_per_mm
from evaltrack.touch.widgets.screen import AppScreen

Builder.load_file(str(Path(__file__).with_suffix(".kv")))

_PLAYERS = 20  # on the board while no season is open
_LEFT, _RIGHT, _UP, _DOWN, _ESCAPE = 276, 275, 273, 274, 27
_ONE, _TEN = 1, 10  # pixels


class MeasureScreen(AppScreen):
    """Matches an outline to a card.

    ``measured`` says that a match is in force, ``sizes`` what the tiles of a board come to by the outline,
    and ``warning`` what speaks against it. ``scale`` puts a match in force.
    """

    __events__ = ("on_back",)
    takes_arrows = True
    scale = ObjectProperty(None)
    measured = BooleanProperty(False)
    sizes = StringProperty("")
    warning = StringProperty("")

    def on_pre_enter(self, *_):
        """Begin with what is known."""
        self.measured = self.desk.tablet.px_per_mm > 0
        self.ids.outline.card = px_per_mm(self.desk) * CARD_WIDTH
        Window.bind(on_key_down=self._key)
        self.tell()

    def on_leave(self, *_):
        """Leave the keys to other screens."""
        Window.unbind(on_key_down=self._key)

    @property
    def match(self) -> float:
        """Return the pixels of a millimetre that the outline stands for."""
        return self.ids.outline.card / CARD_WIDTH

    def tell(self, *_) -> None:
        """Say what the outline comes to."""
        wide, high = Window.size
        players, mm = board_size(self.desk), self.match
        found = halves(players, wide, high, self.scale.density(mm), mm)
        turned = halves(players, high, wide, self.scale.density(mm), mm)
        self.sizes = tr(
            "The window is {wide:.0f} x {high:.0f} mm. {players} players: {columns} by {rows} "
            "tiles, halves of {found}.",
            wide=wide / mm,
            high=high / mm,
            players=players,
            columns=found.columns,
            rows=found.rows,
            found=found,
        )
        self.warning = refusal(mm) or too_small(found, turned)

    def keep(self) -> None:
        """Keep the match for this screen, unless no screen can be so."""
        if refusal(self.match):
            self.tell()
            return
        self._keep(round(self.match, 3))

    def forget(self) -> None:
        """Go back to what the screen says of itself."""
        self.ids.outline.card = nominal(Metrics.dpi) * CARD_WIDTH
        self._keep(0.0)

    def _keep(self, found: float) -> None:
        self.desk.keep(px_per_mm=found)
        self.scale.follow()
        self.dispatch("on_back")

    def _key(self, _, key: int, *__) -> bool:
        if key == _ESCAPE:
            self.dispatch("on_back")
            return True
        step = {_LEFT: -_ONE, _RIGHT: _ONE, _DOWN: -_TEN, _UP: _TEN}.get(key, 0)
        self.ids.outline.widen(step)
        return step != 0


def board_size(desk: Desk) -> int:
    """Return the number of tiles to reckon with: one for each player of the season."""
    return len(desk.players) or _PLAYERS


def too_small(found: Halves, turned: Halves) -> str:
    """Return a warning when a finger in a glove would miss halves of this size, or nothing."""
    if found.large_enough:
        return ""
    warning = tr("Under {least:.0f} mm a side a finger in a glove misses more often.", least=LEAST_HALF)
    if turned.large_enough:
        return f"{warning} {tr('With the tablet turned they are {turned}.', turned=turned)}"
    return f"{warning} {tr('A larger tablet helps, or fewer players on the board.')}"
