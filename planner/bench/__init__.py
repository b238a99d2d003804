"""Single sums: what each asks, and how it answers. Pure."""

from planner.bench import (
    blend_sums,
    bottle_sums,
    dose_sums,
    fizz_sums,
    gravity_sums,
    preserving_sums,
    season_sums,
)
from planner.bench.asks import Answer, Ask, Line, Sum

GROUPS = (
    ("Reading and strength", gravity_sums.SUMS),
    ("Must, blending and sweetness", blend_sums.SUMS),
    ("Doses", preserving_sums.SUMS + dose_sums.SUMS),
    ("Fizz", fizz_sums.SUMS),
    ("Bottling", bottle_sums.SUMS),
    ("The season", season_sums.SUMS),
)
SUMS: dict[str, Sum] = {found.slug: found for _, sums in GROUPS for found in sums}

__all__ = ["GROUPS", "SUMS", "Answer", "Ask", "Line", "Sum"]
