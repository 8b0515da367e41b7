"""Settings of all tests."""

from hypothesis import settings

# no test may fail for being slow: how fast a machine is says nothing of what is right; and the same code must
# meet the same examples everywhere, so that a failure can be looked into: --hypothesis-profile=default looks farther
settings.register_profile("unhurried", deadline=None, derandomize=True)
settings.load_profile("unhurried")
