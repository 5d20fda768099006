"""Readings computed from readings: names (light) here, values in `engine.flow.computed.values`."""

from engine.flow.computed.names import COMPUTED, Computed, find_computed

__all__ = ["COMPUTED", "Computed", "find_computed"]
