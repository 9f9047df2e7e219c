"""The job folder as typed, unit-checked data: begin, load, save; nothing here knows how anything is computed."""

from .begin import demos, new
from .folder import CIRCUITS, EQUIPMENT, FILES, RACK, Job, load
from .problems import FolderError
from .save import save, set_cell, set_field
from .schedules import Circuit, Equipment
from .text import Place, Text

__all__ = [
    "CIRCUITS", "EQUIPMENT", "FILES", "RACK", "Circuit", "Equipment", "FolderError", "Job", "Place", "Text", "demos", "load",
    "new", "save", "set_cell", "set_field",
]  # fmt: skip
