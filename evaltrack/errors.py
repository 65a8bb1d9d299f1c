"""The exceptions a user may see: each one says in a sentence what is wrong and what to do."""

from collections.abc import Iterable


class EvaltrackError(Exception):
    """Something the user can put right. Its text is shown as it is, never with a traceback."""


class IntakeError(EvaltrackError):
    """A file that someone brought has faults; nothing of it was taken in.

    Parameters
    ----------
    complaints : one sentence for each fault, in the order of the file:
        ``roster.csv, line 7: what is wrong, what to do``.
    """

    def __init__(self, complaints: Iterable[str]):
        self.complaints = tuple(complaints)
        super().__init__("\n".join(self.complaints))


class SeasonFileError(EvaltrackError):
    """A season file cannot be opened, made or read."""


class NotSavedError(SeasonFileError):
    """A fact could not be written. It is not in the file and must not be counted on screen."""
