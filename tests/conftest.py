"""Settings of all tests."""

from hypothesis import settings

# no test may fail for being slow: how fast a machine is says nothing of what is right
settings.register_profile("unhurried", deadline=None)
settings.load_profile("unhurried")
