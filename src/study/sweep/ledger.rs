//! A sweep on disk: finished chunks of points are kept, so that a run that is stopped goes on where
//! it was.

use super::{Point, Sweep, SweepOutcome};
use crate::predict::parallel;
use crate::study::population::VaryError;
use crate::study::population::ledger::{damaged, first_difference, refused, text_of, write_whole};
use serde::{Deserialize, Serialize};
use std::fs;
use std::ops::Range;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU64, Ordering};

const PLAN: &str = "sweep.json";
const SCENARIO: &str = "scenario.toml";
const PARTS: &str = "parts";
/// Written last: with it the sweep is finished, and its parts are not needed any more.
const RESULT: &str = "result.json";
/// Points that are kept together.
const CHUNK: u64 = 8;

/// The folder of a sweep.
#[derive(Debug)]
pub struct Ledger {
    folder: PathBuf,
}

/// A finished chunk, with a checksum of its points.
#[derive(Serialize, Deserialize)]
struct Piece {
    crc32: u32,
    points: Vec<Point>,
}

impl Ledger {
    /// The folder of a sweep: made anew, or continued where it holds the same.
    ///
    /// # Errors
    /// It holds something else, or the disk refuses.
    pub fn open(folder: &Path, sweep: &Sweep) -> Result<Ledger, VaryError> {
        let plan = (&sweep.axes, sweep.zipped, sweep.metals);
        let plan = serde_json::to_string(&plan).map_err(|e| damaged(&folder.join(PLAN), &e))?;
        let ledger = Ledger {
            folder: folder.to_owned(),
        };
        if folder.join(PLAN).exists() {
            let other = "name another folder, or repeat the command that began this one";
            if text_of(&folder.join(PLAN))? != plan {
                return Err(refused(
                    folder,
                    "holds a sweep over other values, or with other answers",
                    other,
                ));
            }
            let there = text_of(&folder.join(SCENARIO))?;
            if let Some(line) = first_difference(&sweep.text, &there) {
                let what = format!("holds a sweep of another scenario: line {line} differs");
                return Err(refused(folder, &what, other));
            }
            return Ok(ledger);
        }
        if folder.is_file()
            || fs::read_dir(folder).is_ok_and(|mut entries| entries.next().is_some())
        {
            let what = "holds something that is no sweep";
            return Err(refused(folder, what, "name a new or an empty folder"));
        }
        fs::create_dir_all(folder).map_err(VaryError::disk("make the folder", folder))?;
        // The plan last: a folder without one is no run yet.
        write_whole(&folder.join(SCENARIO), sweep.text.as_bytes())?;
        write_whole(&folder.join(PLAN), plan.as_bytes())?;
        Ok(ledger)
    }

    /// The folder.
    pub fn folder(&self) -> &Path {
        &self.folder
    }

    fn piece(&self, chunk: u64) -> PathBuf {
        self.folder.join(PARTS).join(format!("{chunk:06}.json"))
    }

    /// How many points are there.
    pub fn done(&self, sweep: &Sweep) -> u64 {
        if self.folder.join(RESULT).exists() {
            return sweep.count();
        }
        let kept = chunks(sweep).filter(|chunk| self.piece(*chunk).exists());
        kept.map(|chunk| size(sweep, chunk)).sum()
    }

    /// Computes what is not there yet; `progress` is told how many points are finished.
    ///
    /// # Errors
    /// The disk refuses, or a kept piece was changed since.
    pub fn run(
        &self,
        sweep: &Sweep,
        progress: &mut (dyn FnMut(u64) + Send),
    ) -> Result<SweepOutcome, VaryError> {
        let result = self.folder.join(RESULT);
        if result.exists() {
            let text = fs::read(&result).map_err(VaryError::disk("read", &result))?;
            return serde_json::from_slice(&text).map_err(|e| damaged(&result, &e));
        }
        let parts = self.folder.join(PARTS);
        fs::create_dir_all(&parts).map_err(VaryError::disk("make the folder", &parts))?;
        let done = AtomicU64::new(self.done(sweep));
        let left = chunks(sweep).filter(|chunk| !self.piece(*chunk).exists());
        let left: Vec<u64> = left.collect();
        let one = |chunk: &u64| {
            let points = range(sweep, *chunk).map(|k| sweep.point(k)).collect();
            let kept = keep(&self.piece(*chunk), points);
            done.fetch_add(size(sweep, *chunk), Ordering::Relaxed);
            kept
        };
        let told = &mut |_| progress(done.load(Ordering::Relaxed));
        let kept: Result<Vec<()>, VaryError> =
            parallel::map(&left, one, told).into_iter().collect();
        kept?;
        let mut points = Vec::with_capacity(sweep.count() as usize);
        for chunk in chunks(sweep) {
            points.extend(kept_points(&self.piece(chunk))?);
        }
        Ok(sweep.outcome(points))
    }

    /// Removes the parts of a sweep whose results are written.
    pub fn clear(&self) {
        let _ = fs::remove_dir_all(self.folder.join(PARTS));
    }
}

fn chunks(sweep: &Sweep) -> Range<u64> {
    0..sweep.count().div_ceil(CHUNK)
}

fn range(sweep: &Sweep, chunk: u64) -> Range<u64> {
    chunk * CHUNK..((chunk + 1) * CHUNK).min(sweep.count())
}

fn size(sweep: &Sweep, chunk: u64) -> u64 {
    let range = range(sweep, chunk);
    range.end - range.start
}

fn checksum(points: &[Point], path: &Path) -> Result<u32, VaryError> {
    let text = serde_json::to_vec(points).map_err(|e| damaged(path, &e))?;
    Ok(crc32fast::hash(&text))
}

fn keep(path: &Path, points: Vec<Point>) -> Result<(), VaryError> {
    let piece = Piece {
        crc32: checksum(&points, path)?,
        points,
    };
    let text = serde_json::to_vec(&piece).map_err(|e| damaged(path, &e))?;
    write_whole(path, &text)
}

fn kept_points(path: &Path) -> Result<Vec<Point>, VaryError> {
    let text = fs::read(path).map_err(VaryError::disk("read", path))?;
    let piece: Piece = serde_json::from_slice(&text).map_err(|e| damaged(path, &e))?;
    match checksum(&piece.points, path)? == piece.crc32 {
        true => Ok(piece.points),
        false => Err(damaged(path, &"it was changed since it was written")),
    }
}
