"""Loads on the rack: weights, wind, seismic and their combinations."""
