"""Structure of the rack: load combinations, frame, members, connections, anchorage, piers, lifting."""
