"""Where the words of a PDF stand, read back from the file itself."""

import io
from dataclasses import dataclass
from functools import cache

import pypdf
from PIL import ImageFont

from evaltrack.places import assets

_MM = 25.4 / 72
_FONTS = {
    "IBMPlexSansCond-Regular": "IBMPlexSansCondensed-Regular",
    "IBMPlexSansCond-SemiBold": "IBMPlexSansCondensed-SemiBold",
    "IBMPlexSansCond-Bold": "IBMPlexSansCondensed-Bold",
    "DejaVuSans": "DejaVuSans",
    "DejaVuSans-Bold": "DejaVuSans-Bold",
}


@dataclass(frozen=True)
class Word:
    """Some text in one font on one line, in millimetres from the page's upper left corner to its baseline."""

    text: str
    x: float
    y: float
    width: float
    size: float

    @property
    def right(self) -> float:
        """Return where it ends."""
        return self.x + self.width

    def inside(self, x: float, y: float, width: float, height: float) -> bool:
        """Say whether all of it, from about its tallest letter to its baseline, is in a rectangle."""
        across = x <= self.x and self.right <= x + width
        return across and y <= self.y - 0.7 * self.size and self.y <= y + height


def words_of(content: bytes) -> list[list[Word]]:
    """Return the words of each page, in the order in which they are read."""
    return [_words(page) for page in pypdf.PdfReader(io.BytesIO(content)).pages]


def _words(page) -> list[Word]:
    found, top = [], float(page.mediabox.top)

    def take(text, transform, _, font, size):
        text = text.strip()
        if text:
            width = _face(font["/BaseFont"].split("+")[-1]).getlength(text) / 100 * size * _MM
            x, y = transform[4] * _MM, (top - transform[5]) * _MM
            found.append(Word(text, x, y, width, size * _MM))

    page.extract_text(visitor_text=take)
    return found


@cache
def _face(name: str) -> ImageFont.FreeTypeFont:
    return ImageFont.truetype(str(assets() / "fonts" / f"{_FONTS[name]}.ttf"), 100)
