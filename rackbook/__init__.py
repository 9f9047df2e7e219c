"""Rackbook: a traceable engineering workbook for outdoor electrical equipment racks."""

__version__ = "0.1.0"
