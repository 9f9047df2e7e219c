"""Joints of the rack while it hangs on the hook: the connections' own limit states under the forces of a lift.

At working level (R_n / Omega), whatever the method of the job. It stands right of connections, members and lifting, which know
nothing of each other; the rails' compression is that of the members.
"""

from __future__ import annotations

import functools
from dataclasses import replace

from rackbook.trace import Source, Value, given

from .connections import Connections, Forces, Splice, clip_states, rail_weld_states, splice_states
from .connections.clips import Clip
from .connections.rail_welds import RailWeld
from .connections.splices import RailForces
from .connections.strength import State
from .connections.work import Joints
from .lifting import Strengths
from .members.compression import compression
from .steel import available

_LIFT = Source("derivation", "not of this lift")
NO_FORCE, NO_MOMENT = given(0.0, "kip", _LIFT, "F"), given(0.0, "kip*in", _LIFT, "M")


def strengths(connections: Connections) -> Strengths:
    """Return the utilization by a lift of the rails' joints and splices; left open where the job does not give them."""
    hung = connections.clips or connections.rail_welds
    joint = functools.partial(_joint, hung) if hung is not None and hung.leg is None else None
    spliced = connections.splices
    splice = functools.partial(_splice, spliced.what) if spliced is not None and isinstance(spliced.what, Splice) else None
    return Strengths(rail_compression=_rail, joint=joint, splice=splice)


def _rail(shape: str, F_y: Value, L_b: Value) -> Value:
    """Return the allowable compression of a rail between posts, as the members' own sheet has it."""
    return available(compression(shape, F_y, L_b, L_b).P_n, "compression", "ASD", "P_c")


def _joint(of: Joints, V: Value) -> Value:
    """Return the utilization of a joint by an upright force; the post's steel is utilized as where the joint governs."""
    assert of.U is not None  # joints on a post have the use of its steel
    F = Forces(F_x=NO_FORCE, F_y=NO_FORCE, F_z=V, M_x=NO_MOMENT, M_y=NO_MOMENT, M_z=NO_MOMENT)
    if isinstance(of.what, Clip):
        states = clip_states(replace(of.what, method="ASD"), F, of.U)
    else:
        assert isinstance(of.what, RailWeld)
        states = rail_weld_states(replace(of.what, method="ASD"), F, of.U)
    return _most_used(states)


def _splice(of: Splice, P: Value, V: Value, M: Value) -> Value:
    F = RailForces(P=P, V_y=V, V_x=NO_FORCE, T=NO_MOMENT, M_x=M, M_y=NO_MOMENT)
    return _most_used(splice_states(replace(of, method="ASD"), F))


def _most_used(states: tuple[State, ...]) -> Value:
    """Return the utilization of the governing limit state; the others are not carried, to keep the sheet short."""
    return max(states, key=lambda state: state.ratio.magnitude).ratio.named("u")
