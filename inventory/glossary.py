"""What does a word of the trade mean, in one line?"""

# Plain wording of our own; common practice of the trade, no source.
GLOSSES = {
    "racking": "Running the wine off its sediment into a clean vessel.",
    "must": "The juice or sugared liquid, with or without fruit, before it is wine.",
}


def gloss_of(word: str) -> str:
    """The one line for a word; an unknown word is a mistake in the page."""
    return GLOSSES[word.lower()]
