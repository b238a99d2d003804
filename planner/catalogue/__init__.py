"""Which plants can be picked, when, how much of them, and what must be known beforehand?"""

from planner.catalogue.plants import CataloguePlant, Cell, Dose, DoseBasis, LegalClass
from planner.catalogue.table import CatalogueError, catalogue, read_catalogue

__all__ = [
    "CatalogueError",
    "CataloguePlant",
    "Cell",
    "Dose",
    "DoseBasis",
    "LegalClass",
    "catalogue",
    "read_catalogue",
]
