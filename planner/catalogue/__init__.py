"""Which plants can be picked, when, how much of them, and what must be known beforehand?"""

from planner.catalogue.country_notes import CountryNote, notes_for
from planner.catalogue.groups import groups_to_warn
from planner.catalogue.plants import CataloguePlant, Cell, Dose, DoseBasis, LegalClass
from planner.catalogue.table import CatalogueError, catalogue, read_catalogue

__all__ = [
    "CatalogueError",
    "CataloguePlant",
    "Cell",
    "CountryNote",
    "Dose",
    "DoseBasis",
    "LegalClass",
    "catalogue",
    "groups_to_warn",
    "notes_for",
    "read_catalogue",
]
