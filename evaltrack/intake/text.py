"""The text of a file that someone brings, or a sentence that says why it cannot be read."""

import difflib
import re
import unicodedata
from collections.abc import Iterable
from pathlib import Path

from evaltrack.errors import IntakeError

_SAVE_AS_UTF8 = "open it in the program that made it and save it as UTF-8 text (in a spreadsheet: CSV UTF-8)"
_WHITE = re.compile(r"[^\S\x1c-\x1f\x85]+")  # white space, but not the control characters that pass for it
_JOINERS = "\u200c\u200d"  # needed inside words of some scripts


class Complaints:
    """What is wrong with one file, each with its line, in the order of the lines.

    Parameters
    ----------
    path : the file; complaints name it without its folder.
    """

    def __init__(self, path: str | Path):
        self._file = Path(path).name
        self._found: list[tuple[int, str]] = []

    def add(self, line: int, text: str) -> None:
        """Note a fault. Line 0 stands for the file as a whole."""
        self._found.append((line, text))

    def error(self) -> IntakeError:
        """Return the error that carries every complaint so far, by line."""
        ordered = sorted(self._found, key=lambda found: found[0])
        return IntakeError(self._sentence(line, text) for line, text in ordered)

    def raise_any(self) -> None:
        """Raise IntakeError when there is at least one complaint."""
        if self._found:
            raise self.error()

    def refuse(self, line: int, text: str) -> IntakeError:
        """Add a last fault, after which the file cannot be read on, and return the error to raise."""
        self.add(line, text)
        return self.error()

    def _sentence(self, line: int, text: str) -> str:
        return f"{self._file}, line {line}: {text}" if line else f"{self._file}: {text}"


def read_text(path: str | Path) -> str:
    """Return the text of a UTF-8 file, without its byte-order mark; line ends are left as they are.

    Raises
    ------
    IntakeError : the file is missing, a folder, unreadable, empty, no text, or not UTF-8.
    """
    complaints = Complaints(path)
    content = _read_bytes(Path(path), complaints).removeprefix(b"\xef\xbb\xbf")
    if not content.strip():
        raise complaints.refuse(0, "the file is empty; nothing was taken in")
    _refuse_other_than_text(content, complaints)
    try:
        return content.decode("utf-8")
    except UnicodeDecodeError as fault:
        what = f"this is not UTF-8 text (byte 0x{content[fault.start]:02X})"
        raise complaints.refuse(_line_of(content, fault.start), f"{what}; {_SAVE_AS_UTF8}") from None


def _read_bytes(path: Path, complaints: Complaints) -> bytes:
    try:
        if path.is_dir():
            raise complaints.refuse(0, "this is a folder; name the file in it")
        if path.exists() and not path.is_file():
            raise complaints.refuse(0, "this is not an ordinary file; copy what is in it to a file first")
        return path.read_bytes()
    except FileNotFoundError:
        raise complaints.refuse(0, "there is no such file; check its name and its folder") from None
    except ValueError:  # a NUL in the name
        raise complaints.refuse(0, "this cannot be the name of a file; check it") from None
    except OSError as fault:
        reason = fault.strerror or "no reason given"
        raise complaints.refuse(0, f"the file cannot be read ({reason}); check who may read it") from None


def _refuse_other_than_text(content: bytes, complaints: Complaints) -> None:
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise complaints.refuse(1, f"this is UTF-16 text and not UTF-8; {_SAVE_AS_UTF8}")
    if content.startswith(b"PK\x03\x04"):
        raise complaints.refuse(0, "this is a workbook and not text; save the sheet as CSV UTF-8")
    nul = content.find(b"\x00")
    if nul >= 0:
        what = "this is not a text file (it holds a NUL byte)"
        raise complaints.refuse(_line_of(content, nul), f"{what}; {_SAVE_AS_UTF8}")


def _line_of(content: bytes, at: int) -> int:
    before = content[:at].replace(b"\r\n", b"\n")
    return 1 + before.count(b"\n") + before.count(b"\r")


def folded(text: str) -> str:
    """Return the text in Unicode's composed form (NFC), trimmed, each run of white space one blank."""
    return _WHITE.sub(" ", unicodedata.normalize("NFC", text)).strip(" ")


def unprintable(text: str) -> str | None:
    """Return the first control or invisible character as ``U+0007``, or None when there is none.

    Characters that turn the direction of writing are among them: they would garble a printed line.
    """
    for character in text:
        if unicodedata.category(character) in ("Cc", "Cf", "Cs") and character not in _JOINERS:
            return f"U+{ord(character):04X}"
    return None


def shown(text: str) -> str:
    """Return a value from the file as complaints quote it: on one line, printable, not long."""
    plain = "".join("?" if unprintable(character) else character for character in folded(text[:200]))
    return f"`{plain[:40]}...`" if len(plain) > 40 else f"`{plain}`"


def meant(given: str, known: Iterable[str]) -> str:
    """Return ``"; did you mean ...?"`` with the closest known word, or what is known when none is close."""
    words = list(known)
    close = difflib.get_close_matches(given[:60].lower(), words, n=1)
    if close:
        return f"; did you mean `{close[0]}`?"
    return "; known: " + ", ".join(words[:20]) + (", ..." if len(words) > 20 else "")
