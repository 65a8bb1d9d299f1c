"""The first size of the window: on a small display it must not reach beyond the edges."""

import ctypes
import sys
from contextlib import suppress
from pathlib import Path

_TITLE = 40  # for the title and the frame, which the system draws around a window


class _Bounds(ctypes.Structure):
    _fields_ = [(name, ctypes.c_int) for name in ("x", "y", "width", "height")]


def fitted(size: tuple[int, int], room: tuple[int, int]) -> tuple[int, int]:
    """Return the size of a window that is no larger than the room on the display, its frame included."""
    return min(size[0], room[0]), min(size[1], room[1] if size[1] <= room[1] else room[1] - _TITLE)


def fit(window) -> None:
    """Make a window smaller that reaches beyond the display, and put it where all of it is seen."""
    room = usable()
    if room is None:
        return
    left, top, *most = room
    before, after = tuple(window.system_size), fitted(window.system_size, most)
    if after != before:
        window.system_size = after
        window.left = left + (most[0] - after[0]) // 2
        window.top = top + (_TITLE if after[1] < before[1] else 0)


def usable() -> tuple[int, int, int, int] | None:
    """Return left, top, width and height of the first display without the system's bars; None if unknown.

    Kivy has no word for it, but its window module brings the library that knows.
    """
    with suppress(OSError, AttributeError, StopIteration):
        bounds = _Bounds()
        if _library().SDL_GetDisplayUsableBounds(0, ctypes.byref(bounds)) == 0 and bounds.width > 0:
            return bounds.x, bounds.y, bounds.width, bounds.height
    return None


def _library() -> ctypes.CDLL:
    if sys.platform == "win32":
        return ctypes.CDLL("SDL2")  # loaded already, and found by its name
    import kivy

    folder = Path(kivy.__file__).parent / "core" / "window"
    return ctypes.CDLL(str(next(folder.glob("_window_sdl2.*.so"))))
