"""One call: a job in; every result, sheet and check out."""

from .compute import Book, compute
from .paths import named_values

__all__ = ["Book", "compute", "named_values"]
