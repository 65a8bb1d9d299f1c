"""Text as textures, for widgets that draw many words on one canvas."""

from functools import lru_cache

from kivy.core.text import Label as CoreLabel
from kivy.graphics import Color, Rectangle
from kivy.metrics import dp, sp

from evaltrack.touch.widgets import fonts

INKED = 0.86  # of a line's height: the rest is blank above and below the letters


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
        wide, high = _extents(text, size, font)
        if wide <= width and high * INKED <= height:
            return texture(text, size, font)
        if wraps and " " in text and all(_extents(word, size, font)[0] <= width for word in text.split()):
            drawn = wrapped(text, size, font, int(width))
            if drawn.height * INKED <= height:
                return drawn
    return None


def _pixels(sizes: tuple[float, ...]) -> tuple[float, ...]:
    larger = tuple(map(sp, sizes))
    return larger + tuple(size for size in map(dp, sizes) if size < larger[-1])


def widest_word(text: str, size: float, font: str) -> int:
    """Return how wide the longest word of a text is, in pixels."""
    words = text.split()
    return _extents(max(words, key=len), size, font)[0] if words else 0


@lru_cache(maxsize=2048)
def _extents(text: str, size: float, font: str) -> tuple[int, int]:
    return CoreLabel(font_size=size, font_name=fonts.font_for(text, font)).get_extents(text)


def draw(group, text, x, y, size, colour, font=fonts.PLAIN, anchor="left", width=None) -> float:
    """Add a text to a group of instructions, its vertical centre at y, and return its width in pixels.

    ``anchor`` says what x is: the text's left, center or right.
    """
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
