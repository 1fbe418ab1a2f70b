"""When a resettable thermal protector trips, how long it must cool, and what moves both.

A scenario is text with units in every number; results are records whose names carry units::

    import relatch
    part = relatch.load("scenarios/01-pug-mill.toml")
    outcome = relatch.predict(part.set({"load.current": "24 A"}))
    outcome.trip.time_s, outcome.trip_point.current_a, outcome.reset.relatch_wait.value

Wrong input raises InputError (a ValueError), what cannot be computed ComputeError (a RuntimeError), both with
the text that the program prints. Other threads run while the engine computes.
"""

from __future__ import annotations

import csv
import io
import json
import os
from collections.abc import Iterable, Mapping, Sequence
from typing import Any, cast

import numpy as np

from . import _engine
from ._engine import ComputeError, InputError, __version__
from ._record import Record, Rows
from .results import Curve, Outcome, Sweep

__all__ = [
    "ComputeError", "InputError", "Record", "Rows", "Scenario", "age", "compare", "curve", "design", "diagnose",
    "failures", "fit", "load", "parse", "population", "predict", "starter", "sweep", "wait", "__version__",
]


class Scenario:
    """A protector, its place and its load, as text that was read and found right."""

    def __init__(self, name: str, text: str) -> None:
        self.name, self.text = name, text
        self.title: str = _engine.check(name, text)

    def set(self, values: Mapping[str, str]) -> Scenario:
        """The same with numbers and words set by their paths: ``{"strip.length": "38 mm"}``."""
        return Scenario(self.name, _engine.set(self.name, self.text, list(values.items())))

    def save(self, path: str | os.PathLike[str]) -> None:
        """Write its text into a new file; nothing is overwritten."""
        with open(path, "x", encoding="utf-8") as file:
            file.write(self.text)

    def __repr__(self) -> str:
        return f"<relatch.Scenario {self.name}: {self.title}>"


def load(path: str | os.PathLike[str]) -> Scenario:
    """Read a scenario file."""
    return Scenario(os.fspath(path), _engine.load(os.fspath(path)))


def parse(text: str, name: str = "the scenario") -> Scenario:
    """Read a scenario from text."""
    return Scenario(name, text)


def starter(kind: str = "latch") -> Scenario:
    """A scenario to begin with: latch, heater-wound, snap-blade or bench-strip."""
    return Scenario(f"the starter {kind}", _engine.starter(kind))


def _record(told: Sequence[str]) -> Record:
    return Record.of(json.loads(told[0]), told[1])


def predict(scenario: Scenario, *, metals: bool = False) -> Outcome:
    """Trip, waits, trip point, tables; ``metals`` asks of every part what the data of its metals leave open."""
    return cast(Outcome, _record(_engine.predict(scenario.name, scenario.text, metals=metals)))


def curve(scenario: Scenario, currents_a: Iterable[float] | None = None, *, hot_fraction: float = 0.8) -> Curve:
    """Trip times against current, A, cold and hot (from ``hot_fraction`` of the rating), with arrays
    ``current_a``, ``cold_s`` and ``hot_s``: infinite where it holds for ever, NaN where there is no number."""
    asked = None if currents_a is None else [float(a) for a in currents_a]
    told = _engine.predict(scenario.name, scenario.text, True, asked, hot_fraction)
    found = _record(told).characteristic
    points = [found.cold, found.hot]
    times = [[_time_s(p.time) for p in rows or []] for rows in points]
    extra = {"current_a": np.array([p.current_a for p in found.cold]), "cold_s": np.array(times[0]),
             "hot_s": np.array(times[1])}
    return cast(Curve, Record({**vars(found), **extra}, told[1]))


def _time_s(time: Record) -> float:
    return {"after": lambda: time.value, "at_once": lambda: 0.0, "holds_for_ever": lambda: np.inf}.get(
        time.trip, lambda: np.nan)()


def wait(
    rating_a: float,
    load_a: float | None = None,
    *,
    ambient_c: float | None = None,
    start: Sequence[tuple[float, float]] | None = None,
    tripped: tuple[float, float] | None = None,
    reset_held_s: Sequence[float] = (),
    reset_refused_s: Sequence[float] = (),
    limits: str | None = None,
    compensated: bool = False,
    on: str | None = None,
    reference_air_c: float | None = None,
    instantaneous: str | None = None,
    poles: int | None = None,
    phases: int | None = None,
    notices_lost_phase: bool = False,
    resets_itself: bool = False,
) -> Record:
    """How long to wait, from a nameplate: ranges over the parts that it may stand for.

    ``start``: (s, A) of each step of the start; ``tripped``: (s, A) of a trip timed from cold; ``on``: "motor" or
    "box"; ``instantaneous``: "B", "C" or "D" beside the strip; ``phases`` on which the machine runs: of ``poles`` that
    are more, the others carry nothing.
    """
    held, refused = [float(s) for s in reset_held_s], [float(s) for s in reset_refused_s]
    return _record(_engine.wait(
        rating_a, load_a, ambient_c, start, tripped, held, refused, limits, compensated, on,
        reference_air_c, instantaneous, poles, phases, notices_lost_phase, resets_itself))


def sweep(
    scenario: Scenario, over: Mapping[str, Any], *, together: bool = False, metals: bool = False
) -> Sweep:
    """The scenario over one to three of its paths, each with each, or first with first.

    Values are a text ("12 A to 48 A in 7 by ratio", "edge-on, upright"), a list of texts, or an array with its
    unit: ``(np.linspace(4, 6, 5), "mm")``. ``table`` holds an array for each column of the CSV;
    ``metals`` puts the bands there that the data of the metals leave.
    """
    axes = [f"{path}={_values(values)}" for path, values in over.items()]
    told = _engine.sweep(scenario.text, axes, together, metals)
    found = _record(told)
    return cast(Sweep, Record({**vars(found), "table": _table(told[2])}, told[1]))


def _values(values: Any) -> str:
    if isinstance(values, str):
        return values
    if isinstance(values, tuple) and len(values) == 2 and isinstance(values[1], str) and not isinstance(values[0], str):
        return ", ".join(f"{float(x)!r} {values[1]}" for x in np.atleast_1d(values[0]))
    return ", ".join(str(x) for x in values)


def _table(text: str) -> dict[str, np.ndarray]:
    head, *rows = list(csv.reader(io.StringIO(text)))
    return {name: _column([row[k] for row in rows]) for k, name in enumerate(head)}


def _column(cells: list[str]) -> np.ndarray:
    try:
        return np.array([float(c) if c else np.nan for c in cells])
    except ValueError:
        return np.array(cells)


def compare(*scenarios: Scenario) -> Record:
    """Answers of scenarios beside the first, and which of their differences does what."""
    return _record(_engine.compare([(s.name, s.text) for s in scenarios]))


def population(
    scenario: Scenario,
    units: int = 4096,
    *,
    sensitivity_rows: int = 0,
    seed: int = 1,
    surrogate: bool = False,
) -> Record:
    """A lot from the tolerances of the scenario: scatter, rates outside limits, which tolerance matters.

    ``surrogate``: polynomials where a bound measured on fresh units allows them; ``accuracy.surrogate`` says it.
    """
    return _record(_engine.population(scenario.name, scenario.text, units, sensitivity_rows, seed, surrogate))


def failures(scenario: Scenario, years: float = 10.0, *, units: int = 16384, seed: int = 1) -> Record:
    """Failures per year of units that differ and wear."""
    return _record(_engine.failures(scenario.name, scenario.text, years, units, seed))


def age(scenario: Scenario, years: float = 20.0) -> Record:
    """What years of duty do to one part."""
    return _record(_engine.age(scenario.name, scenario.text, years))


def fit(datasheet: str | os.PathLike[str], *, seed: int = 1) -> Record:
    """Parts that follow a datasheet file; ``part`` is the best of them, a Scenario."""
    told = _engine.fit(os.fspath(datasheet), seed)
    part = Scenario(f"the part of {os.fspath(datasheet)}", told[2]) if told[2] else None
    return Record({**vars(_record(told)), "part": part}, told[1])


def design(
    targets: str | os.PathLike[str],
    *,
    units: int = 0,
    seed: int = 1,
    map: tuple[str, str] | None = None,
    trade: tuple[int, int] | None = None,
    metals: bool = False,
) -> Record:
    """The part that meets a file of targets, or misses them least: ``part``, a Scenario. ``map``: two free paths;
    ``trade``: two wants by their numbers from 1; ``metals`` as in ``predict``."""
    wants = [n - 1 for n in trade] if trade else None
    if wants and min(wants) < 0:
        raise InputError("trade: wants are counted from 1")
    told = _engine.design(os.fspath(targets), units, seed, list(map) if map else None, wants, metals)
    part = Scenario(f"the part of {os.fspath(targets)}", told[2])
    return Record({**vars(_record(told)), "part": part}, told[1])


def diagnose(case: str | os.PathLike[str], *, seed: int = 1) -> Record:
    """What is wrong with a machine that keeps tripping, from a case file."""
    return _record(_engine.diagnose(os.fspath(case), seed))
