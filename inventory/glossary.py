"""What does a word of the trade mean, in one line?"""

# Plain wording of our own; common practice of the trade, no source.
GLOSSES = {
    # what is picked and made
    "patch": "A place where something grows that the house picks; kept private.",
    "pick": "One gathering of one plant at one patch, weighed and sorted.",
    "harvest window": "The days between the first and the last good pick of a plant.",
    "must": "The sweet liquid, with or without fruit in it, before yeast has made it wine.",
    "batch": "One making, from the must to the bottle.",
    "mash": "Fruit and water standing together so that colour and taste pass over.",
    "cordial": "A sweet syrup of fruit or flowers, to be thinned with water; no alcohol.",
    "country wine": "Wine of flowers, fruit or roots other than grapes.",
    # what is done
    "pitch": "To put the yeast into the must.",
    "strain": "To part the liquid from fruit or flowers through a cloth or sieve.",
    "press": "To squeeze the rest of the liquid out of fruit.",
    "rack": "To run the liquid off its sediment into a clean vessel.",
    "racking": "Running the liquid off its sediment into a clean vessel.",
    "steady": "To keep finished wine from working again, with sulphite and sorbate.",
    "prime": "To give sugar at bottling, so that the wine makes its own fizz.",
    "sweeten": "To add sugar to finished wine; it must be steadied first or stay cold.",
    "top up": "To fill a vessel to its neck, so that little air is left over the wine.",
    "lay down": "To put filled bottles away until they are fit to drink.",
    # what is measured
    "gravity": "How heavy the liquid is against water; it falls as sugar becomes alcohol.",
    "head space": "The empty room over the liquid in a bottle or vessel.",
    "foam room": "The part of a vessel left empty, because a lively must foams.",
    "brimful": "What a vessel holds to its very edge, found by weighing it with water.",
    "lees": "The sediment of spent yeast and fruit at the bottom.",
    "sulphite": "The salt that guards wine against air and germs; some people react to it.",
    "sorbate": "The salt that keeps yeast from growing again in sweetened wine.",
    "still twice": "Two equal readings, three or more days apart: the working has ended.",
    # states of a batch
    "thought of": "An idea for a batch; nothing is planned or promised.",
    "set down": "Planned, with dates, and its ingredients spoken for.",
    "working": "Yeast is turning sugar into alcohol and gas.",
    "quiet": "The working has died down; it may or may not be over.",
    "fallen bright": "The haze has settled and light passes through.",
    # the store
    "item": "Anything the house can hold and count: sugar, yeast, a bottle, a cage.",
    "lot": "What arrived together of one item, with its own mark and date.",
    "on hand": "What is in the house now, by the sum of what came and went.",
    "spoken for": "Held back for a batch or another need with a date.",
    "on its way": "Ordered or promised, with the day it should arrive.",
    "short by": "What is still missing on a day, after all that is here and on its way.",
    "use by": "The last day on which it should be used; after it, it counts for nothing.",
    "lead time": "The days between ordering a thing and having it.",
    "kept in reserve": "The amount the house never wants to go below.",
    "glass": "Bottles with what shuts them: closures and cages.",
    "set": "A clean bottle, a closure that fits it, and a cage where one is needed.",
    "closure": "What shuts a bottle: a cork, a stopper or a crown cap.",
    "cage": "The wire hood that holds a stopper against the pressure.",
    "airlock": "The little water trap that lets gas out and no air in.",
    # how a number is known
    "measured": "Read from an instrument or weighed in this house.",
    "worked out": "Calculated from other numbers by a rule that is named.",
    "taken on trust": "Typed in or taken from the catalogue; nobody here has measured it.",
    "not known": "Nobody has said or measured it yet; it is never counted as nothing.",
}


def gloss_of(word: str) -> str:
    """The one line for a word; an unknown word is a mistake in the page and raises KeyError."""
    return GLOSSES[word.lower()]
