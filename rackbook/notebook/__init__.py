"""The job in Jupyter: forms that write its files, sheets and drawings that follow."""

from .workbook import Workbook, open_job

__all__ = ["Workbook", "open_job"]
