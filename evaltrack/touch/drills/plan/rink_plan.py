"""A plan of the ice with the slots of a step on it, drawn by arithmetic; a tap on a disc chooses its slot."""

from math import hypot
from typing import NamedTuple

from kivy.graphics import Color, Ellipse, InstructionGroup, Line, Mesh, Rectangle, RoundedRectangle
from kivy.metrics import dp, sp
from kivy.properties import ObjectProperty

from evaltrack.language import mark, tr
from evaltrack.rink.board_grid import Rect
from evaltrack.rink.drill import Step
from evaltrack.rink.ice_plan.ice import Mark, Point
from evaltrack.rink.ice_plan.plan_geometry import Plan
from evaltrack.rink.player import Position
from evaltrack.touch.drills.plan.view import View, crosses, overlap, reaches
from evaltrack.touch.widgets import fonts
from evaltrack.touch.widgets.button import is_finger
from evaltrack.touch.widgets.events import EventSource
from evaltrack.touch.widgets.glyphs import add_texture, fitting, texture
from evaltrack.touch.widgets.outlines import ring
from evaltrack.touch.widgets.reachable import Reachable
from evaltrack.touch.widgets.redraw import Drawn
from evaltrack.touch.widgets.theme import theme

_EDGE = 8  # dp round the ice
_REACH = 24  # dp at least, from the middle of a disc, in which a finger means it
_HEAD = 11  # dp, the length of an arrow's head
_WIDTHS = {Mark.BLUE_LINE: 3.0, Mark.CENTRE_LINE: 2.4, Mark.BOARDS: 1.6, Mark.GOAL: 1.6}  # dp; the others 1
_LINES = {
    Position.DEFENCE: mark("D line"),
    Position.FORWARD: mark("F line"),
    Position.GOALIE: mark("G line"),
}


class Disc(NamedTuple):
    """What stands in the disc of a slot and beside it; a chosen one is filled, an empty one has no ground."""

    inside: str
    name: str
    chosen: bool = False
    empty: bool = False


class RinkPlan(Reachable, EventSource, Drawn):
    """Draws a ``plan`` of a ``step``, with a ``Disc`` for each slot by key.

    ``on_slot`` brings the key of a slot that is tapped, ``on_ice`` a place beside them, in metres.
    """

    __events__ = ("on_slot", "on_ice")
    shows = ("plan", "step", "discs")
    plan: Plan = ObjectProperty(None, allownone=True)
    step: Step = ObjectProperty(None, allownone=True)
    discs: dict[str, Disc] = ObjectProperty({})

    @property
    def view(self) -> View:
        """Return how the ice is seen in the widget."""
        edge = dp(_EDGE)
        room = Rect(self.x + edge, self.y + edge, self.width - 2 * edge, self.height - 2 * edge)
        return View.fitted(self.plan.ice, room)

    def middle(self, key: str) -> Point:
        """Return where the disc of a slot is seen."""
        return self.view.point(self.plan.places[key])

    def spots(self) -> list[Rect]:
        """Return the discs."""
        if not self.plan:
            return []
        radius = self.plan.radius * self.view.scale
        middles = map(self.middle, self.plan.places)
        return [Rect(x - radius, y - radius, 2 * radius, 2 * radius) for x, y in middles]

    def spot_name(self, index: int) -> str:
        """Return the key of a slot."""
        return list(self.plan.places)[index]

    def press_spot(self, index: int) -> None:
        """Choose the slot of a disc."""
        self.dispatch("on_slot", self.spot_name(index))

    def on_touch_down(self, touch):
        """Tell which slot is under a finger, or which place on the ice."""
        if not (self.plan and self.collide_point(*touch.pos) and is_finger(touch)):
            return super().on_touch_down(touch)
        view = self.view
        reach = max(self.plan.radius, dp(_REACH) / view.scale)
        place = view.place(touch.pos)
        key = self.plan.nearest(*place, reach)
        if key is not None:
            self.dispatch("on_slot", key)
        elif self.plan.ice.holds(*place):
            self.dispatch("on_ice", place)
        return True

    def draw(self, group: InstructionGroup) -> None:
        """Draw the ice, who goes where, the discs over it, and the names."""
        if not self.plan or min(self.size) < dp(80):
            return
        view = self.view
        self._draw_ice(group, view)
        ways = self._draw_ways(group, view)
        self._draw_lines(group, view)
        for key in self.plan.places:
            self._draw_disc(group, view, key)
        self._draw_names(group, view, ways)

    def _draw_ice(self, group: InstructionGroup, view: View) -> None:
        palette = theme.palette
        boards = [view.point(point) for point in self.plan.ice.boards]
        group.add(Color(*palette.tile))
        group.add(_filled(boards, "triangle_fan"))
        for kind, points in sorted(self.plan.ice.marks, key=lambda one: one[0] is not Mark.BOARDS):
            flat = [part for point in points for part in view.point(point)]
            colour = palette.band50 if kind is Mark.BLUE_LINE else palette.line
            group.add(Color(*(palette.soft if kind is Mark.BOARDS else colour)))
            group.add(Line(points=flat, width=dp(_WIDTHS.get(kind, 1.0)), cap="none"))

    def _draw_ways(self, group: InstructionGroup, view: View) -> list[tuple[Point, Point]]:
        """Draw who stands against whom and who goes where, and return where these arrows run."""
        palette, ways = theme.palette, []
        for slot in self.step.slots:
            if slot.against in self.plan.places and slot.against != slot.key:
                self._draw_meeting(group, view, slot)
        for slot in self.step.slots:
            if slot.next == slot.key:
                continue
            stays = slot.next in self.plan.places
            start, end = map(view.point, self.plan.arrow(slot))
            group.add(Color(*(palette.fill if stays else palette.soft)))
            _add_arrow(group, start, end, dp(2.2) if stays else dp(1.1))
            ways.append((start, end))
        return ways

    def _draw_meeting(self, group: InstructionGroup, view: View, slot) -> None:
        start, end = map(view.point, self.plan.meeting(slot))
        group.add(Color(*theme.palette.band50))
        far, step = hypot(end[0] - start[0], end[1] - start[1]), dp(9)
        for number in range(int(far // step)):
            x, y = (s + (e - s) * (number + 0.5) * step / far for s, e in zip(start, end, strict=True))
            group.add(Ellipse(pos=(x - dp(2), y - dp(2)), size=(dp(4), dp(4)), segments=8))

    def _draw_lines(self, group: InstructionGroup, view: View) -> None:
        palette = theme.palette
        for position, place in self.plan.lines.items():
            x, y = view.point(place)
            half = self.plan.radius * view.scale
            group.add(Color(*palette.ground))
            group.add(RoundedRectangle(pos=(x - half, y - half * 0.6), size=(2 * half, 1.2 * half)))
            _add_inside(group, tr(_LINES[position]), x, y, half, palette.soft)

    def _draw_disc(self, group: InstructionGroup, view: View, key: str) -> None:
        palette, disc = theme.palette, self.discs.get(key, Disc("?", ""))
        x, y = view.point(self.plan.places[key])
        radius = self.plan.radius * view.scale
        group.add(Color(*(palette.fill if disc.chosen else palette.ground if disc.empty else palette.band)))
        group.add(Ellipse(pos=(x - radius, y - radius), size=(2 * radius, 2 * radius), segments=40))
        group.add(Color(*palette.ink))
        group.add(ring(x, y, radius, dp(1.3)))
        ink = palette.on_fill if disc.chosen else palette.ink
        _add_inside(group, disc.inside, x, y, radius, ink)

    def _draw_names(self, group: InstructionGroup, view: View, ways: list) -> None:
        """Draw each name beside its disc where it hides least: no arrow, no other disc, no other name."""
        radius, names = self.plan.radius * view.scale, []
        middles = [view.point(place) for place in (*self.plan.places.values(), *self.plan.lines.values())]
        for key, place in self.plan.places.items():
            drawn = texture(self.discs.get(key, Disc("?", "")).name, sp(13), fonts.SEMIBOLD, int(dp(130)))
            boxes = _beside(view.point(place), radius, drawn.width + dp(4), drawn.height * 0.8)
            box = min(boxes, key=lambda one: self._hides(one, ways, middles, radius, names))
            names.append(box)
            _add_name(group, drawn, box)

    def _hides(self, box: Rect, ways: list, middles: list[Point], radius: float, names: list[Rect]) -> int:
        """Count what a name would hide in a rectangle; outside the plan it is hidden itself."""
        inside = self.x <= box.x and box.right <= self.right and self.y <= box.y and box.top <= self.top
        hidden = sum(crosses(box, *way) for way in ways)
        hidden += 3 * sum(reaches(box, middle, radius) for middle in middles)
        hidden += 3 * sum(overlap(box, other) for other in names)
        return hidden if inside else hidden + 10


def _add_inside(group: InstructionGroup, text: str, x: float, y: float, radius: float, ink) -> None:
    drawn = fitting(text, fonts.SEMIBOLD, 1.7 * radius, 1.4 * radius, (22, 18, 15, 13, 11))
    add_texture(group, drawn, x - drawn.width / 2, y - drawn.height / 2, ink)


def _add_name(group: InstructionGroup, drawn, box: Rect) -> None:
    group.add(Color(*theme.palette.tile[:3], 0.8))
    group.add(Rectangle(pos=box[:2], size=box[2:]))
    x, y = box.x + (box.width - drawn.width) / 2, box.y + (box.height - drawn.height) / 2
    add_texture(group, drawn, x, y, theme.palette.ink)


def _beside(at: Point, radius: float, width: float, height: float) -> list[Rect]:
    """Return where a name could stand: below a disc, above it, on either side."""
    (x, y), far = at, radius + dp(3)
    return [
        Rect(x - width / 2, y - far - height, width, height),
        Rect(x - width / 2, y + far, width, height),
        Rect(x + far, y - height / 2, width, height),
        Rect(x - far - width, y - height / 2, width, height),
    ]


def _add_arrow(group: InstructionGroup, start: Point, end: Point, width: float) -> None:
    """Draw an arrow in the colour that is set, its head within its length."""
    (x, y), (u, v) = start, end
    far = hypot(u - x, v - y)
    if far < 1:
        return
    head = min(dp(_HEAD), far)
    dx, dy = (u - x) / far * head, (v - y) / far * head
    group.add(Line(points=(x, y, u - dx * 0.8, v - dy * 0.8), width=width))
    left, right = (u - dx - dy * 0.5, v - dy + dx * 0.5), (u - dx + dy * 0.5, v - dy - dx * 0.5)
    group.add(_filled([(u, v), left, right], "triangles"))


def _filled(points: list[Point], mode: str) -> Mesh:
    corners = [part for x, y in points for part in (x, y, 0, 0)]
    return Mesh(vertices=corners, indices=list(range(len(points))), mode=mode)
