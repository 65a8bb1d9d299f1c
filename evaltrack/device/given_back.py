"""Which loans on this tablet were given back, and how much was in them then."""

from collections.abc import Sequence
from uuid import UUID

from evaltrack.device.settings_file import one_window_at_a_time, read_settings, write_settings
from evaltrack.device.tablet import tablet_folder

_MOST = 100  # loans that are remembered


def note_given(loan: UUID, amount: Sequence[int]) -> None:
    """Remember that a loan was given back with so much in it. Where that cannot be, it asks again."""
    with one_window_at_a_time(tablet_folder()):
        known = read_settings(_file())
        known.pop(loan.hex, None)
        write_settings(_file(), dict([*known.items(), (loan.hex, list(amount))][-_MOST:]), {})


def is_given(loan: UUID, amount: Sequence[int]) -> bool:
    """Say whether all that is in a loan was given back."""
    return read_settings(_file()).get(loan.hex) == list(amount)


def _file():
    return tablet_folder() / "loans.json"
