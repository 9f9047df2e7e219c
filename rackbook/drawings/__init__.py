"""Drawings from the same model as the calculations."""

from .elevation import elevation

__all__ = ["elevation"]
