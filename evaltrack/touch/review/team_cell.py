"""One cell of the team board: the count, the call, and where the share very likely is."""

from dataclasses import dataclass

from kivy.graphics import Color, Ellipse, InstructionGroup, Line, Rectangle, RoundedRectangle
from kivy.metrics import dp, sp

from evaltrack.analysis.standings.standing import Call, Standing
from evaltrack.touch.review.call_marks import call_width, draw_call
from evaltrack.touch.review.team_names import wide
from evaltrack.touch.widgets import fonts
from evaltrack.touch.widgets.glyphs import draw
from evaltrack.touch.widgets.theme import theme
from evaltrack.words.wording import call_words, count_words, is_firm

_CALL = 12  # sp
_GAP = 5  # dp between a count and its call
_COUNTS = (15, 13, 12, 11)  # sp
_WORDED = 138  # sp: so wide a cell has room for every call in words


@dataclass(frozen=True, slots=True)
class Place:
    """Where a share is drawn: none of it at ``left``, all of it at ``right``."""

    left: float
    right: float
    middle: float
    height: float

    def x(self, share: float) -> float:
        """Return where a share lies."""
        return self.left + share * (self.right - self.left)


def count_size(text: str, font: str, room: float) -> float:
    """Return the largest of four sizes in which a count fits beside its call."""
    return next((sp(size) for size in _COUNTS if wide(text, sp(size), font) <= room), sp(_COUNTS[-1]))


def draw_cell(group: InstructionGroup, place: Place, standing: Standing, target: float) -> None:
    """Add a cell to a group of instructions; of a share that is not firm the plain count alone, in grey."""
    palette, firm, call = theme.palette, is_firm(standing), standing.call
    y = place.middle + (place.height * 0.17 if firm else 0)
    font = fonts.BOLD if firm and call is Call.WORK_ON else fonts.PLAIN
    room = place.right - place.left - dp(_GAP)
    in_words = room >= sp(_WORDED)
    marked = call_width(call, sp(_CALL), in_words) if call_words(standing) else 0
    text = fitting_count(standing, font, room - marked)
    size = count_size(text, font, room - marked)
    draw(group, text, place.left, y, size, palette.ink if firm else palette.soft, font)
    if marked:
        draw_call(group, call, place.right, y, sp(_CALL), in_words)
    if firm:
        lowered = Place(place.left, place.right, round(place.middle - place.height * 0.29), place.height)
        draw_interval(group, lowered, standing, target)


def fitting_count(standing: Standing, font: str, room: float) -> str:
    """Return the count in words; in figures alone where the words of the language leave no room for more."""
    text = count_words(standing.done, standing.tries)
    return text if wide(text, sp(_COUNTS[-1]), font) <= room else f"{standing.done}/{standing.tries}"


def draw_interval(
    group: InstructionGroup, place: Place, standing: Standing, target: float | None = None, half: float = 0
) -> None:
    """Add the share with its bars of 90 % and 50 % on a scale from none to all, and the target's tick.

    Without a target there is no tick. ``half`` is half the thickness of the bars in pixels.
    """
    palette, y, half = theme.palette, place.middle, half or dp(3)
    group.add(Color(*palette.line))
    group.add(Rectangle(pos=(place.left, y), size=(place.right - place.left, dp(1))))
    _bar(group, place, (standing.low, standing.high), palette.band, half)
    _bar(group, place, (standing.low50, standing.high50), palette.band50, half)
    if target is not None:
        group.add(Color(*palette.ink))
        group.add(Line(points=(place.x(target), y - dp(4), place.x(target), y + dp(5)), width=1))
    group.add(Color(*palette.fill))
    radius = half + dp(1)
    group.add(
        Ellipse(pos=(place.x(standing.share) - radius, y + 0.5 - radius), size=(2 * radius, 2 * radius))
    )


def _bar(group: InstructionGroup, place: Place, ends: tuple[float, float], tint, half: float) -> None:
    low, high = map(place.x, ends)
    group.add(Color(*tint))
    size = max(high - low, 2 * half), 2 * half + 1
    group.add(RoundedRectangle(pos=(low, place.middle - half), size=size, radius=[half]))
