"""Strength of the members by chapters D to H of AISC 360-16 and 360-22, by LRFD and ASD."""

from .choose import Lightest, Trial, again, lightest
from .rack import MemberResult, Members, members
from .sheet import sheets
from .strength import Strength

__all__ = ["Lightest", "MemberResult", "Members", "Strength", "Trial", "again", "lightest", "members", "sheets"]
