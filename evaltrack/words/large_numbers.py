"""Whole numbers that may be large, in groups of three digits."""

from evaltrack.language import NO_BREAK, THIN, Language, language

_BETWEEN = {Language.ENGLISH: ",", Language.FRENCH_CANADA: NO_BREAK, Language.FRENCH_FRANCE: THIN}


def grouped(number: int) -> str:
    """Return ``1,234``; in French ``1 234``, whose space does not break."""
    return f"{number:,}".replace(",", _BETWEEN[language()])
