"""How high the bars above and below a board are, in dp. Plain numbers, so that the tiles can be computed."""

HEAD_WIDE, HEAD_UPRIGHT = 92, 132  # what is watched and its controls; buttons of 12 mm on a ten-inch tablet
FOOT = 84  # the last tallies, the boards, undo


def board_size(width: float, height: float, dp: float) -> tuple[float, float]:
    """Return width and height of the board in a window of this size, all of it in pixels."""
    head = HEAD_WIDE if width > height else HEAD_UPRIGHT
    return width, height - (head + FOOT) * dp
