"""Chapter F: bending of every family about an axis; the families stand in modules of their own."""

from __future__ import annotations

from typing import Any

from rackbook.trace import Value

from ..steel import one_of
from . import flexure_angle, flexure_rolled, flexure_strut, flexure_tube
from .edition import edition_of
from .flexure_states import Flexure
from .section import as_section

AXES = ("x", "y")


def flexure(
    shape: Any,
    F_y: Value,
    axis: Any = "x",
    L_b: Value | None = None,
    C_b: Value | None = None,
    edition: Any = "22",
    toe: Any = "compression",
    restraint: Any = "none",
) -> Flexure:
    """Return the nominal strength in bending about an axis.

    Args:
        shape: Designation, section, or family and properties.
        F_y: Yield stress.
        axis: ``"x"`` (the depth works; strut: axis 1) or ``"y"``. An angle takes ``"w"`` and ``"z"`` too, its principal axes.
        L_b: Length between points held against lateral-torsional buckling; held everywhere if left out.
        C_b: Factor for the shape of the moments; 1.0 if left out.
        edition: ``"22"`` or ``"16"`` of AISC 360.
        toe: Of an angle bent about a leg's axis: ``"compression"`` or ``"tension"`` at the toe.
        restraint: Of an angle bent about a leg's axis: ``"none"``, or ``"at the largest moment"``.

    Raises:
        LookupFailed: There is no such shape.
        InputError: The axis or a word is not one of those allowed.
        DomainError: A wall is more slender than the clause covers, or the clause does not cover the axis.

    """
    of = as_section(shape)
    axis = str(getattr(axis, "magnitude", axis))
    if of.family == "angles":
        return flexure_angle.bending(of, F_y, axis, L_b, C_b, toe, restraint)
    one_of("axis of bending", axis, AXES)
    if of.family == "strut":
        return flexure_strut.bending(of, F_y, axis, L_b, C_b)
    if of.family == "pipes":
        return flexure_tube.round_bending(of, F_y)
    if of.family == "hss":
        return flexure_tube.bending(of, F_y, axis, L_b, C_b, edition_of(edition))
    return flexure_rolled.bending(of, F_y, axis, L_b, C_b)
