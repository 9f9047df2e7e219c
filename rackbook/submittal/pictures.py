"""Pictures of the sheets: where one named in a sheet is found, and whether it bears its own title."""

from __future__ import annotations

import base64
import re
from collections.abc import Mapping
from pathlib import Path
from urllib.parse import unquote_to_bytes

from ..trace.errors import SheetError
from .cells import PICTURES, Piece

MEDIA = {suffix: mime for mime, suffix in PICTURES.items()}


def fetched(address: str, attached: Mapping[str, Piece], folder: Path, where: str) -> tuple[bytes, str]:
    """Return the bytes and the suffix of a picture: attached to its cell, written out in its address, or in the job folder.

    Raises:
        SheetError: It is somewhere else, or of a kind that is not printed.
    """
    if address in attached:
        return attached[address].data, attached[address].suffix
    if found := re.match(r"data:([\w/+.-]+)(;base64)?,(.*)", address, re.S):
        suffix = PICTURES.get(found[1], "")
        data = base64.b64decode(found[3]) if found[2] else unquote_to_bytes(found[3])
    elif re.match(r"[a-z][a-z0-9+.-]*:", address, re.I):
        raise SheetError(
            f"{where}: picture {address[:60]!r} is not on this machine. Save it in the job folder and name the file."
        )
    else:
        path = (folder / address).resolve()
        if not path.is_relative_to(folder.resolve()) or not path.is_file():
            raise SheetError(f"{where}: picture {address[:60]!r} is not in the job folder.")
        data, suffix = path.read_bytes(), path.suffix.lstrip(".").lower().replace("jpeg", "jpg")
    if suffix not in MEDIA:
        raise SheetError(f"{where}: picture {address[:60]!r} is not SVG, PNG or JPEG.")
    return data, suffix


def drawn_in(svg: bytes, title: str) -> bool:
    """Whether a drawing has its title drawn in it: as text, or as outlines with the text beside them as a comment."""
    texts = re.findall(r"<!--\s*(.+?)\s*-->|<text\b[^>]*>\s*([^<]+?)\s*</text>", svg.decode("utf-8", "replace"))
    return any((comment or text).lower().startswith(title.lower()) for comment, text in texts)
