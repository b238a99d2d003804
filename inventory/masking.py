"""Keeps secrets out of the logs."""

import logging
import re

FEED_SECRET = re.compile(r"(/feed/)[^/\s'\"]+")


class MaskFeedAddress(logging.Filter):
    """Keeps the secret of a feed's address out of the logs."""

    def filter(self, record):
        record.msg = FEED_SECRET.sub(r"\1***", str(record.msg))
        if isinstance(record.args, tuple):
            record.args = tuple(
                FEED_SECRET.sub(r"\1***", arg) if isinstance(arg, str) else arg
                for arg in record.args
            )
        return True
