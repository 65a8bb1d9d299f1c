"""Text as textures, for widgets that draw many words on one canvas."""

from functools import lru_cache

from kivy.core.text import Label as CoreLabel
from kivy.graphics import Color, Rectangle
from kivy.metrics import dp, sp

from evaltrack.touch.widgets import fonts

INKED = 0.86  # of a line's height: the rest is blank above and below the letters
# of a size, for words whose place is too small
SHARES = (1.0, 0.92, 0.85, 0.78, 1 / 1.4, 0.65, 0.58)
BLANK = 0.18  # of a size: what a line may lack below its letters and above them
_LEAST = 11  # dp, below which no words are drawn smaller


@lru_cache(maxsize=1024)
def texture(text: str, size: float, font: str = fonts.PLAIN, width: int | None = None):
    """Return the texture of a text in white; longer than ``width`` pixels, it ends in an ellipsis."""
    options = {"text": text, "font_size": size, "font_name": fonts.font_for(text, font)}
    label = CoreLabel(**options)
    label.refresh()
    if width is None or label.texture.width <= width:
        return label.texture
    while len(text) > 1 and label.texture.width > width:
        text = text.rstrip("…")[:-1].rstrip()
        label = CoreLabel(**(options | {"text": text + "…"}))
        label.refresh()
    return label.texture


@lru_cache(maxsize=256)
def wrapped(text: str, size: float, font: str, width: int, halign: str = "center"):
    """Return the texture of a text in white, with a new line where ``width`` pixels end."""
    label = CoreLabel(
        text=text,
        font_size=size,
        font_name=fonts.font_for(text, font),
        text_size=(width, None),
        halign=halign,
    )
    label.refresh()
    return label.texture


def shares(size: float) -> list[float]:
    """Return the shares of a size in pixels in which words may be drawn, the whole of it first."""
    return [share for share in SHARES if share == 1 or size * share >= dp(_LEAST)]


def fitted(lines, width: int, height: float, wraps: bool, halign: str = "center", clear: float = 0) -> list:
    """Return the textures of lines below each other, in the largest share of their sizes that has room.

    Parameters
    ----------
    lines : text, size in pixels and font of each.
    width, height : the room in pixels.
    wraps : whether a text may have more lines than one.
    clear : pixels of the height that stay free where a smaller share of the sizes makes that possible.
    """
    possible = shares(min(size for _, size, _ in lines))
    for share, room in [(share, room) for room in (height - clear, height) for share in possible]:
        drawn = [in_room(text, size * share, font, width, wraps, halign) for text, size, font in lines]
        if None not in drawn and sum(one.height for one in drawn) - BLANK * share * lines[-1][1] <= room:
            return drawn
    return [texture(text, size * possible[-1], font, width) for text, size, font in lines]


def in_room(text: str, size: float, font: str, width: int, wraps: bool, halign: str = "center"):
    """Return the texture of a text in which nothing is cut; None where it is too wide."""
    drawn = texture(text, size, font)
    if drawn.width <= width:
        return drawn
    if wraps and " " in text and _words_fit(text, size, font, width):
        return wrapped(text, size, font, width, halign)
    return None


def _words_fit(text: str, size: float, font: str, width: int) -> bool:
    return all(_extents(word, size, font)[0] <= width for word in text.split())


def fitting(text: str, font: str, width: float, height: float, sizes: tuple[float, ...], wraps: bool = False):
    """Return the texture of a text in white in the first size at which it fits, in one line or more.

    ``sizes`` are in sp, the largest first; smaller ones in dp follow, for words that were made larger and
    have no room. What fits in none is cut in the last one, with an ellipsis; see `whole`.
    """
    found = whole(text, font, width, height, sizes, wraps)
    return found or texture(text, _pixels(sizes)[-1], font, int(width))


def whole(text: str, font: str, width: float, height: float, sizes: tuple[float, ...], wraps: bool = False):
    """Return what `fitting` does, and None for a text that would have to be cut."""
    return _whole(text, font, width, height, _pixels(sizes), wraps)


@lru_cache(maxsize=512)
def _whole(text, font, width, height, pixels: tuple[float, ...], wraps: bool):
    for size in pixels:
        drawn = texture(text, size, font)  # no dearer than to measure it, and mostly it fits
        if drawn.width <= width and drawn.height * INKED <= height:
            return drawn
        if wraps and " " in text and _words_fit(text, size, font, width):
            drawn = wrapped(text, size, font, int(width))
            if drawn.height * INKED <= height:
                return drawn
    return None


def _pixels(sizes: tuple[float, ...]) -> tuple[float, ...]:
    larger = tuple(map(sp, sizes))
    return larger + tuple(size for size in map(dp, sizes) if size < larger[-1])


@lru_cache(maxsize=2048)
def _extents(text: str, size: float, font: str) -> tuple[int, int]:
    return CoreLabel(font_size=size, font_name=fonts.font_for(text, font)).get_extents(text)


def draw(
    group, text, x, y, size, colour, font=fonts.PLAIN, anchor="left", width=None, shrinks=False
) -> float:
    """Add a text to a group of instructions, its vertical centre at y, and return its width in pixels.

    ``anchor`` says what x is: the text's left, center or right. ``shrinks`` says that a text wider than
    ``width`` is drawn smaller before it is cut.
    """
    if shrinks and texture(text, round(size), font).width > width:
        sizes = [size * share for share in shares(size)]
        size = next((one for one in sizes if _extents(text, round(one), font)[0] <= width), sizes[-1])
    drawn = texture(text, round(size), font, width and int(width))
    shift = {"left": 0, "center": drawn.width / 2, "right": drawn.width}[anchor]
    add_texture(group, drawn, x - shift, y - drawn.height / 2, colour)
    return drawn.width


def add_texture(group, drawn, x: float, y: float, colour) -> None:
    """Add a texture in a colour to a group of instructions, its lower left corner on whole pixels."""
    group.add(Color(*colour))
    group.add(Rectangle(texture=drawn, size=drawn.size, pos=(round(x), round(y))))


def forget() -> None:
    """Let go of every texture: a tablet that paused may have taken away what they held."""
    for cache in (texture, wrapped, _whole):
        cache.cache_clear()
