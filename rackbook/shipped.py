"""Where the files that travel with the book are: published tables, cases, demo jobs and notebooks."""

from __future__ import annotations

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent


def shipped(*parts: str) -> Path:
    """Return the path of a shipped file or folder, ``shipped("data", "tables", "ampacity.csv")``.

    The first part is ``data`` or ``notebooks``. A source checkout keeps these next to the package; an
    installed book carries them inside it. The path is returned whether or not the file exists.

    Raises:
        ValueError: The first part is another folder, or a part would lead out of it.

    """
    if not parts or parts[0] not in ("data", "notebooks"):
        raise ValueError(f"shipped files are in 'data' or 'notebooks', not in {parts[:1]}")
    inside = _PACKAGE / "_shipped"
    root = (inside if inside.is_dir() else _PACKAGE.parent) / parts[0]
    path = root.joinpath(*parts[1:])
    if ".." in path.relative_to(root).parts:
        raise ValueError(f"{'/'.join(parts)} leads out of the shipped files")
    return path
