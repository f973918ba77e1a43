"""Property tests here say what is true, not how fast: no deadline on a shared machine."""

from hypothesis import settings

settings.register_profile("unhurried", deadline=None)
settings.load_profile("unhurried")
