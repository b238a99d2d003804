"""What does a weather file say, whichever way it is written? Pure."""

from planner.weather_files.found import MOST_BYTES, Found, months_to_normals
from planner.weather_files.reading import read

__all__ = ["MOST_BYTES", "Found", "months_to_normals", "read"]
