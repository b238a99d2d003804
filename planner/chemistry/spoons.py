"""What does a spoonful weigh, roughly, and what must never go by the spoon?"""

from planner.chemistry.figure import Figure, Rule
from planner.chemistry.ranges import one_of, within

SPOON_RULE = Rule(
    "bulk density",
    "USDA SR26 household weights where read, else from memory",
    "level spoons and cups, 0.5 to 1000 mL; 15 to 25 % either way",
)

READ, MEMORY = "USDA SR26", "from memory"
# Grams in a millilitre as it lies in the spoon, and where that was found.
BULK_G_PER_ML = {
    "granulated sugar": (0.85, f"{READ} 19335"),
    "brown sugar, packed": (0.93, f"{READ} 19334"),
    "icing sugar, unsifted": (0.51, f"{READ} 19336"),
    "honey": (1.42, f"{READ} 19296"),
    "maple syrup": (1.33, f"{READ} 19353"),
    "active dry yeast": (0.81, f"{READ} 18375"),
    "cream of tartar": (0.61, f"{READ} 18373"),
    "baking soda": (0.93, f"{READ} 18372"),
    "table salt": (1.22, f"{READ} 02047"),
    "citric acid": (0.9, f"{MEMORY}, trade range 0.8 to 1.0"),
    "tartaric acid": (0.95, f"{MEMORY}, 0.9 to 1.0"),
    "malic acid": (0.85, MEMORY),
    "diammonium phosphate": (0.95, f"{MEMORY}, 0.9 to 1.0"),
    "potassium sorbate": (0.5, f"{MEMORY}, 0.4 to 0.6"),
    "pectic enzyme": (0.55, f"{MEMORY}, 0.5 to 0.6, by product"),
    "tannin": (0.45, f"{MEMORY}, 0.4 to 0.5"),
    "bentonite": (0.9, MEMORY),
}
WEIGH_ONLY = ("potassium metabisulphite", "sodium metabisulphite")
# USDA SR26 18375: one packet of active dry yeast, in grams.
YEAST_PACKET_G = 7.2
SPREAD_READ, SPREAD_MEMORY = 0.15, 0.25


def spoon_mass_g(*, material: str, volume_ml: float) -> Figure:
    """Mass of a level measure, with its spread; sulphite by the spoon is refused."""
    if material in WEIGH_ONLY:
        raise ValueError(f"{material} is never measured by the spoon: weigh it")
    one_of(material, BULK_G_PER_ML, name="material")
    within(volume_ml, 0.5, 1000, name="measure", unit="mL")
    density, source = BULK_G_PER_ML[material]
    spread = SPREAD_READ if source.startswith(READ) else SPREAD_MEMORY
    grams = density * volume_ml
    return Figure(
        grams,
        "g",
        "taken on trust",
        SPOON_RULE.name,
        source,
        grams * (1 - spread),
        grams * (1 + spread),
        SPOON_RULE.validity,
    )
