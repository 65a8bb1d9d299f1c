"""How large words are. The same ones are measured once: a screen lays them out again and again."""

from kivy.core.text import Label

_MOST = 8192  # sizes that are kept, a few hundred bytes each
_LOOKS = ("font_name_r", "font_size", "bold", "italic", "font_hinting", "font_kerning", "outline_width")


def _install() -> None:
    """Have each label ask for a size that is known before it measures."""
    measure = Label.get_extents
    known: dict[tuple, tuple[int, int]] = {}

    def get_extents(self, text):
        options = self.options
        key = text, *[options.get(look) for look in _LOOKS]
        if (size := known.get(key)) is None:
            if len(known) >= _MOST:
                known.clear()
            size = known[key] = measure(self, text)
        return size

    Label.get_extents = get_extents


_install()
