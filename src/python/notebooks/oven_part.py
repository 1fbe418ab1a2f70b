# %% [markdown]
# # A part for a bakery's deck oven
# How quickly must it trip, what does warm air do to it, and which strip meets the wish? Every number is computed;
# the part is invented.

# %%
from pathlib import Path

import numpy as np
import relatch

shipped = Path(__file__).resolve().parents[3] / "scenarios"
part = relatch.load(shipped / "03-deck-oven.toml")
outcome = relatch.predict(part)
outcome

# %% [markdown]
# ## The characteristic, cold and hot
# Trip times fall steeply above the trip point; below it they are infinite, which is proved and not timed out.

# %%
held_a = outcome.trip_point.current_a
curve = relatch.curve(part, held_a * np.array([0.98, 1.05, 1.2, 1.5, 2.0, 3.0]))
assert np.isinf(curve.cold_s[0]) and np.all(np.diff(curve.cold_s[1:]) < 0)
for current_a, cold_s, hot_s in zip(curve.current_a, curve.cold_s, curve.hot_s, strict=True):
    print(f"{current_a:6.2f} A  cold {cold_s:8.1f} s  hot {hot_s:8.1f} s")

# %% [markdown]
# ## Warm air
# One row a temperature; the trip point falls by about the same for each kelvin.

# %%
air = relatch.sweep(part, {"surroundings.ambient": (np.array([20.0, 40.0, 60.0]), "degC")})
print(dict(zip(air.table["surroundings.ambient_c"], air.table["trip_point_a"], strict=True)))
assert np.all(np.diff(air.table["trip_point_a"]) < 0)

# %% [markdown]
# ## A part that trips at 20 s and resets in 25 s
# The targets name what is free; what is found is a scenario, and the whole prediction confirms it.

# %%
found = relatch.design(shipped / "targets" / "01-twenty-seconds.toml")
confirmed = relatch.predict(found.part)
print(f"trips after {confirmed.trip.time_s:.2f} s, reset after {confirmed.reset.relatch_wait.value:.2f} s")
assert abs(confirmed.trip.time_s / 20 - 1) < 0.011
