"""What stands in the records that are used most, for editors and type checkers; whatever else the program's JSON
holds is there too."""

from __future__ import annotations

import numpy as np

from ._record import Record, Rows

Array = np.ndarray


class Wait(Record):
    """``wait`` tells which: none, after, never, not_within, not_asked; after a time, s, it is ``value``."""

    wait: str
    value: float


class Trip(Record):
    """``answer`` tells which: at_once, after, holds_for_ever, not_within."""

    answer: str
    trips: bool
    text: str
    time_s: float
    clearing_time_s: float
    current_a: float
    strip_peak_c: float


class TripPoint(Record):
    """``answer`` tells which: up_to, stays_open, never_releases."""

    answer: str
    text: str
    current_a: float
    multiple_of_rated: float
    per_kelvin_ambient_a: float
    per_percent_preload_a: float


class Reset(Record):
    """Waits counted from open contacts."""

    relatch_wait: Wait
    ready_wait: Wait


class DataBand(Record):
    """``known`` is within: nine of ten draws lie between ``low`` and ``high``; ``shares`` says what it is from."""

    known: str
    low: float
    high: float
    shares: Rows


class MetalData(Record):
    """What is known of the metals, carried to the answers."""

    properties: int
    holds_share: float
    trip_time_s: DataBand
    trip_point_a: DataBand
    relatch_wait_s: DataBand
    text: str


class ErrorEstimate(Record):
    """Numerical errors."""

    trip_time_relative: float
    trip_point_relative: float
    relatch_wait_relative: float


class Outcome(Record):
    """A prediction."""

    scenario: str
    version: str
    trip: Trip
    trip_point: TripPoint
    reset: Reset
    metal_data: MetalData
    error_estimate: ErrorEstimate
    preload_shift: Rows
    ambient_correction: Rows
    premature_reset: Rows
    series: Rows
    warnings: Rows
    cautions: Rows


class Curve(Record):
    """Trip times against current: infinite where it is held for ever, NaN where there is no number."""

    ambient_c: float
    current_a: Array
    cold_s: Array
    hot_s: Array
    limits: Rows


class Sweep(Record):
    """An array for each column of the CSV."""

    table: dict[str, Array]
    points: Rows
