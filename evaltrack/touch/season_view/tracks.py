"""Intervals in rows: of what at the left, where it lies on a track, and the same in words at the right."""

from collections.abc import Sequence
from typing import NamedTuple

from kivy.clock import Clock
from kivy.graphics import Color, InstructionGroup, Line, Rectangle, RoundedRectangle
from kivy.metrics import dp, sp

from evaltrack.touch.widgets import fonts
from evaltrack.touch.widgets.glyphs import add_texture, draw, wrapped
from evaltrack.touch.widgets.redraw import Drawn
from evaltrack.touch.widgets.theme import theme

_PAD = 12  # dp within a card
_GAP = 10  # dp between two cards, and between two columns
_LABEL, _TRACK = 0.3, 0.3  # of the width
_THICK = 8  # dp, the band of an interval


class Track(NamedTuple):
    """An interval from ``low`` to ``high`` around ``middle``; ``hollow`` is drawn as an outline.

    ``drawn`` says whether there is one, or its words alone.
    """

    label: str
    words: str
    middle: float = 0.0
    low: float = 0.0
    high: float = 0.0
    hollow: bool = False
    drawn: bool = True


class Group(NamedTuple):
    """Tracks under a title, all on one scale, with its ``ticks`` and what stands at each."""

    title: str
    small: str
    tracks: Sequence[Track]
    scale: tuple[float, float] = (0.0, 1.0)
    ticks: Sequence[tuple[float, str]] = ()


def _leaves_room(group: Group, track: Track) -> bool:
    """Say whether the words stand right of the tracks: they do wherever the scale is drawn."""
    return track.drawn or bool(group.ticks)


class TrackList(Drawn):
    """Draws groups one below the other, as high as their words need it to be."""

    def __init__(self, groups: Sequence[Group], **kwargs):
        super().__init__(size_hint_y=None, **kwargs)
        self.groups = groups
        self._measure = Clock.create_trigger(self._take_height, -1)
        self.fbind("width", self._measure)
        self._measure()

    def _take_height(self, *_) -> None:
        self.height = sum(self._height(group) + dp(_GAP) for group in self.groups)

    def _height(self, group: Group) -> float:
        small = self._small(group).height if group.small else 0
        rows = sum(self._row_height(group, track) for track in group.tracks)
        return 2 * dp(_PAD) + sp(24) + small + rows + (sp(18) if group.ticks else 0)

    def _columns(self) -> tuple[float, float, float]:
        """Return the widths of label, track and words."""
        room = max(self.width - 2 * dp(_PAD) - 2 * dp(_GAP), 3)
        return _LABEL * room, _TRACK * room, (1 - _LABEL - _TRACK) * room

    def _small(self, group: Group):
        return wrapped(group.small, sp(15), fonts.PLAIN, max(int(self.width - 2 * dp(_PAD)), 1), "left")

    def _texts(self, group: Group, track: Track):
        """Return the textures of label and words."""
        label, way, words = self._columns()
        words = words if _leaves_room(group, track) else way + dp(_GAP) + words
        return (
            wrapped(track.label, sp(15), fonts.PLAIN, max(int(label), 1), "left"),
            wrapped(track.words, sp(15), fonts.PLAIN, max(int(words), 1), "left"),
        )

    def _row_height(self, group: Group, track: Track) -> float:
        return max(*(text.height for text in self._texts(group, track)), dp(2 * _THICK)) + dp(6)

    def draw(self, group: InstructionGroup) -> None:
        """Draw every group on its card."""
        top = self.top
        for one in self.groups:
            height = self._height(one)
            self._draw_group(group, one, top, height)
            top -= height + dp(_GAP)

    def _draw_group(self, canvas: InstructionGroup, group: Group, top: float, height: float) -> None:
        palette, left = theme.palette, self.x + dp(_PAD)
        canvas.add(Color(*palette.tile))
        canvas.add(RoundedRectangle(pos=(self.x, top - height), size=(self.width, height), radius=[dp(8)]))
        y, width = top - dp(_PAD), self.width - 2 * dp(_PAD)
        draw(canvas, group.title, left, y - sp(11), sp(18), palette.ink, fonts.SEMIBOLD, width=width)
        y -= sp(24)
        if group.small:
            small = self._small(group)
            add_texture(canvas, small, left, y - small.height, palette.soft)
            y -= small.height
        foot = y - sum(self._row_height(group, track) for track in group.tracks)
        self._draw_ticks(canvas, group, y, foot)
        for track in group.tracks:
            high = self._row_height(group, track)
            self._draw_track(canvas, group, track, y - high / 2)
            y -= high

    def _place(self, group: Group, value: float) -> float:
        """Return where on the track a value lies."""
        (low, high), (label, way, _) = group.scale, self._columns()
        part = (min(max(value, low), high) - low) / (high - low)
        return self.x + dp(_PAD + _GAP) + label + part * way

    def _draw_ticks(self, canvas: InstructionGroup, group: Group, top: float, foot: float) -> None:
        for value, words in group.ticks:
            x = round(self._place(group, value))
            canvas.add(Color(*theme.palette.line))
            canvas.add(Rectangle(pos=(x, foot), size=(dp(1), top - foot)))
            draw(canvas, words, x, foot - sp(9), sp(13), theme.palette.soft, anchor="center")

    def _draw_track(self, canvas: InstructionGroup, group: Group, track: Track, y: float) -> None:
        palette, (label, way, _) = theme.palette, self._columns()
        named, said = self._texts(group, track)
        left = self.x + dp(_PAD)
        add_texture(canvas, named, left, y - named.height / 2, palette.ink)
        right = left + label + dp(_GAP) + (way + dp(_GAP) if _leaves_room(group, track) else 0)
        add_texture(canvas, said, right, y - said.height / 2, palette.ink if track.drawn else palette.soft)
        if track.drawn:
            self._draw_interval(canvas, group, track, y)

    def _draw_interval(self, canvas: InstructionGroup, group: Group, track: Track, y: float) -> None:
        palette = theme.palette
        low, middle, high = (self._place(group, value) for value in (track.low, track.middle, track.high))
        edge = (low, y - dp(_THICK / 2), max(high - low, dp(2)), dp(_THICK))
        canvas.add(Color(*(palette.soft if track.hollow else palette.band50)))
        if track.hollow:
            canvas.add(Line(rectangle=edge, width=dp(1)))
        else:
            canvas.add(Rectangle(pos=edge[:2], size=edge[2:]))
        canvas.add(Color(*palette.ink))
        canvas.add(Rectangle(pos=(middle - dp(1.5), y - dp(_THICK)), size=(dp(3), dp(2 * _THICK))))
