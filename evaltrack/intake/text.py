"""The text of a file that someone brings, or a sentence that says why it cannot be read."""

import difflib
import re
import unicodedata
from collections.abc import Iterable
from pathlib import Path

from evaltrack.device.system_words import system_reason
from evaltrack.errors import IntakeError
from evaltrack.language import decimal, mark, tr
from evaltrack.rink.plain_text import first_hidden, is_hidden, one_line

_SAVE_AS_UTF8 = mark(
    "open it in the program that made it and save it as UTF-8 text (in a spreadsheet: CSV UTF-8)"
)
_WHITE = re.compile(r"[^\S\x1c-\x1f\x85]+")  # white space, but not the control characters that pass for it
_COMPOSED = 1000  # characters; what is longer is refused anyway, and composing takes time by the square
MOST_FAULTS = 200  # told of one file
LARGEST = 8_000_000  # bytes, of a table
_MOST_LINES = 200_000
_LONGEST_LINE = 10_000  # bytes


class Complaints:
    """What is wrong with one file, each with its line, in the order of the lines.

    Parameters
    ----------
    path : the file; complaints name it without its folder.
    """

    def __init__(self, path: str | Path):
        self._file = one_line(Path(path).name)
        self._found: list[tuple[int, str]] = []

    def add(self, line: int, text: str, about: str = "") -> None:
        """Note a fault. Line 0 stands for the file as a whole; ``about`` names the entry it is in.

        Raises
        ------
        IntakeError : there are so many already that the rest of the file is not worth reading.
        """
        if len(self._found) == MOST_FAULTS:
            more = tr("more than {number} faults; mend the first ones, told here", number=MOST_FAULTS)
            self._found.insert(0, (0, more))
            raise self.error()
        self._found.append((line, f"{about}{text}"))

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
        if line:
            return tr("{file}, line {line:d}: {text}", file=self._file, line=line, text=text)
        return tr("{file}: {text}", file=self._file, text=text)


def read_text(path: str | Path, largest: int = LARGEST) -> str:
    """Return the text of a UTF-8 file, without its byte-order mark; line ends are left as they are.

    Parameters
    ----------
    largest : the bytes that it may have.

    Raises
    ------
    IntakeError : the file is missing, a folder, unreadable, empty, no text, not UTF-8, or far too large.
    """
    complaints = Complaints(path)
    content = read_bytes(Path(path), complaints, largest).removeprefix(b"\xef\xbb\xbf")
    if not content.strip():
        raise complaints.refuse(0, tr("the file is empty; nothing was taken in"))
    _refuse_other_than_text(content, complaints)
    _refuse_endless_lines(content, complaints)
    try:
        return content.decode("utf-8")
    except UnicodeDecodeError as fault:
        what = tr("this is not UTF-8 text (byte 0x{byte:02X})", byte=content[fault.start])
        raise complaints.refuse(_line_of(content, fault.start), f"{what}; {tr(_SAVE_AS_UTF8)}") from None


def read_bytes(path: Path, complaints: Complaints, largest: int) -> bytes:
    """Return what is in a file; raises IntakeError when it is missing, no file, unreadable or too large."""
    try:
        if path.is_dir():
            raise complaints.refuse(0, tr("this is a folder; name the file in it"))
        if path.exists() and not path.is_file():
            raise complaints.refuse(0, tr("this is not an ordinary file; copy what is in it to a file first"))
        if (size := path.stat().st_size) > largest:
            raise complaints.refuse(0, _too_large(size, largest))
        return path.read_bytes()
    except FileNotFoundError:
        raise complaints.refuse(0, tr("there is no such file; check its name and its folder")) from None
    except ValueError:  # a NUL in the name
        raise complaints.refuse(0, tr("this cannot be the name of a file; check it")) from None
    except OSError as fault:
        reason = system_reason(fault) or tr("no reason given")
        raise complaints.refuse(
            0, tr("the file cannot be read ({reason}); check who may read it", reason=reason)
        ) from None


def _too_large(size: int, largest: int) -> str:
    unit, name = (1_000_000, "MB") if largest >= 1_000_000 else (1000, "kB")
    return tr(
        "the file has {size} {unit}; at most {most} {unit} are read: divide it, or check its name",
        size=decimal(size / unit),
        most=largest // unit,
        unit=name,
    )


def _refuse_endless_lines(content: bytes, complaints: Complaints) -> None:
    if len(content) <= _LONGEST_LINE:
        return
    lines = _lines(content)
    if len(lines) > _MOST_LINES:
        raise complaints.refuse(
            0,
            tr(
                "the file has {number} lines; at most {most} are read: divide it",
                number=len(lines),
                most=_MOST_LINES,
            ),
        )
    for number, line in enumerate(lines, 1):
        if len(line) > _LONGEST_LINE:
            raise complaints.refuse(
                number,
                tr(
                    "this line has {number} bytes; at most {most} are read in one: break it up",
                    number=len(line),
                    most=_LONGEST_LINE,
                ),
            )


def _refuse_other_than_text(content: bytes, complaints: Complaints) -> None:
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise complaints.refuse(1, tr("this is UTF-16 text and not UTF-8; {how}", how=tr(_SAVE_AS_UTF8)))
    if content.startswith(b"PK\x03\x04"):
        raise complaints.refuse(0, tr("this is a workbook and not text; save the sheet as CSV UTF-8"))
    nul = content.find(b"\x00")
    if nul >= 0:
        what = tr("this is not a text file (it holds a NUL byte)")
        raise complaints.refuse(_line_of(content, nul), f"{what}; {tr(_SAVE_AS_UTF8)}")


def _line_of(content: bytes, at: int) -> int:
    before = content[:at].replace(b"\r\n", b"\n")
    return 1 + before.count(b"\n") + before.count(b"\r")


def _lines(content: bytes) -> list[bytes]:
    return content.replace(b"\r\n", b"\n").replace(b"\r", b"\n").split(b"\n")


def folded(text: str) -> str:
    """Return the text in Unicode's composed form (NFC), trimmed, each run of white space one blank."""
    plain = _WHITE.sub(" ", text).strip(" ")
    return unicodedata.normalize("NFC", plain) if len(plain) <= _COMPOSED else plain


def name_fault(name: str, what: str, longest: int) -> str | None:
    """Say what is wrong with a folded name, which may be empty; None when it is in order.

    ``what`` names it in the sentence: ``the observer``.
    """
    if len(name) > longest:
        return tr(
            "{what} has {number} characters; at most {longest} fit",
            what=what,
            number=len(name),
            longest=longest,
        )
    hidden = first_hidden(name)
    return (
        tr("{what} holds the invisible character {hidden}; type it again", what=what, hidden=hidden)
        if hidden
        else None
    )


def shown(text: str) -> str:
    """Return a value from the file as complaints quote it: on one line, printable, not long."""
    plain = "".join("?" if is_hidden(character) else character for character in folded(text[:200]))
    return f"`{plain[:40]}...`" if len(plain) > 40 else f"`{plain}`"


def meant(given: str, known: Iterable[str]) -> str:
    """Return ``"; did you mean ...?"`` with the closest known word, or what is known when none is close."""
    words = list(known)
    close = difflib.get_close_matches(given[:60].lower(), words, n=1)
    if close:
        return tr("; did you mean `{word}`?", word=_bare(close[0]))
    told = ", ".join(map(_bare, words[:20]))
    return tr("; known: {words}", words=told + (", ..." if len(words) > 20 else ""))


def _bare(word: str) -> str:
    """Return a known word as it is quoted, but without quotes: it may be as odd as what was given."""
    return shown(word).strip("`")
