# %% [markdown]
# # A lot of parts for pottery kilns
# What scatters, what is known of the metals, and how many fail in ten years. The lot is invented.

# %%
from pathlib import Path

import numpy as np
import relatch

shipped = Path(__file__).resolve().parents[3] / "scenarios"
lot = relatch.load(shipped / "14-kiln-lot-set.toml")
one = relatch.predict(lot)

# %% [markdown]
# ## Two kinds of doubt
# Numerical error is far below what the data of the metals leave open; the scatter of parts is a third thing.

# %%
metals = one.metal_data
low, high = metals.trip_point_a.low, metals.trip_point_a.high
error = one.error_estimate.trip_point_relative * one.trip_point.current_a
print(f"trip point {one.trip_point.current_a:.2f} A; metals {low:.2f} to {high:.2f} A; numbers {error:.1e} A")
assert low < one.trip_point.current_a < high and error < 0.01 * (high - low)

# %%
units = relatch.population(lot, 2048, seed=4)
units

# %% [markdown]
# ## Ten years
# Shares with intervals, year by year.

# %%
years = relatch.failures(lot, 10.0, units=1024)
for way in years.ways:
    shares = way.by_year.column("failed.share")
    print(way.failure, np.array2string(shares, precision=2))
    assert np.all(np.diff(shares) >= 0)
