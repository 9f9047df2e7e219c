"""Ends of braces: the job gives no details of them, so each stays an open check with the force it has to carry."""

from __future__ import annotations

import numpy as np

from rackbook.trace import Source, given

from ..steel import clause
from .joint import size
from .work import Work

ENDS = ("lower end", "upper end")
BY_HAND = "Design this joint by hand for the axial force: the job gives no details of the ends of braces."


def brace_ends(work: Work) -> None:
    """Leave both ends of every brace of the frame open, with the largest axial force in it."""
    P, source = work.frame.actions(work.set_name), Source("derivation", "frame analysis: largest axial force of either sense")
    for n, member in enumerate(work.frame.members):
        if member.part != "brace":
            continue
        most = size(R_i=given(float(np.max(np.abs(P.P[:, P.member == n]))), "kip", source, "P")).named("P")
        for end in ENDS:
            work.missing(f"{member.mark.capitalize()}, {end}: connection", most, clause("J1"), BY_HAND)
