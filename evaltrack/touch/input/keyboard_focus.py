"""Working a screen from the keyboard: Tab and arrows lead about, Enter presses, Escape goes back.

F1 asks for the help on the screen in front.
"""

from kivy.clock import Clock
from kivy.core.window import Window

from evaltrack.touch.input.focus_ring import FocusRing
from evaltrack.touch.input.nearest import nearest, next_in_direction
from evaltrack.touch.input.spots import Spot, lists_of, scroll_by, spots_of
from evaltrack.touch.widgets.text_label import Bar

_TAB, _ESCAPE, _F1 = 9, 27, 282
_PRESS = (13, 271, 32)  # Enter, the Enter of a number pad, the space bar
_ARROWS = {273: (0, -1), 274: (0, 1), 275: (1, 0), 276: (-1, 0)}  # right, down
_PAGES = {280: -1, 281: 1}  # up and down
_OTHERS = {"ctrl", "alt", "meta"}
_PATIENCE = 3  # frames in which a list that is filled anew may be empty


class KeyboardFocus:
    """Has one spot of the screen in front in focus, and finds it again when the screen was filled anew.

    Tab goes through the spots in the order in which they stand in the screen, an arrow to the next one in its
    direction. A field takes what is typed into it; Tab leaves it, and so do the arrows up and down.
    """

    def __init__(self, screens):
        self._screens = screens
        self._ring = FocusRing(screens)
        self._spot: Spot | None = None
        self._name, self._place, self._missed = None, None, 0
        self._screen, self._in_key = "", False
        self._left: dict[str, tuple] = {}  # by screen, what was in focus when a key led away from it
        self._following = None

    def listen(self) -> None:
        """Take the keys that no field and no screen takes itself."""
        Window.bind(on_key_down=self.take)
        self._screens.bind(current=self._change_screen)

    def leave(self) -> None:
        """Leave the keyboard alone."""
        Window.unbind(on_key_down=self.take)
        self._screens.unbind(current=self._change_screen)
        self._stop_following()

    def take(self, _, key: int, __, ___, modifiers) -> bool:
        """Take a key, and say whether it meant anything to the screen in front, or to what covers it."""
        if _OTHERS & set(modifiers):
            return False
        self._in_key = True
        try:
            return self._act(key, modifiers)
        finally:
            self._in_key = False

    def _act(self, key: int, modifiers) -> bool:
        screen = self._front
        here = self._here(screen)
        if key == _TAB:
            self._step(screen, here, -1 if "shift" in modifiers else 1)
        elif key in _ARROWS:
            self._go(screen, here, *_ARROWS[key])
        elif key in _PRESS and here and here == self._spot and not _is_typed_in(here):
            here.press()
        elif key in _PAGES:
            return self._turn(screen, here, _PAGES[key])
        elif key == _ESCAPE:
            return _escape(screen, here)
        elif key == _F1 and screen.is_event_type("on_help"):
            screen.dispatch("on_help")
        else:
            return False
        return True

    @property
    def _front(self):
        """Return the screen in front, or what covers it."""
        return self._screens.current_screen.cover or self._screens.current_screen

    def _here(self, screen) -> Spot | None:
        """Return the spot in focus; a field that a finger came to is one too."""
        spots = spots_of(screen)
        typed_in = next((spot for spot in spots if _is_typed_in(spot)), None)
        if typed_in or self._spot in spots:
            return typed_in or self._spot
        return self._again(spots) if self._spot else None

    def _again(self, spots: list[Spot]) -> Spot | None:
        """Return the spot of the name that was in focus, or else the one next to where it was."""
        same = [spot for spot in spots if spot.name == self._name]
        spots = same or spots
        found = nearest(self._place, [spot.place for spot in spots])
        return None if found is None else spots[found]

    def _step(self, screen, here: Spot | None, by: int) -> None:
        spots = spots_of(screen)
        if spots:
            start = spots.index(here) + by if here in spots else min(by, 0)
            self._focus_on(spots[start % len(spots)])

    def _go(self, screen, here: Spot | None, right: int, down: int) -> None:
        beside = _beside(here, spots_of(screen), right, down) if here else None
        if here is None:
            self._step(screen, None, 1)
        elif beside:
            self._focus_on(beside)
        elif here.list and down:
            scroll_by(here.list, down * here.list.height / 2)

    def _turn(self, screen, here: Spot | None, pages: int) -> bool:
        """Scroll by a page the list in which the focus is, or else the first one."""
        views = lists_of(screen)
        view = here.list if here and here.list in views else next(iter(views), None)
        if view:
            scroll_by(view, pages * view.height * 0.9)
        return bool(view)

    def _focus_on(self, spot: Spot | None) -> None:
        for before in self._before():
            if before.is_field and before != spot:
                before.widget.focus = False
            _mark(before, False)
        self._spot, self._screen = spot, self._screens.current
        if spot is None:
            self._stop_following()
            return
        if spot.is_field:
            spot.widget.focus = True
        _mark(spot, True)
        spot.bring_in_sight()
        self._start_following()

    def _before(self) -> list[Spot]:
        typed_in = [spot for spot in spots_of(self._front) if _is_typed_in(spot)]
        return [*typed_in, self._spot] if self._spot else typed_in

    def _start_following(self) -> None:
        self._missed = 0
        if not self._following:
            Window.bind(on_touch_down=self._forget)
            self._following = Clock.schedule_interval(self._follow, 0)
        self._follow()

    def _stop_following(self) -> None:
        if self._following:
            Window.unbind(on_touch_down=self._forget)
            self._following.cancel()
            self._following = None
        self._ring.show(None)

    def _follow(self, *_) -> None:
        """Keep the ring round the spot, and look for it again where the screen was filled anew."""
        spot, screen = self._spot, self._front
        if not getattr(spot.widget, "focused", True):  # the screen leads about in itself with keys of its own
            self._focus_on(None)
        elif spot.is_in(screen):
            self._missed = 0
            self._name, self._place = spot.name, spot.place
            self._ring.show(self._place if spot.is_seen() else None)
        else:
            self._look_again(screen)

    def _look_again(self, screen) -> None:
        self._missed += 1
        if self._missed >= _PATIENCE:
            self._missed = 0
            self._focus_on(self._again(spots_of(screen)))

    def _change_screen(self, _, name: str) -> None:
        """Begin another screen without a focus, or where a key led away from it before."""
        if self._in_key and self._spot:
            self._left[self._screen] = self._name, self._place
        self._focus_on(None)
        if self._in_key and name in self._left and not self._front.takes_arrows:
            Clock.schedule_once(lambda _: self._come_back(name), 0)

    def _come_back(self, name: str) -> None:
        self._name, self._place = self._left[name]
        same = [spot for spot in spots_of(self._front) if spot.name == self._name]
        if self._screens.current == name and not self._spot and same:
            self._focus_on(self._again(same))

    def _forget(self, *_) -> None:
        self._focus_on(None)


def _escape(screen, here: Spot | None) -> bool:
    """Leave the field that is typed in, or do what the key for back does."""
    if here and _is_typed_in(here):
        here.widget.focus = False
        return True
    bars = (one for one in screen.walk(restrict=True) if isinstance(one, Bar))
    source = next((bar for bar in bars if bar.is_event_type("on_back")), screen)
    if not source.is_event_type("on_back"):
        return False
    source.dispatch("on_back")
    return True


def _beside(here: Spot, spots: list[Spot], right: int, down: int) -> Spot | None:
    """Return the spot in a direction: in the same list first, and in another one only what it shows."""
    others = [spot for spot in spots if spot != here]
    within = [spot for spot in others if here.list and spot.list is here.list]
    without = [spot for spot in others if spot not in within and spot.is_seen()]
    for those in (within, without):
        found = next_in_direction(here.place, [spot.place for spot in those], right, down)
        if found is not None:
            return those[found]
    return None


def _is_typed_in(spot: Spot) -> bool:
    return spot.is_field and spot.widget.focus


def _mark(spot: Spot, focused: bool) -> None:
    """Tell a button that the keyboard is on it, for who asks it."""
    if hasattr(spot.widget, "focused"):
        spot.widget.focused = focused
