"""Settings all tests share."""

from hypothesis import settings

# The same examples every run, and no deadline: the machine may be busy with something else.
settings.register_profile("house", derandomize=True, deadline=None, max_examples=50)
settings.load_profile("house")
