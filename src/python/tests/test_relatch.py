"""What the wheel answers is what the program answers; wrong input says what is wrong."""

import json
import os
import runpy
import subprocess
import threading
import time
import typing
import unittest
from pathlib import Path

import numpy as np
import relatch
from relatch import results

ROOT = Path(__file__).resolve().parents[3]
SHIPPED = ROOT / "scenarios"
PUG_MILL = SHIPPED / "01-pug-mill.toml"


class Answers(unittest.TestCase):
    def test_a_prediction_is_that_of_the_program(self):
        outcome = relatch.predict(relatch.load(PUG_MILL))
        self.assertAlmostEqual(outcome.trip.time_s, 22.35, delta=0.005)
        self.assertAlmostEqual(outcome.trip_point.current_a, 12.24, delta=0.005)
        self.assertIn("Never hold the reset button in", outcome._repr_html_())
        program = os.environ.get("RELATCH_PROGRAM")
        if program:
            told = subprocess.run([program, "run", PUG_MILL, "--json"], check=True, capture_output=True, text=True)
            self.assertEqual(outcome.trip.time_s, json.loads(told.stdout)["trip"]["time_s"])

    def test_values_are_set_by_their_paths(self):
        part = relatch.load(PUG_MILL)
        harder = part.set({"load.current": "30 A"})
        self.assertIn('"30 A"', harder.text)
        self.assertLess(relatch.predict(harder).trip.time_s, relatch.predict(part).trip.time_s)

    def test_a_curve_takes_and_gives_arrays(self):
        curve = relatch.curve(relatch.load(PUG_MILL), np.array([11.0, 15.0, 20.0]))
        self.assertEqual(curve.current_a.dtype, np.float64)
        self.assertTrue(np.isinf(curve.cold_s[0]))
        self.assertAlmostEqual(curve.cold_s[2], 22.35, delta=0.02)
        self.assertTrue(np.all(curve.hot_s[1:] < curve.cold_s[1:]))

    def test_metals_are_a_second_band(self):
        data = relatch.predict(relatch.load(PUG_MILL)).metal_data
        self.assertLess(data.trip_time_s.low, 22.35)
        self.assertGreater(data.trip_time_s.high, 22.35)
        self.assertAlmostEqual(data.trip_time_s.shares.column("share").sum(), 1.0)

    def test_a_wait_is_a_range(self):
        plain = relatch.wait(10, 24)
        timed = relatch.wait(10, 24, tripped=(9, 24), reset_held_s=[40], reset_refused_s=[20])
        self.assertNotEqual(plain, timed)
        self.assertRaises(relatch.InputError, relatch.wait, float("nan"))
        self.assertRaises(relatch.InputError, relatch.wait, 10, 24, limits="none such")

    def test_a_wait_knows_the_kinds_of_parts(self):
        strip = relatch.wait(10, 24)
        for kind in [{"instantaneous": "c"}, {"poles": 3, "phases": 1}, {"resets_itself": True},
                     {"poles": 3, "phases": 2, "notices_lost_phase": True}, {"reference_air_c": 40}]:
            self.assertNotEqual(relatch.wait(10, 24, **kind), strip, kind)
        for wrong in [{"instantaneous": "K"}, {"poles": 5}, {"phases": 0}, {"reference_air_c": 400},
                      {"limits": "equipment breaker window"}]:
            self.assertRaises(relatch.InputError, relatch.wait, 25, 60, **wrong)
        program = os.environ.get("RELATCH_PROGRAM")
        if program:
            flags = ["--rating", "10 A", "--load", "24 A", "--poles", "3", "--phases", "1", "--json"]
            told = subprocess.run([program, "wait", *flags], check=True, capture_output=True, text=True)
            asked = relatch.wait(10, 24, poles=3, phases=1)
            self.assertEqual(asked, relatch.Record.of(json.loads(told.stdout), asked._repr_html_()))

    def test_a_sweep_is_a_table(self):
        part = relatch.load(SHIPPED / "08-worked-strip.toml")
        swept = relatch.sweep(part, {"load.current": (np.array([15.0, 30.0]), "A"), "strip.width": ["5 mm", "6 mm"]})
        self.assertEqual(len(swept.table["trip_point_a"]), 4)
        self.assertGreater(swept.table["trip_point_a"][1], swept.table["trip_point_a"][0])
        self.assertEqual(list(swept.table)[-1], "note")
        known = relatch.sweep(relatch.load(PUG_MILL), {"load.current": "15 A, 30 A"}, metals=True).table
        self.assertTrue(np.all(known["trip_point_low_a"] < known["trip_point_high_a"]))
        self.assertEqual(list(known)[-1], "note")

    def test_lots_fits_designs_and_diagnoses(self):
        lot = relatch.population(relatch.load(SHIPPED / "14-kiln-lot-set.toml"), 512)
        self.assertIn("Record", repr(lot))
        quick = relatch.population(relatch.load(SHIPPED / "14-kiln-lot-set.toml"), 512, surrogate=True)
        self.assertIn("surrogate", quick.accuracy)
        fitted = relatch.fit(next(SHIPPED.glob("datasheets/*.toml")))
        self.assertIsNotNone(relatch.predict(fitted.part).trip_point)
        found = relatch.design(SHIPPED / "targets" / "01-twenty-seconds.toml")
        self.assertAlmostEqual(relatch.predict(found.part).trip.time_s, 20.0, delta=0.21)
        diagnosis = relatch.diagnose(SHIPPED / "cases" / "01-pug-mill.toml")
        self.assertIn("<", diagnosis._repr_html_())


class Types(unittest.TestCase):
    def test_what_editors_are_told_is_there(self):
        part = relatch.load(PUG_MILL)
        outcome = relatch.predict(part)
        swept = relatch.sweep(relatch.load(SHIPPED / "08-worked-strip.toml"), {"load.current": "15 A, 30 A"})
        for answer, told in [(outcome, results.Outcome), (relatch.curve(part), results.Curve), (swept, results.Sweep)]:
            self.check(answer, told)

    def check(self, answer, told):
        for name, kind in typing.get_type_hints(told).items():
            self.assertIn(name, answer, told)
            if isinstance(kind, type) and issubclass(kind, relatch.Record):
                self.check(getattr(answer, name), kind)


class Wrong(unittest.TestCase):
    def test_messages_are_those_of_the_program(self):
        with self.assertRaises(relatch.InputError) as wrong:
            relatch.load(PUG_MILL).set({"strip.lenght": "38 mm"})
        self.assertIn("strip.length", str(wrong.exception))
        with self.assertRaises(relatch.InputError) as wrong:
            relatch.parse('title = "a part without a strip"')
        self.assertIn("strip", str(wrong.exception))
        with self.assertRaises(ValueError):
            relatch.load(SHIPPED / "none.toml")
        with self.assertRaises(relatch.ComputeError):
            relatch.predict(relatch.load(PUG_MILL).set({"before.hot": "200 %"}))

    def test_a_wrong_name_has_a_hint(self):
        outcome = relatch.predict(relatch.load(PUG_MILL))
        with self.assertRaisesRegex(AttributeError, "trip_point"):
            outcome.trip_pont
        with self.assertRaises(AttributeError):
            outcome.trip = None


class Threads(unittest.TestCase):
    def test_others_run_while_the_engine_computes(self):
        part = relatch.load(SHIPPED / "14-kiln-lot-set.toml")
        ticks, done = [], threading.Event()

        def tick():
            while not done.is_set():
                ticks.append(time.monotonic())
                time.sleep(0.005)

        clock = threading.Thread(target=tick)
        clock.start()
        started = time.monotonic()
        relatch.population(part, 2048)
        ended = time.monotonic()
        done.set()
        clock.join()
        inside = [t for t in ticks if started < t < ended]
        self.assertGreater(len(inside), 3 if ended - started > 0.05 else 0)


class Notebooks(unittest.TestCase):
    def test_every_notebook_runs(self):
        scripts = sorted((Path(__file__).parents[1] / "notebooks").glob("*.py"))
        self.assertEqual(len(scripts), 2)
        for script in scripts:
            with self.subTest(script.name):
                runpy.run_path(str(script))


if __name__ == "__main__":
    unittest.main()
