"""How is each kind of figure on the pages known, by which rule and from what source?

One place for the words: pages and tables name a kind of figure and the same note opens everywhere.
"""

from dataclasses import dataclass

MEASURED, WORKED_OUT, ON_TRUST = "measured", "worked out", "taken on trust"


@dataclass(frozen=True)
class Known:
    """How a kind of figure is known; the words are whole sentences."""

    known: str
    rule: str
    source: str = ""


LEDGER = Known(WORKED_OUT, "The sum of everything received, used, counted and thrown out.")
TYPED = Known(ON_TRUST, "As somebody of the house typed it.")

KNOWN = {
    # the store
    "on hand": LEDGER,
    "spoken for": Known(
        WORKED_OUT,
        "What planned needs take of it: the earliest need first, and of the lots what expires first.",
    ),
    "free": Known(WORKED_OUT, "What is on the shelf, less what is spoken for."),
    "on its way": Known(ON_TRUST, "What was noted as ordered and has not arrived."),
    "short by": Known(
        WORKED_OUT, "Day by day: what is there and arrives, less what is needed and what expires."
    ),
    "day of change": Known(WORKED_OUT, "The days on which anything of it comes, goes or expires."),
    "needed": Known(WORKED_OUT, "The amounts of the recipe for the volume of the batch."),
    "to be bought": Known(
        WORKED_OUT, "What is short, in whole packs and not below the least that is sold."
    ),
    "order by": Known(
        WORKED_OUT, "The day it is needed, less the days from order to delivery of the item."
    ),
    "price": Known(WORKED_OUT, "The packs to buy times the price noted with the item."),
    "use by": Known(
        ON_TRUST,
        "As written on the lot; else its day of receiving and how long the item keeps, sealed or opened.",
    ),
    "weighed": Known(MEASURED, "Weighed with its tub, less the tub."),
    "left of pick": Known(WORKED_OUT, "What was left after sorting, less what became lots."),
    "lot price": Known(ON_TRUST, "As typed when it came, shared out over what came."),
    "moved": Known(MEASURED, "As weighed or counted by whoever wrote the line."),
    "typed": TYPED,
    # glass, vessels and places
    "counted glass": Known(
        WORKED_OUT,
        "Clean ones are what the ledger has on hand; the others are the sum of what was moved.",
    ),
    "sets": Known(
        WORKED_OUT,
        "The smaller of clean bottles and closures that fit, each with its cage where one is needed.",
    ),
    "holds": Known(ON_TRUST, "As typed when it was described."),
    "brimful": Known(ON_TRUST, "As typed; weighed empty and full of water, a kilogram is a litre."),
    "foam": Known(
        WORKED_OUT,
        "Brimful less 15 % for the foam of a lively must.",
        "common practice, no source",
    ),
    "jars": Known(
        WORKED_OUT, "Every choice of the vessels tried: the least room left over, then the fewest."
    ),
    "warmth": Known(ON_TRUST, "As typed for the place; its warmest counts for pressure."),
    # batches
    "read off": Known(MEASURED, "As read off the instrument; a struck reading counts no more."),
    "corrected": Known(
        WORKED_OUT,
        "Brought to 20 °C for the sample's temperature and the glass; the alcohol follows from start and reading.",
        "ICUMSA SPS-4, OIML R22 and ISO 1768:1975",
    ),
    "must": Known(ON_TRUST, "As typed when the batch was planned."),
    "volume ledger": Known(
        WORKED_OUT, "The sum of what was made, taken, left behind, poured and topped up."
    ),
    "volume line": Known(MEASURED, "As measured or reckoned by whoever wrote the line."),
    "lot cost": Known(
        WORKED_OUT,
        "What the lot cost, by the share of it used; else by the price of a pack noted with the item.",
    ),
    "bottles left": Known(WORKED_OUT, "What was laid down, less what was opened, given or broken."),
    "bottle days": Known(
        ON_TRUST,
        "By the recipe's last step, or for fizz two weeks to a test, four to ready, a year to drink.",
        "common practice, no source",
    ),
    "shares": Known(
        WORKED_OUT, "By what each brought; the bottles left over go to the largest remainders."
    ),
    "fill plan": Known(
        WORKED_OUT, "Every filling tried: the best by what matters, within bottles and closures."
    ),
    "priming": Known(
        WORKED_OUT,
        "Gas wanted, less what the wine holds and still makes, over the yield of the sugar.",
        "stoichiometry; Reg. (EEC) 2676/90 chapter 37 with Weiss 1974 for what it holds",
    ),
    "pressure": Known(
        WORKED_OUT,
        "The gas shared by wine and head space at each temperature, less the atmosphere; 2 to 8 % high.",
        "Reg. (EEC) 2676/90 chapter 37 with Weiss 1974; Pitzer and Abbott for the gas",
    ),
    "step day": Known(
        WORKED_OUT, "The days of the recipe from the start, moved by what was moved since."
    ),
    "vessel days": Known(WORKED_OUT, "From the step that fills it to the step that empties it."),
    "amounts": Known(ON_TRUST, "As typed in this version of the recipe."),
    # the season
    "window": Known(
        WORKED_OUT,
        "The days of the catalogue, shifted for the latitude and height of the house.",
        "named on each plant's page",
    ),
    "opening": Known(
        WORKED_OUT,
        "The catalogue for this place, own dates, this year's cues and its warmth, each as it is there.",
        "shrinkage of means; Jeffree 1960 for the spread between years",
    ),
    "weather": Known(ON_TRUST, "As the file has it, at the height of its own station."),
    "warmth sum": Known(
        WORKED_OUT,
        "The daily degree-days by the single sine, brought to the height of the house.",
        "Baskerville and Emin 1969; 0.6 °C for 100 m from memory",
    ),
    "keeps until": Known(
        ON_TRUST,
        "The shorter of the catalogue's days for a room, fridge or freezer, from the hour it was picked.",
        "named on each plant's page",
    ),
    "own record": Known(
        WORKED_OUT, "From the first day of each year on which it was seen open or picked here."
    ),
    "counted": Known(WORKED_OUT, "Counted from the rows of this house."),
}
