"""TOML files of ours: their tables one by one, each field checked, each complaint with its line."""

import re
import tomllib
from collections.abc import Collection
from pathlib import Path

from evaltrack.intake.text import Complaints, folded, meant, read_text, shown
from evaltrack.intake.toml_lines import lines_of, syntax_fault
from evaltrack.language import mark, tr
from evaltrack.rink.plain_text import first_hidden

_KEY = re.compile(r"[a-z][a-z0-9_]{0,39}")
_A_TIME = mark("a date or time")
_KINDS = {
    str: mark("text"),
    int: mark("a number"),
    float: mark("a number"),
    list: mark("a list"),
    dict: mark("a table"),
}
_LABELS = {
    "skill": mark("skill {key}:"),
    "drill": mark("drill {key}:"),
    "step": mark("step {key}:"),
    "slot": mark("slot {key}:"),
}
_MISSING = object()
_LARGEST = 250_000  # bytes
_MOST_ENTRIES = 200  # of one kind below one entry
MOST_TEXTS = 40  # in one list
TEXT_LENGTH = 300
_PART = r"""(?:[A-Za-z0-9_-]++|"[^"\n]*+"|'[^'\n]*+')"""
# a key of far more parts than any of ours: each part is a table, and tomllib takes time by their square
_DOTTED = re.compile(rf"(?<![A-Za-z0-9_-]){_PART}(?:[ \t]*+\.[ \t]*+{_PART}){{15}}")


class Entry:
    """One table of the file, with the line on which it begins.

    Every reader returns a usable value; what is wrong goes to the complaints.
    """

    def __init__(self, fields: dict, path: tuple, lines: dict[tuple, int], complaints: Complaints):
        self._fields = fields
        self._path = path
        self._lines = lines
        self._complaints = complaints
        self._label = ""

    def complain(self, text: str, field: str | None = None) -> None:
        """Note a fault of this entry, at the line of the field when that is known."""
        places = ((*self._path, field), (*self._path, field, 0), self._path)
        line = next((self._lines[place] for place in places if place in self._lines), 0)
        self._complaints.add(line, text, self._label)

    def only(self, *known: str) -> None:
        """Complain of every field that is not among the known ones."""
        for field in self._fields:
            if field not in known:
                self.complain(
                    tr("unknown field {text}{meant}", text=shown(field), meant=meant(field, known)), field
                )

    def key(self, kind: str, taken: Collection[str] = ()) -> str:
        """Return the entry's key; later complaints call the entry by it, as ``skill `outlet_pass`: ``."""
        key = self.text("key", longest=40)
        self._label = tr(_LABELS[kind], key=shown(key)) + " " if key else ""
        if key and not _KEY.fullmatch(key):
            self.complain(tr("the key may have small letters, digits and _, and starts with a letter"), "key")
        if key and key in taken:
            self.complain(tr("this key is used above; every key stands once"), "key")
        return key

    def text(self, field: str, longest: int = TEXT_LENGTH, required: bool = True) -> str:
        """Return a text, folded; empty when it is left out or wrong, which is complained of."""
        value = self._value(field, str, required)
        return self._checked_text(field, value, longest) if value is not None else ""

    def texts(self, field: str, required: bool = True) -> tuple[str, ...]:
        """Return a list of texts, empty when there is none."""
        values = self._value(field, list, required)
        if values is None:
            return ()
        if not all(isinstance(value, str) for value in values):
            self.complain(tr('`{field}` must be a list of texts, such as ["..."]', field=field), field)
            return ()
        if len(values) > MOST_TEXTS:
            self.complain(
                tr(
                    "`{field}` has {number} texts; at most {most} fit",
                    field=field,
                    number=len(values),
                    most=MOST_TEXTS,
                ),
                field,
            )
            return ()
        return tuple(self._checked_text(field, value, TEXT_LENGTH) for value in values)

    def share(self, field: str, otherwise: float) -> float:
        """Return a share between 0 and 1, neither of them, or ``otherwise`` when the field is left out."""
        value = self._value(field, float, required=False)
        if value is None:
            return otherwise
        if not 0 < value < 1:
            self.complain(tr("`{field}` must be a share between 0 and 1, such as 0.6", field=field), field)
            return otherwise
        return float(value)

    def yes_or_no(self, field: str) -> bool | None:
        """Return true or false; None when it is left out, or wrong."""
        value = self._fields.get(field)
        if value is None or isinstance(value, bool):
            return value
        self.complain(tr("`{field}` must be true or false, without quotation marks", field=field), field)
        return None

    def percents(self, field: str, count: int) -> tuple[int, ...] | None:
        """Return so many whole numbers from 0 to 100; None when they are left out, or wrong."""
        values = self._value(field, list, required=False)
        if values is None:
            return None
        if len(values) != count or not all(type(value) is int and 0 <= value <= 100 for value in values):
            like = ", ".join(["50"] * count)
            self.complain(
                tr(
                    "`{field}` must be {count} whole numbers from 0 to 100, such as [{like}]",
                    field=field,
                    count=count,
                    like=like,
                ),
                field,
            )
            return None
        return tuple(values)

    def entries(self, field: str) -> list["Entry"]:
        """Return the tables below this one; complains when there is none."""
        values = self._fields.get(field, [])
        header = f"[[{'.'.join((*self._path[::2], field))}]]"
        if values == []:
            self.complain(tr("it has no {header}; add at least one", header=header))
            return []
        if not isinstance(values, list) or not all(isinstance(value, dict) for value in values):
            self.complain(
                tr("`{field}` must be written as tables, {header}", field=field, header=header), field
            )
            return []
        if len(values) > _MOST_ENTRIES:
            self.complain(
                tr(
                    "it has {number} {header}; at most {most} fit",
                    number=len(values),
                    header=header,
                    most=_MOST_ENTRIES,
                )
            )
            return []
        places = range(len(values))
        return [Entry(values[n], (*self._path, field, n), self._lines, self._complaints) for n in places]

    def _value(self, field: str, kind: type, required: bool):
        value = self._fields.get(field, _MISSING)
        if value is _MISSING:
            if required:
                self.complain(tr("the field `{field}` is missing; add it", field=field))
            return None
        fits = isinstance(value, (int, float)) if kind is float else isinstance(value, kind)
        if not fits or isinstance(value, bool):
            found = mark("true or false") if isinstance(value, bool) else _KINDS.get(type(value), _A_TIME)
            self.complain(
                tr(
                    "`{field}` must be {kind} and not {found}",
                    field=field,
                    kind=tr(_KINDS[kind]),
                    found=tr(found),
                ),
                field,
            )
            return None
        return value

    def _checked_text(self, field: str, value: str, longest: int) -> str:
        text = folded(value)
        if not text:
            self.complain(tr("`{field}` is empty; write something", field=field), field)
        elif len(text) > longest:
            self.complain(
                tr(
                    "`{field}` has {number} characters; at most {longest} fit",
                    field=field,
                    number=len(text),
                    longest=longest,
                ),
                field,
            )
        elif hidden := first_hidden(text):
            self.complain(
                tr(
                    "`{field}` holds the invisible character {hidden}; take it out",
                    field=field,
                    hidden=hidden,
                ),
                field,
            )
        return text


def read_entries(path: str | Path, kind: str) -> tuple[list[Entry], Complaints]:
    """Return the ``[[kind]]`` tables of a TOML file, and where to complain of them.

    Raises
    ------
    IntakeError : the file cannot be read or is not TOML.
    """
    text, complaints = read_text(path, _LARGEST), Complaints(path)
    if deep := _DOTTED.search(text):
        line = text.count("\n", 0, deep.start()) + 1
        raise complaints.refuse(line, tr("this key has too many parts between dots; write it plainly"))
    try:
        document = tomllib.loads(text)
    except tomllib.TOMLDecodeError as fault:
        line, reason = syntax_fault(str(fault), text)
        raise complaints.refuse(
            line, tr("this is not TOML: {reason}; mend the line", reason=reason)
        ) from None
    except ValueError:
        raise complaints.refuse(0, tr("a number in it is too long to be read; shorten it")) from None
    except RecursionError:
        raise complaints.refuse(
            0, tr("the lists or tables are nested too deeply; write it plainly")
        ) from None
    whole = Entry(document, (), lines_of(text), complaints)
    whole.only(kind)
    return whole.entries(kind), complaints
