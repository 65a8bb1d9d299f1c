"""What goes wrong between two tablets, in sentences."""

from evaltrack.errors import EvaltrackError
from evaltrack.language import tr


class HandoverError(EvaltrackError):
    """The hand-over has ended before its time. What was taken in is safe."""


class BrokenError(HandoverError):
    """The connection has ended."""


def broken() -> BrokenError:
    """Return what is said when the connection ends in the midst of it."""
    return BrokenError(
        tr("the connection to the other tablet has broken; show a new code and type it: it goes on from here")
    )


def silent(seconds: float) -> HandoverError:
    """Return what is said when nothing comes any more."""
    return HandoverError(
        tr(
            "nothing has come from the other tablet for {seconds} seconds; bring both closer, and show a new "
            "code: it goes on from here",
            seconds=round(seconds),
        )
    )


def strange() -> HandoverError:
    """Return what is said of bytes that no evaltrack sends."""
    return HandoverError(
        tr("what came is not what evaltrack sends; nothing of it was taken in: update evaltrack on both")
    )
