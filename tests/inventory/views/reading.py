"""What a person reads on a page."""

import re
from html import unescape


def text_of(answer) -> str:
    """The words without tags, blanks taken together."""
    return " ".join(unescape(re.sub("<[^>]+>", " ", answer.content.decode())).split())
