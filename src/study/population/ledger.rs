//! A run on disk: every finished chunk is kept, so that a run that is stopped at any moment goes on
//! where it was.
//!
//! A folder holds `scenario.toml` and `plan.json` (what was asked for) and, while the run is under
//! way, the pieces of `parts`: a file or two a chunk.

use super::chunk::compute;
use super::settings::{Settings, Shard};
use super::tally::Tally;
use super::{Plan, VaryError, piece, table};
use crate::document::{TEMPORARY, temporary};
use crate::predict::parallel;
use std::fs;
use std::io::{BufWriter, Read, Write};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};

const PLAN: &str = "plan.json";
const SCENARIO: &str = "scenario.toml";
const PARTS: &str = "parts";
const RESULT: &str = "result.json";
const TABLE: &str = "units.csv";
/// The tally of a whole run, kept beside its results.
pub const TALLY: &str = "tally.json";
/// A plan or a scenario is no larger than this, bytes.
const LARGEST: u64 = 8 * 1024 * 1024;

/// What a folder held when it was opened.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Found {
    /// Nothing: the run is new.
    New,
    /// So many finished chunks of this run.
    Started(usize),
    /// The whole run, with its results.
    Finished,
}

/// The folder of a run.
#[derive(Debug)]
pub struct Ledger {
    folder: PathBuf,
    settings: Settings,
}

/// A chunk and the folder that holds it.
type Held = (u64, PathBuf);

impl Ledger {
    /// The folder of a run: made anew, or continued where it holds the same run.
    ///
    /// # Errors
    /// It holds something else, which is named; or the disk refuses.
    pub fn open(
        folder: &Path,
        settings: &Settings,
        scenario: &str,
    ) -> Result<(Ledger, Found), VaryError> {
        let ledger = Ledger {
            folder: folder.to_owned(),
            settings: settings.clone(),
        };
        if folder.exists() && !folder.is_dir() {
            return Err(refused(folder, "is a file", "name another folder"));
        }
        if folder.join(PLAN).exists() {
            let (there, text) = read_plan(folder)?;
            let other = "name another folder, or repeat the command that began this one";
            if let Some(difference) = settings.difference(&there) {
                return Err(refused(
                    folder,
                    &format!("holds another run: {difference}"),
                    other,
                ));
            }
            if settings.shard != there.shard {
                let name = |s: Option<Shard>| {
                    s.map_or("the whole run".to_owned(), |s| {
                        format!("shard {}/{}", s.part, s.of)
                    })
                };
                return Err(refused(
                    folder,
                    &format!("holds {}, not {}", name(there.shard), name(settings.shard)),
                    "give every shard a folder of its own",
                ));
            }
            if let Some(line) = first_difference(scenario, &text) {
                return Err(refused(
                    folder,
                    &format!("holds a run of another scenario: line {line} differs"),
                    other,
                ));
            }
            if folder.join(RESULT).exists() {
                return Ok((ledger, Found::Finished));
            }
            ledger.sweep();
            let done = ledger.done().len();
            return Ok((ledger, Found::Started(done)));
        }
        if folder.exists() {
            let entries = fs::read_dir(folder).map_err(VaryError::disk("read", folder))?;
            let foreign = entries
                .filter_map(Result::ok)
                .map(|e| e.file_name().to_string_lossy().into_owned())
                .any(|n| !n.starts_with(TEMPORARY) && n != SCENARIO);
            if foreign {
                return Err(refused(
                    folder,
                    "holds files that are no run of this command",
                    "name a new or an empty folder",
                ));
            }
        }
        fs::create_dir_all(folder).map_err(VaryError::disk("make the folder", folder))?;
        // The plan last: a folder without one is no run yet.
        write_whole(&folder.join(SCENARIO), scenario.as_bytes())?;
        let plan =
            serde_json::to_string_pretty(settings).map_err(|e| damaged(&folder.join(PLAN), &e))?;
        write_whole(&folder.join(PLAN), format!("{plan}\n").as_bytes())?;
        Ok((ledger, Found::New))
    }

    /// The folder.
    pub fn folder(&self) -> &Path {
        &self.folder
    }

    /// Finished chunks of this shard, in order.
    pub fn done(&self) -> Vec<u64> {
        let own = self.settings.own_chunks();
        own.into_iter()
            .filter(|c| piece::is_there(&self.folder.join(PARTS), *c))
            .collect()
    }

    /// Remove what an interrupted run left half written.
    fn sweep(&self) {
        for folder in [self.folder.clone(), self.folder.join(PARTS)] {
            let Ok(entries) = fs::read_dir(folder) else {
                continue;
            };
            for entry in entries.filter_map(Result::ok) {
                if entry.file_name().to_string_lossy().starts_with(TEMPORARY) {
                    let _ = fs::remove_file(entry.path());
                }
            }
        }
    }

    /// Compute every chunk that is not finished, on all threads; `progress` is told how many units
    /// of how many are.
    ///
    /// # Errors
    /// A chunk cannot be computed or written; those finished before stay.
    pub fn run(
        &self,
        plan: &Plan,
        progress: &mut (dyn FnMut(u64, u64) + Send),
    ) -> Result<(), VaryError> {
        let parts = self.folder.join(PARTS);
        fs::create_dir_all(&parts).map_err(VaryError::disk("make the folder", &parts))?;
        let own = self.settings.own_chunks();
        let done = self.done();
        let size = |chunk: &u64| {
            let units = self.settings.units_of(*chunk);
            units.end - units.start
        };
        let total: u64 = own.iter().map(size).sum();
        let already: u64 = done.iter().map(size).sum();
        let left: Vec<u64> = own.into_iter().filter(|c| !done.contains(c)).collect();
        progress(already, total);
        let (units, stop) = (AtomicU64::new(already), AtomicBool::new(false));
        let finished = parallel::map(
            &left,
            |chunk| {
                if stop.load(Ordering::Relaxed) {
                    return Ok(());
                }
                let kept = self.chunk(plan, *chunk);
                match kept {
                    Ok(()) => units.fetch_add(size(chunk), Ordering::Relaxed),
                    Err(_) => u64::from(stop.swap(true, Ordering::Relaxed)),
                };
                kept
            },
            &mut |_| progress(units.load(Ordering::Relaxed), total),
        );
        finished.into_iter().collect()
    }

    fn chunk(&self, plan: &Plan, chunk: u64) -> Result<(), VaryError> {
        let (tally, lines) = compute(plan, chunk)?;
        let table = self.settings.table.then_some(lines);
        piece::keep(&self.folder.join(PARTS), chunk, tally, table.as_deref())
    }

    fn held(&self) -> Vec<Held> {
        let own = self.settings.own_chunks();
        own.into_iter().map(|c| (c, self.folder.clone())).collect()
    }

    /// The tally of this run.
    ///
    /// # Errors
    /// A part that cannot be read.
    pub fn tally(&self, plan: &Plan) -> Result<Tally, VaryError> {
        tally_of(plan, &self.held())
    }

    /// Write the table of units, where there is one.
    ///
    /// # Errors
    /// A part that cannot be read, or the disk refuses.
    pub fn write_table(&self, plan: &Plan) -> Result<(), VaryError> {
        write_table(plan, &self.folder, &self.held())
    }

    /// The tally kept with the results of a finished run.
    ///
    /// # Errors
    /// It cannot be read.
    pub fn kept_tally(&self) -> Result<Tally, VaryError> {
        let path = self.folder.join(TALLY);
        let bytes = fs::read(&path).map_err(VaryError::disk("read", &path))?;
        serde_json::from_slice(&bytes).map_err(|e| damaged(&path, &e))
    }

    /// Remove the parts of a run whose results are written.
    pub fn clear(&self) {
        let _ = fs::remove_dir_all(self.folder.join(PARTS));
    }
}

/// Shards that belong together, ready to be merged.
#[derive(Debug)]
pub struct Shards {
    /// Settings of the whole run.
    pub settings: Settings,
    /// Text of the scenario.
    pub scenario: String,
    held: Vec<Held>,
}

/// Look at the folders of shards.
///
/// # Errors
/// Folders of different runs, with what differs; shards given twice or missing.
pub fn merge(folders: &[PathBuf]) -> Result<Shards, VaryError> {
    let Some(first) = folders.first() else {
        return Err(VaryError::Missing("no folder is named".to_owned()));
    };
    let (settings, scenario) = read_plan(first)?;
    let mut shards: Vec<(Shard, &PathBuf)> = Vec::new();
    for folder in folders {
        let (there, text) = read_plan(folder)?;
        let unlike = |what: String| VaryError::Unlike {
            first: first.clone(),
            second: folder.clone(),
            what,
        };
        if let Some(difference) = settings.difference(&there) {
            return Err(unlike(difference));
        }
        if let Some(line) = first_difference(&scenario, &text) {
            return Err(unlike(format!(
                "their scenarios differ, first in line {line}"
            )));
        }
        let Some(shard) = there.shard else {
            return Err(refused(
                folder,
                "holds a whole run, not a shard",
                "there is nothing to merge it with",
            ));
        };
        if let Some((known, _)) = shards.first()
            && known.of != shard.of
        {
            return Err(unlike(format!(
                "one is of {} shards, the other of {}",
                known.of, shard.of
            )));
        }
        if let Some((_, twice)) = shards.iter().find(|(s, _)| *s == shard) {
            return Err(VaryError::Unlike {
                first: (*twice).clone(),
                second: folder.clone(),
                what: format!("both are shard {}/{}", shard.part, shard.of),
            });
        }
        shards.push((shard, folder));
    }
    let of = shards.first().map_or(1, |(s, _)| s.of);
    let missing: Vec<String> = (1..=of)
        .filter(|part| !shards.iter().any(|(s, _)| s.part == *part))
        .map(|part| format!("{part}/{of}"))
        .collect();
    if !missing.is_empty() {
        return Err(VaryError::Missing(format!(
            "{} missing: shard {}\n  = help: name the folders of all {of} shards",
            if missing.len() == 1 {
                "one shard is"
            } else {
                "shards are"
            },
            listed(&missing)
        )));
    }
    let mut held = Vec::new();
    for (shard, folder) in &shards {
        let own = Settings {
            shard: Some(*shard),
            ..settings.clone()
        };
        for chunk in own.own_chunks() {
            if !piece::is_there(&folder.join(PARTS), chunk) {
                return Err(VaryError::Missing(format!(
                    "shard {}/{} in {} is not finished\n  = help: repeat its command; it goes on where it stopped",
                    shard.part,
                    shard.of,
                    folder.display()
                )));
            }
            held.push((chunk, (*folder).clone()));
        }
    }
    held.sort();
    Ok(Shards {
        settings: Settings {
            shard: None,
            ..settings
        },
        scenario,
        held,
    })
}

impl Shards {
    /// The tally of the whole run.
    ///
    /// # Errors
    /// A part that cannot be read.
    pub fn tally(&self, plan: &Plan) -> Result<Tally, VaryError> {
        tally_of(plan, &self.held)
    }

    /// Write the table of units into a folder, where there is one.
    ///
    /// # Errors
    /// A part that cannot be read, or the disk refuses.
    pub fn write_table(&self, plan: &Plan, folder: &Path) -> Result<(), VaryError> {
        write_table(plan, folder, &self.held)
    }
}

fn tally_of(plan: &Plan, held: &[Held]) -> Result<Tally, VaryError> {
    let mut whole = Tally::new(plan)?;
    for (chunk, folder) in held {
        let parts = folder.join(PARTS);
        let (path, kept) = piece::read(&parts, *chunk)?;
        if plan.settings.table {
            // Before anything is written.
            kept.lines(&parts, *chunk)?;
        }
        let units = plan.settings.units_of(*chunk);
        if kept.tally.units != units.end - units.start {
            let why = format!("it holds {} units of another chunk", kept.tally.units);
            return Err(VaryError::Damaged { path, why });
        }
        whole.merge(&kept.tally).map_err(|e| damaged(&path, &e))?;
    }
    Ok(whole)
}

fn write_table(plan: &Plan, folder: &Path, held: &[Held]) -> Result<(), VaryError> {
    if !plan.settings.table {
        return Ok(());
    }
    let target = folder.join(TABLE);
    let failed = || VaryError::disk("write", folder.join(TABLE));
    let file = temporary(folder).map_err(failed())?;
    let mut out = BufWriter::new(file);
    out.write_all(table::header(plan).as_bytes())
        .map_err(failed())?;
    for (chunk, from) in held {
        let parts = from.join(PARTS);
        let (_, kept) = piece::read(&parts, *chunk)?;
        out.write_all(&kept.lines(&parts, *chunk)?)
            .map_err(failed())?;
    }
    let file = out.into_inner().map_err(|e| failed()(e.into_error()))?;
    file.persist(&target).map_err(|e| failed()(e.error))?;
    Ok(())
}

fn listed(all: &[String]) -> String {
    const MOST: usize = 8;
    if all.len() <= MOST {
        all.join(", ")
    } else {
        format!("{} and {} more", all[..MOST].join(", "), all.len() - MOST)
    }
}

pub(in crate::study) fn refused(folder: &Path, problem: &str, help: &str) -> VaryError {
    VaryError::Folder {
        path: folder.to_owned(),
        problem: problem.to_owned(),
        help: help.to_owned(),
    }
}

pub(in crate::study) fn damaged(path: &Path, why: &dyn std::fmt::Display) -> VaryError {
    VaryError::Damaged {
        path: path.to_owned(),
        why: why.to_string(),
    }
}

fn read_plan(folder: &Path) -> Result<(Settings, String), VaryError> {
    let path = folder.join(PLAN);
    if !path.exists() {
        return Err(refused(
            folder,
            "holds no run of a population",
            "name a folder that `relatch vary --out` has made",
        ));
    }
    let settings = serde_json::from_str(&text_of(&path)?).map_err(|e| damaged(&path, &e))?;
    Ok((settings, text_of(&folder.join(SCENARIO))?))
}

pub(in crate::study) fn text_of(path: &Path) -> Result<String, VaryError> {
    let mut text = String::new();
    fs::File::open(path)
        .and_then(|f| f.take(LARGEST).read_to_string(&mut text))
        .map_err(VaryError::disk("read", path))?;
    Ok(text)
}

/// Number of the first line in which two texts differ.
pub(in crate::study) fn first_difference(a: &str, b: &str) -> Option<usize> {
    if a == b {
        return None;
    }
    let same = a.lines().zip(b.lines()).take_while(|(a, b)| a == b).count();
    Some(same + 1)
}

/// A file as a whole or not at all.
pub(in crate::study) fn write_whole(path: &Path, bytes: &[u8]) -> Result<(), VaryError> {
    let folder = path.parent().unwrap_or(Path::new("."));
    let mut file = temporary(folder).map_err(VaryError::disk("write", path))?;
    file.write_all(bytes)
        .map_err(VaryError::disk("write", path))?;
    file.persist(path)
        .map_err(|e| VaryError::disk("write", path)(e.error))?;
    Ok(())
}
