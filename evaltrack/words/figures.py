"""Numbers, times and lists as the language writes them."""

from collections.abc import Sequence
from datetime import datetime, time

from evaltrack.language import NO_BREAK, THIN, Language, language, tr

_BETWEEN = {Language.ENGLISH: ",", Language.FRENCH_CANADA: NO_BREAK, Language.FRENCH_FRANCE: THIN}


def grouped(number: int) -> str:
    """Return ``1,234``; in French ``1 234``, whose space does not break."""
    return f"{number:,}".replace(",", _BETWEEN[language()])


def decimal(number: float, digits: int = 1) -> str:
    """Return a number with so many decimals, ``7.5`` or ``7,5``."""
    written = f"{number:.{digits}f}"
    return written.replace(".", ",") if language().is_french else written


def clock_time(when: time | datetime) -> str:
    """Return ``18:30``; in Canada's French ``18 h 30``, and ``18 h`` on the hour."""
    if language() is not Language.FRENCH_CANADA:
        return f"{when:%H:%M}"
    return f"{when.hour}{NO_BREAK}h" + (f"{NO_BREAK}{when:%M}" if when.minute else "")


def listed(words: Sequence[str]) -> str:
    """Return ``a, b and c``; one word as it is, and nothing for none."""
    if len(words) < 2:
        return "".join(words)
    return tr("{others} and {last}", others=", ".join(words[:-1]), last=words[-1])
