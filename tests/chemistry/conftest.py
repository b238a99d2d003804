"""Property tests draw the same examples every run and do not race the clock."""

from hypothesis import settings

settings.register_profile("steady", deadline=None, derandomize=True)
settings.load_profile("steady")
