"""Settings that every test shares: no deadline, so that a busy machine fails nothing; repeatable examples."""

from hypothesis import settings

settings.register_profile("repeatable", deadline=None, derandomize=True)
settings.load_profile("repeatable")
