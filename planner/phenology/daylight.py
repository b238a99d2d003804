"""How long is the day?"""

from datetime import date
from math import acos, asin, atan, cos, pi, radians, sin, tan

# Forsythe et al. 1995 (CBM model), with the sun's upper edge seen through the air; from memory,
# checked against a reference library.
HORIZON_DEGREES = 0.8333


def day_length_h(*, latitude: float, day: date) -> float:
    """Hours from sunrise to sunset, 0 to 24; within about six minutes from 60 S to 60 N.

    Raises ValueError for a latitude outside -90 to 90.
    """
    if not -90 <= latitude <= 90:
        raise ValueError(f"A latitude lies between -90 and 90, not {latitude:g}.")
    number = day.timetuple().tm_yday
    theta = 0.2163108 + 2 * atan(0.9671396 * tan(0.00860 * (number - 186)))
    tilt = asin(0.39795 * cos(theta))
    north = radians(latitude)
    low = sin(radians(HORIZON_DEGREES)) + sin(north) * sin(tilt)
    across = cos(north) * cos(tilt)
    if abs(low) >= across:
        return 24.0 if low > 0 else 0.0
    return 24 - 24 / pi * acos(low / across)
