"""The ink of every word that a screen draws, and the ground below it, read from its canvases."""

from typing import NamedTuple

from kivy.graphics import (
    BorderImage,
    Canvas,
    Color,
    Ellipse,
    InstructionGroup,
    PopMatrix,
    PushMatrix,
    Rectangle,
    RoundedRectangle,
    StencilPop,
    StencilPush,
    StencilUnUse,
    StencilUse,
    Translate,
)
from kivy.graphics.instructions import CanvasBase
from kivy.uix.label import Label

_ALONG = (0.1, 0.5, 0.9)  # where on a word the ground is looked at
_PLAIN = Rectangle()  # of what is filled with its colour alone
_FACES = (Rectangle, RoundedRectangle, BorderImage, Ellipse)


class Drawn(NamedTuple):
    """Words on a ground: both colours as they are seen, and the widget that drew the words."""

    ink: tuple
    ground: tuple
    widget: str


class _Face(NamedTuple):
    tint: tuple
    x: float
    y: float
    width: float
    height: float

    def covers(self, x: float, y: float) -> bool:
        return self.x <= x <= self.x + self.width and self.y <= y <= self.y + self.height


class _Reader:
    """Goes through the instructions as the graphics do, with a colour and a place of the origin."""

    def __init__(self, screen):
        self._widgets = {id(widget.canvas): widget for widget in screen.walk(restrict=True)}
        self._widget, self._tint, self._at, self._kept = screen, (1, 1, 1, 1), (0.0, 0.0), []
        self._masks, self._clips = False, [_Face((), *screen.pos, *screen.size)]
        self._faces: list[_Face] = []
        self.found: list[Drawn] = []

    def read(self, group) -> None:
        before = self._widget
        self._widget = self._widgets.get(id(group), before)
        if not self._widget.opacity:
            self._widget = before
            return
        for part in group.children:
            if isinstance(part, Canvas | CanvasBase | InstructionGroup):
                self.read(part)
            else:
                self._take(part)
        self._widget = before

    def _take(self, part) -> None:
        if isinstance(part, Color):
            self._tint = tuple(part.rgba)
        elif isinstance(part, PushMatrix):
            self._kept.append(self._at)
        elif isinstance(part, PopMatrix):
            self._at = self._kept.pop()
        elif isinstance(part, Translate):
            self._at = self._at[0] + part.x, self._at[1] + part.y
        elif isinstance(part, StencilPush | StencilUnUse):  # what comes now only says where to draw
            self._masks = True
        elif isinstance(part, StencilUse):
            self._masks = False
        elif isinstance(part, StencilPop):
            self._masks, self._clips = False, self._clips[:-2]  # it was named at both ends
        elif isinstance(part, _FACES):
            self._draw(part)

    def _draw(self, part) -> None:
        place = part.pos[0] + self._at[0], part.pos[1] + self._at[1], *part.size
        if self._masks:
            self._clips = [*self._clips, _Face((), *place)]
        elif isinstance(part, Rectangle) and part.texture is not _PLAIN.texture:
            self._write(_Face(self._ink(), *place))
        elif self._tint[3]:
            self._faces.append(_Face(self._tint, *place))

    def _ink(self) -> tuple:
        widget = self._widget
        if isinstance(widget, Label):  # its texture has the colour already
            return tuple(widget.disabled_color if widget.disabled else widget.color)
        return self._tint

    def _write(self, words: _Face) -> None:
        if words.width < 2 or not words.tint[3]:
            return
        for share in _ALONG:
            point = words.x + share * words.width, words.y + words.height / 2
            if not all(clip.covers(*point) for clip in self._clips):
                continue
            ground = self._ground(*point)
            self.found.append(Drawn(_over(words.tint, ground), ground, type(self._widget).__name__))

    def _ground(self, x: float, y: float) -> tuple:
        below = []
        for face in reversed(self._faces):
            if face.covers(x, y):
                below.append(face.tint)
                if face.tint[3] == 1:
                    break
        seen = (0, 0, 0, 1)
        for tint in reversed(below):
            seen = _over(tint, seen)
        return seen


def _over(tint, ground) -> tuple:
    alpha = tint[3]
    return (*(alpha * one + (1 - alpha) * other for one, other in zip(tint[:3], ground[:3], strict=True)), 1)


def drawn_words(screen) -> list[Drawn]:
    """Return the words of a screen: each ink on each ground on which a part of it stands."""
    reader = _Reader(screen)
    reader.read(screen.canvas)
    return reader.found
