"""The spots of a screen that the keyboard comes to, and where they are seen."""

from collections.abc import Iterator
from typing import NamedTuple

from kivy.metrics import dp
from kivy.uix.behaviors import FocusBehavior

from evaltrack.rink.board_grid import Rect
from evaltrack.touch.widgets.reachable import Reachable

_MARGIN = 10  # dp that a spot keeps from the edge of the list that scrolls it into sight


class Spot(NamedTuple):
    """A place in a widget that takes touches; a field for text is one spot."""

    widget: object
    index: int = 0

    @property
    def is_field(self) -> bool:
        """Say whether it is typed into."""
        return isinstance(self.widget, FocusBehavior)

    @property
    def name(self) -> tuple[str, str]:
        """Return what finds it again in a screen that was filled anew."""
        kind = type(self.widget).__name__
        return kind, self.widget.hint_text if self.is_field else self.widget.spot_name(self.index)

    @property
    def place(self) -> Rect:
        """Return where it lies in the window, in pixels, whether a list shows that part of it or not."""
        own = self._own_place()
        x, y = self.widget.to_window(own.x, own.y)
        right, top = self.widget.to_window(own.right, own.top)
        return Rect(x, y, right - x, top - y)

    @property
    def list(self):
        """Return the list that scrolls it, None where there is none."""
        return next((one for one in _above(self.widget) if _is_list(one)), None)

    def _own_place(self) -> Rect:
        if self.is_field:
            return Rect(*self.widget.pos, *self.widget.size)
        places = self.widget.spots()
        return places[min(self.index, len(places) - 1)]

    def is_in(self, screen) -> bool:
        """Say whether it can still be pressed on a screen."""
        if not (self.is_field or self.index < len(self.widget.spots())):
            return False
        above = [self.widget, *_above(self.widget)]
        return screen in above and all(_is_shown(one) for one in above[: above.index(screen)])

    def press(self) -> None:
        """Do what a finger does there."""
        if self.is_field:
            self.widget.focus = True
        else:
            self.widget.press_spot(self.index)

    def bring_in_sight(self) -> None:
        """Scroll the list in which it stands, so far that all of it is seen."""
        view = self.list
        if view is None or view.height >= view.children[0].height:
            return
        place, seen = self.place, seen_of(view)
        low, high = place.y - dp(_MARGIN) - seen.y, place.top + dp(_MARGIN) - seen.top
        by = low if low < 0 else high if high > 0 else 0
        scroll_by(view, -by)

    def is_seen(self) -> bool:
        """Say whether its list shows the middle of it."""
        view, place = self.list, self.place
        middle = place.y + place.height / 2
        return view is None or seen_of(view).y <= middle <= seen_of(view).top


def spots_of(screen) -> list[Spot]:
    """Return the spots of a screen in the order in which they stand in it."""
    return [spot for widget in _shown_in(screen) for spot in _spots(widget)]


def lists_of(screen) -> list:
    """Return the lists of a screen that hold more than they show."""
    views = (one for one in _shown_in(screen) if _is_list(one) and one.children)
    return [view for view in views if view.children[0].height > view.height + 1]


def scroll_by(view, pixels: float) -> None:
    """Scroll a list down by so many pixels, or up, as far as it goes."""
    _, share = view.convert_distance_to_scroll(0, pixels)
    view.scroll_y = min(max(view.scroll_y - share, 0.0), 1.0)


def seen_of(view) -> Rect:
    """Return the part of the window in which a list shows its rows."""
    return Rect(*view.to_window(*view.pos), *view.size)


def _is_list(widget) -> bool:
    return hasattr(widget, "convert_distance_to_scroll")  # a ScrollView, which a start on a board never needs


def _spots(widget) -> list[Spot]:
    if isinstance(widget, FocusBehavior):
        return [Spot(widget)]
    if isinstance(widget, Reachable):
        return [Spot(widget, index) for index in range(len(widget.spots()))]
    return []


def _shown_in(widget) -> Iterator:
    for child in reversed(widget.children):
        if _is_shown(child):
            yield child
            yield from _shown_in(child)


def _is_shown(widget) -> bool:
    return not widget.disabled and widget.opacity > 0 and min(widget.size) > 1


def _above(widget) -> Iterator:
    parent = widget.parent
    while parent is not None and parent is not parent.parent:
        yield parent
        parent = parent.parent
