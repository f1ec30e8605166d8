"""One site with one unit: what can be looked at, measured, operated, heard, smelt, asked and mended there."""

from tests.field.world import (
    circuit_queries,
    electronics_queries,
    indoor_queries,
    leak_queries,
    outdoor_queries,
    people_queries,
    safety_queries,
    sensor_queries,
    signal_queries,
    supply_queries,
    valve_queries,
    water_queries,
)
from tests.field.world.world import Found, Truth, World

QUERIES = (
    circuit_queries,
    electronics_queries,
    indoor_queries,
    leak_queries,
    outdoor_queries,
    people_queries,
    safety_queries,
    sensor_queries,
    signal_queries,
    supply_queries,
    valve_queries,
    water_queries,
)

__all__ = ["QUERIES", "Found", "Truth", "World"]
