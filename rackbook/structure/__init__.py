"""Structure of the rack: load combinations, frame, members, connections, anchorage, piers, lifting."""

from . import anchorage, combinations, connections, frame, hanging, lifting, members, piers

__all__ = ["anchorage", "combinations", "connections", "frame", "hanging", "lifting", "members", "piers"]
