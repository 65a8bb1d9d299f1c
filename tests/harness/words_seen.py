"""What is wrong with the words and places of a screen: cut, beyond their place, one over another."""

from collections.abc import Iterator

from kivy.metrics import dp
from kivy.uix.layout import Layout
from kivy.uix.scrollview import ScrollView

from evaltrack.touch.help.help_key import HelpKey
from evaltrack.touch.widgets import fonts
from evaltrack.touch.widgets.button import TapButton
from evaltrack.touch.widgets.glyphs import BLANK, in_room, shares
from evaltrack.touch.widgets.text_label import TextLabel

_MEANT = "left"  # a path that is too long keeps its end
_EDGE = 1.5  # pixels by which neighbours may share an edge


def faults(screen) -> list[str]:
    """Return what is cut, overlaps, or reaches beyond the screen; empty when all is as it should be."""
    return [*_outside(screen, screen), *_within(screen)]


def shown(widget) -> list:
    """Return the children that are to be seen; a label without words is not."""
    seen = [child for child in widget.children if child.opacity and min(child.size) > 1]
    return [child for child in seen if not isinstance(child, TextLabel) or child.text.strip()]


def share_of(widget) -> float | None:
    """Return the share of the asked size in which words are drawn, 0 where cut; None without words."""
    if isinstance(widget, TextLabel) and widget.text.strip():
        return 0 if widget.is_cut() and widget.shorten_from != _MEANT else widget.shrunk
    if isinstance(widget, TapButton) and widget.title and min(widget.size) > 1:
        return next((share for share in shares(_smallest(widget)) if _stand(widget, share)), 0)
    return None


def _smallest(button: TapButton) -> float:
    return min(button.title_size, button.small_size) if button.small else button.title_size


def _stand(button: TapButton, share: float) -> bool:
    """Say whether the words of a button stand on it whole in a share of their size."""
    lines = [
        (button.title, button.title_size, fonts.SEMIBOLD),
        (button.small, button.small_size, fonts.PLAIN),
    ]
    width = int(button.width - 2 * dp(8))
    drawn = [in_room(text, size * share, font, width, button.wraps) for text, size, font in lines if text]
    return None not in drawn and sum(one.height for one in drawn) - BLANK * share * lines[-1][1] <= (
        button.height - dp(2)
    )


def _within(widget) -> Iterator[str]:
    for child in shown(widget):
        if share_of(child) == 0:
            yield f"cut: {_named(child)} in {child.size}"
        elif isinstance(child, TextLabel) and _is_beyond(child):
            yield f"beyond: {_named(child)} {child.texture_size} in {child.size}"
        yield from _within(child)
    if isinstance(widget, Layout):
        beside = [child for child in shown(widget) if not isinstance(child, HelpKey)]  # over a bar's own room
        for index, one in enumerate(beside):
            yield from (f"{_named(one)} over {_named(two)}" for two in beside[:index] if _overlap(one, two))


def _is_beyond(label: TextLabel) -> bool:
    wide, high = label.texture_size
    return high - BLANK * label.font_size > label.height + 1 or wide > label.width + 1


def _overlap(one, other) -> bool:
    across = min(one.right, other.right) - max(one.x, other.x)
    along = min(one.top, other.top) - max(one.y, other.y)
    return min(across, along) > _EDGE


def _outside(widget, screen) -> Iterator[str]:
    for child in shown(widget):
        x, y = child.to_window(*child.pos)
        low, high = min(x, y), max(x + child.width - screen.width, y + child.height - screen.height)
        if low < -_EDGE or high > _EDGE:
            yield f"outside: {_named(child)} at {x:.0f} {y:.0f} {child.size}"
        elif not isinstance(child, ScrollView):
            yield from _outside(child, screen)


def _named(widget) -> str:
    words = getattr(widget, "title", "") or getattr(widget, "text", "")
    return f"{type(widget).__name__} {words[:30]!r}"
