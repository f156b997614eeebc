"""What every test shares."""

from hypothesis import settings

# Seeded and without a deadline: the same examples on every machine, and a busy one fails nothing.
settings.register_profile("ci", derandomize=True, deadline=None, max_examples=60)
# A longer search by hand: make test ARGS='--hypothesis-profile=search tests/properties'
settings.register_profile("search", deadline=None, max_examples=2000)
settings.load_profile("ci")
