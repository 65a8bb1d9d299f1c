"""Widgets that draw themselves on their canvas, and draw themselves again when what they show changes."""

from typing import ClassVar

from kivy.clock import Clock
from kivy.graphics import Canvas, InstructionGroup
from kivy.uix.widget import Widget

from evaltrack.touch.widgets.theme import theme


class Drawn(Widget):
    """Draws itself once before the next frame, whenever its place, size, palette or what it shows changes.

    ``shows`` names the properties that it shows, and `draw` draws them.
    """

    shows: ClassVar[tuple[str, ...]] = ()

    def __init__(self, **kwargs):
        self._redraw = Clock.create_trigger(self._draw_again, -1)
        super().__init__(**kwargs)
        for name in ("pos", "size", *self.shows):
            self.fbind(name, self._redraw)
        theme.redraws(self)

    def redraw(self, *_) -> None:
        """Have it drawn before the next frame."""
        self._redraw()

    def draw(self, group: InstructionGroup) -> None:
        """Add what is to be seen to an empty group."""
        raise NotImplementedError

    def _draw_again(self, *_) -> None:
        self.draw(fresh_group(self.canvas))


def fresh_group(canvas: Canvas) -> InstructionGroup:
    """Empty a canvas and return a new group of instructions on it.

    What was there is taken apart first. A group and its instructions hold each other, and thousands of them
    left to the garbage collector stop the screen for longer than a frame when it comes round to them.
    """
    for group in canvas.children:
        if isinstance(group, InstructionGroup):
            group.clear()
    canvas.clear()
    group = InstructionGroup()
    canvas.add(group)
    return group
