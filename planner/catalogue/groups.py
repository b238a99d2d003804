"""Who should not drink it, or only with care, by the catalogue's words of a plant? Pure."""

import re

# Words by which the catalogue names people: their state, their medicine, what they react to.
PEOPLE = re.compile(
    r"pregnan|breast|child|allerg|asthma|aspirin|medicin|anticoag|heart|kidney|liver|sensitiv|\blatex\b",
    re.IGNORECASE,
)
CLAUSES = re.compile(r"[;.]\s*")


def groups_to_warn(hazard_text: str) -> list[str]:
    """The clauses of a hazard that name a group of people, as they stand; what concerns picking is left out."""
    clauses = (clause.strip() for clause in CLAUSES.split(hazard_text))
    return [clause for clause in clauses if PEOPLE.search(clause)]
