"""A search for a name in every byte below a folder, which knows nothing of how names are erased."""

import unicodedata
from itertools import product
from pathlib import Path

_CASES = (str, str.lower, str.upper, str.title, str.casefold)
_FORMS, _ENCODINGS = (
    ("NFC", "NFD"),
    ("utf-8", "utf-16-le", "utf-16-be", "unicode-escape", "cp1252", "mac-roman"),
)


def spellings(name: str) -> set[bytes]:
    """Return a name in the cases, forms and encodings in which files have names."""
    found = set()
    for case, form, encoding in product(_CASES, _FORMS, _ENCODINGS):
        try:
            found.add(unicodedata.normalize(form, case(name)).encode(encoding))
        except UnicodeEncodeError:
            continue
    return found


def where_named(folder: Path, *names: str) -> list[str]:
    """Return which files have one of these names in their bytes or in their own name."""
    found = []
    for file in sorted(path for path in folder.rglob("*") if path.is_file()):
        content = file.read_bytes() + b"\n" + file.name.encode()
        low = content.lower()  # of plain letters; that mixed cases are found too
        for name in names:
            if any(one in content or one.lower() in low for one in spellings(name)):
                found.append(f"{file.name}: {name}")
    return found
