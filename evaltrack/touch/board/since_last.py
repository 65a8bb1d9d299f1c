"""How many tallies there are, and how long ago the last one was: small, and no alarm."""

from kivy.graphics import Color, InstructionGroup, Line
from kivy.metrics import dp, sp
from kivy.properties import BooleanProperty, NumericProperty

from evaltrack.language import decimal, tr, tr_many
from evaltrack.touch.widgets import fonts
from evaltrack.touch.widgets.glyphs import draw
from evaltrack.touch.widgets.redraw import Drawn
from evaltrack.touch.widgets.theme import theme

QUIET = 60  # seconds without a tally until the mark


def in_words(seconds: float) -> str:
    """Return a time since the last tally in few words, in minutes from the first one on."""
    if seconds < 0:
        return tr("no tally yet")
    if seconds < QUIET:
        return tr("{seconds:.0f} s ago", seconds=seconds)
    if seconds < 60 * QUIET:
        return tr("nothing for {minutes:.0f} min", minutes=seconds // 60)
    return tr("nothing for {hours:.0f} h", hours=seconds // 3600)


class SinceLast(Drawn):
    """``total`` tallies, the last one ``seconds`` ago, below 0 when there is none.

    After a minute the words stand in a thin frame: the quiet mark. ``shared`` says that the board counts
    other tablets' tallies too: the words then say whose the total is. ``apart`` says that those do not come
    any more, which stands there in bold, however often somebody taps.
    """

    shows = ("shared", "apart")
    total = NumericProperty(0)
    seconds = NumericProperty(-1)
    shared = BooleanProperty(False)
    apart = BooleanProperty(False)

    def __init__(self, **kwargs):
        super().__init__(**kwargs)
        self._shown = None
        self.fbind("total", self._follow)
        self.fbind("seconds", self._follow)

    @property
    def words(self) -> str:
        """Return what is said of the last tally."""
        return tr("nothing yet") if self.shared and self.seconds < 0 else in_words(self.seconds)

    @property
    def unit(self) -> str:
        """Return what the total counts, or that the other tablet's are not in it any more."""
        if self.apart:
            return tr("not together")
        return tr("by this tablet") if self.shared else tr_many("tally", "tallies", self.total)

    def _follow(self, *_) -> None:
        # nothing is drawn again while it would look the same
        if (self.total, self.words) != self._shown:
            self.redraw()

    def draw(self, group: InstructionGroup) -> None:
        """Draw the total, what it counts, and how long ago the last tally was."""
        self._shown = (self.total, self.words)
        if self.width < dp(30):
            return
        palette, middle = theme.palette, self.center_x
        soft, words, room = palette.bar_soft, min(sp(14), dp(18)), self.width - dp(14)
        high, mid, low = (self.y + self.height * share for share in (0.74, 0.45, 0.17))
        total, size = decimal(self.total, 0), min(sp(27), dp(30))
        draw(group, total, middle, high, size, palette.on_bar, fonts.BOLD, "center")
        unit = (palette.on_bar, fonts.BOLD) if self.apart else (soft, fonts.PLAIN)
        draw(group, self.unit, middle, mid, words, *unit, anchor="center", width=room, shrinks=True)
        wide = draw(group, self.words, middle, low, words, soft, anchor="center", width=room, shrinks=True)
        if self.seconds >= QUIET:
            box = (middle - wide / 2 - dp(6), low - dp(11), wide + dp(12), dp(22), dp(8))
            group.add(Color(*palette.bar_soft))
            group.add(Line(rounded_rectangle=box, width=dp(1)))
