"""How the tests that draw jobs at random are run."""

import os

from hypothesis import HealthCheck, settings

# A job takes a moment to draw and to set out, and longer on a busy machine: neither is a fault.
settings.register_profile("walls", deadline=None, suppress_health_check=[HealthCheck.too_slow])
# The same code gets the same answer where others wait for it; at a desk every run is new.
settings.register_profile("same", settings.get_profile("walls"), derandomize=True)
settings.load_profile("same" if os.environ.get("CI") else "walls")
