"""Published tables read from ``data/tables``: exact look-up; a step or an interpolation is a named step of its own.

A table is a CSV file whose head says where it was published, how its numbers were had and how they were
cross-checked. Every read gives a :class:`~rackbook.trace.Value` that names its table, row and column.
"""

from .operations import AtLeast, AtMost, Band, Interpolation, Lookup
from .read import names, table
from .shapes import section
from .table import Table

__all__ = ["AtLeast", "AtMost", "Band", "Interpolation", "Lookup", "Table", "names", "section", "table"]
