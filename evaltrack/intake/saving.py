"""Files that are there whole or not at all."""

from pathlib import Path

from evaltrack.errors import EvaltrackError


def save(target: Path, content: bytes) -> None:
    """Write a file, beside its place first, so that a page is there whole or not at all.

    Raises
    ------
    EvaltrackError : it cannot be written.
    """
    draft = target.with_name(f"{target.name}.new")
    try:
        draft.write_bytes(content)
        draft.replace(target)
    except OSError as error:
        draft.unlink(missing_ok=True)
        raise EvaltrackError(
            f'"{target}" cannot be written: {error.strerror}; is it open in another program?'
        ) from error
