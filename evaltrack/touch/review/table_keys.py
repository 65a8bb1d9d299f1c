"""The keys of the team board's table: its headings, and its rows for whoever goes by keyboard."""

from kivy.graphics import Color, InstructionGroup, RoundedRectangle
from kivy.metrics import dp, sp

from evaltrack.rink.skill import Skill
from evaltrack.touch.widgets import fonts
from evaltrack.touch.widgets.button import TapButton
from evaltrack.touch.widgets.glyphs import add_texture, fitted
from evaltrack.touch.widgets.theme import theme

_SIZE = 14  # sp


class _TableKey(TapButton):
    """A key with no frame of its own."""


class HeadingKey(_TableKey):
    """The name of a skill above its column, in two lines where one is too short."""

    def __init__(self, skill: Skill, **kwargs):
        super().__init__(title=skill.name, title_size=sp(_SIZE), wraps=True, **kwargs)
        self.skill = skill

    def draw(self, group: InstructionGroup) -> None:
        """Draw the ground that says that it can be pressed, and the name."""
        palette = theme.palette
        group.add(Color(*(palette.line if self.state == "down" else palette.ground)))
        group.add(RoundedRectangle(pos=self.pos, size=self.size, radius=[dp(6)]))
        (drawn,) = fitted(
            [(self.title, self.title_size, fonts.SEMIBOLD)],
            int(self.width - dp(10)),
            self.height,
            wraps=True,
            halign="left",
        )
        add_texture(group, drawn, self.x + dp(6), self.center_y - drawn.height / 2, palette.ink)


class RowKey(_TableKey):
    """A player's row for the keyboard. A finger works the table itself, which knows a stroke from a tap."""

    def __init__(self, number: str, **kwargs):
        super().__init__(**kwargs)
        self.number = number

    def on_touch_down(self, touch):
        """Leave every touch to the table."""
        return False

    def spot_name(self, index: int) -> str:
        """Return the player's number, by which the row is found again."""
        return self.number

    def draw(self, group: InstructionGroup) -> None:
        """Draw nothing: the table draws the row, and the keyboard has a ring of its own."""
