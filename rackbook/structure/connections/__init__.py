"""Connections of the steel by AISC 360: bolts, welds, rail clips, splices, feet of posts, fastening of equipment."""

from ..steel import available
from .bolts import Bolt, BoltLine, Combined, at_hole, bolt, bolt_line, combined
from .clips import Clip, Forces, clip_states
from .elements import block_shear, net_tension
from .fastening import Fastener, Fastening, fastening
from .feet import Foot, Reaction, foot_states
from .groups import Group, group, in_plane, no_prying, out_of_plane
from .lines import LineForce, WeldLine, flanged, line_force, pair, ring, tube
from .rack import Connections, connections
from .rail_welds import RailWeld, rail_weld_states
from .sheet import sheets
from .slip import slip
from .splices import RailForces, Splice, splice_states
from .strength import State
from .walls import Wall, plate_on_wall
from .welds import fillet, groove, least_leg, length_reduction, most_leg
from .work import Joints

__all__ = [
    "Bolt",
    "BoltLine",
    "Clip",
    "Combined",
    "Connections",
    "Fastener",
    "Fastening",
    "Foot",
    "Forces",
    "Group",
    "Joints",
    "LineForce",
    "RailForces",
    "RailWeld",
    "Reaction",
    "Splice",
    "State",
    "Wall",
    "WeldLine",
    "at_hole",
    "available",
    "block_shear",
    "bolt",
    "bolt_line",
    "clip_states",
    "combined",
    "connections",
    "fastening",
    "fillet",
    "flanged",
    "foot_states",
    "groove",
    "group",
    "in_plane",
    "least_leg",
    "length_reduction",
    "line_force",
    "most_leg",
    "net_tension",
    "no_prying",
    "out_of_plane",
    "pair",
    "plate_on_wall",
    "rail_weld_states",
    "ring",
    "sheets",
    "slip",
    "splice_states",
    "tube",
]  # fmt: skip
