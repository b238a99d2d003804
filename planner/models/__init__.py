"""The tables of what grows, what is made of it, and when."""

from planner.models.batches import Batch, Occupancy, Step, StepNeed
from planner.models.book import Addition, Purpose, Reading, ReadingKind
from planner.models.bottling import Bottling, Liking, Tasting
from planner.models.busy import BusySpell
from planner.models.composition import Composition
from planner.models.feeds import FeedToken
from planner.models.picks import Observation, Patch, Pick, Share, Weighing
from planner.models.plants import Plant
from planner.models.recipes import Basis, Recipe, RecipeLine, RecipeVersion, StepTemplate
from planner.models.volume import Cause, Override, Transfer
from planner.models.weather import Normals, WeatherDay, WeatherFile

__all__ = [
    "Addition",
    "Basis",
    "Batch",
    "Bottling",
    "BusySpell",
    "Cause",
    "Composition",
    "FeedToken",
    "Liking",
    "Normals",
    "Observation",
    "Occupancy",
    "Override",
    "Patch",
    "Pick",
    "Plant",
    "Purpose",
    "Reading",
    "ReadingKind",
    "Recipe",
    "RecipeLine",
    "RecipeVersion",
    "Share",
    "Step",
    "StepNeed",
    "StepTemplate",
    "Tasting",
    "Transfer",
    "WeatherDay",
    "WeatherFile",
    "Weighing",
]
