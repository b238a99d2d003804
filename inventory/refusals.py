"""The one way in which a domain function says no, in words that a person can act on."""


class Refusal(Exception):
    """What was asked cannot be done; `field` names the input to mend, if there is one."""

    def __init__(self, message: str, *, field: str | None = None):
        super().__init__(message)
        self.message = message
        self.field = field
