"""The colours of paper, in one place: one blue with its tints, dark ink, and greys. No red, no green."""

INK = "#10202E"
SOFT = "#3F505E"
LINES = "#B9C6D0"
FILL = "#0B5C93"
WHITE = "#FFFFFF"


def tint(colour: str, amount: float) -> str:
    """Return a colour thinned with white: ``amount`` 1 is the colour itself, 0 is white."""
    parts = (int(colour[i : i + 2], 16) for i in (1, 3, 5))
    return "#" + "".join(f"{round(255 - (255 - part) * amount):02X}" for part in parts)


BAND_50 = tint(FILL, 0.48)
BAND_90 = tint(FILL, 0.19)
PALE = tint(FILL, 0.06)
HAIRLINE = tint(SOFT, 0.22)
SHADE = tint(SOFT, 0.28)

NAMES = {
    "ink": INK,
    "soft": SOFT,
    "lines": LINES,
    "fill": FILL,
    "band50": BAND_50,
    "band90": BAND_90,
    "pale": PALE,
    "hairline": HAIRLINE,
    "shade": SHADE,
}
