"""The keys of the team board's table: its headings, and its rows for whoever goes by keyboard."""

from kivy.graphics import Color, InstructionGroup, RoundedRectangle
from kivy.metrics import dp, sp

from evaltrack.rink.skill import Skill
from evaltrack.touch.review.team_names import two_lines
from evaltrack.touch.widgets import fonts
from evaltrack.touch.widgets.button import TapButton
from evaltrack.touch.widgets.glyphs import draw
from evaltrack.touch.widgets.theme import theme

_SIZE = 14  # sp


class _TableKey(TapButton):
    """A key with no frame of its own."""


class HeadingKey(_TableKey):
    """The name of a skill above its column, in two lines where one is too short."""

    def __init__(self, skill: Skill, **kwargs):
        super().__init__(title=skill.name, title_size=sp(_SIZE), **kwargs)
        self.skill = skill

    def draw(self, group: InstructionGroup) -> None:
        """Draw the ground that says that it can be pressed, and the name."""
        palette = theme.palette
        group.add(Color(*(palette.line if self.state == "down" else palette.ground)))
        group.add(RoundedRectangle(pos=self.pos, size=self.size, radius=[dp(6)]))
        x, room = self.x + dp(6), self.width - dp(10)
        lines = two_lines(self.title, self.title_size, room)
        for row, line in enumerate(lines):
            y = self.center_y + (len(lines) - 1 - 2 * row) * self.title_size * 0.58
            draw(group, line, x, y, self.title_size, palette.ink, fonts.SEMIBOLD, width=room)


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
