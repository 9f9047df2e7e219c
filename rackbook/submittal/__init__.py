"""The print: executed notebooks of a job to one PDF and one web page that opens anywhere."""

from ..trace.text import plain as escape
from .bind import bind_notebooks
from .matter import DRAFT, Matter, Printed

__all__ = ["DRAFT", "Matter", "Printed", "bind_notebooks", "escape"]
