//! What the strip releases: a file a mechanism with its numbers and keys; here what is asked of any
//! of them.
//!
//! What a mechanism does on a grid stands in `device::release`, what it is called in
//! `present::words`, and how it is drawn in `present::plot::release`: one file each.

mod bar;
pub(super) mod disc;
mod latch;
mod snap_blade;

pub use bar::Bar;
pub use disc::Disc;
pub use latch::Latch;
pub use snap_blade::{FrameExpansion, SnapBlade, SnapModel};

use super::Scenario;
use super::rows::{Fields, Table, table};
use crate::diagnostic::Problem;
use crate::document::TableReader;
use serde::{Deserialize, Serialize};

/// The mechanism that the strip releases.
#[derive(Debug, Clone, Copy)]
#[non_exhaustive]
pub enum Mechanism {
    /// A spring-loaded latch pushed by the strip.
    Latch(Latch),
    /// A bowed blade that snaps.
    SnapBlade(SnapBlade),
    /// A latch on a trip bar, pushed by the strips of several poles.
    Bar(Bar),
    /// A domed disc that snaps.
    Disc(Disc),
}

/// The kind of mechanism that the strip releases.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum MechanismKind {
    /// A spring-loaded latch.
    Latch,
    /// A blade that snaps over.
    SnapBlade,
    /// A trip bar pushed by several strips.
    Bar,
    /// A disc that snaps over.
    Disc,
}

/// Their tables: a scenario has one of them.
pub(super) const TABLES: [Table; 3] = [latch::TABLE, snap_blade::TABLE, disc::TABLE];

/// Paths of the preload as new in them.
pub(crate) const PRELOADS: [&str; 3] = [
    "latch.preload",
    "snap_blade.preload_thrust",
    "disc.contact_force",
];

/// Before any is read.
pub(super) const UNREAD: Mechanism = Mechanism::Latch(Latch::UNREAD);

impl Mechanism {
    /// Its kind.
    pub fn kind(&self) -> MechanismKind {
        match self {
            Mechanism::Latch(_) => MechanismKind::Latch,
            Mechanism::SnapBlade(_) => MechanismKind::SnapBlade,
            Mechanism::Bar(_) => MechanismKind::Bar,
            Mechanism::Disc(_) => MechanismKind::Disc,
        }
    }

    /// Path of its table in a scenario.
    #[cfg(feature = "figures")]
    pub(crate) fn table(&self) -> &'static str {
        match self {
            Mechanism::Latch(_) | Mechanism::Bar(_) => latch::TABLE.path,
            Mechanism::SnapBlade(_) => snap_blade::TABLE.path,
            Mechanism::Disc(_) => disc::TABLE.path,
        }
    }

    /// Of the table at a path, with nothing read yet.
    fn unread(path: &str, t: &TableReader<'_>) -> Mechanism {
        if path == snap_blade::TABLE.path {
            Mechanism::SnapBlade(SnapBlade::unread(t.has("frame_expansion")))
        } else if path == disc::TABLE.path {
            Mechanism::Disc(Disc::UNREAD)
        } else {
            UNREAD
        }
    }

    /// Its latch, where it is one.
    pub fn latch(&self) -> Option<&Latch> {
        match self {
            Mechanism::Latch(latch) => Some(latch),
            Mechanism::Bar(bar) => Some(&bar.latch),
            Mechanism::SnapBlade(_) | Mechanism::Disc(_) => None,
        }
    }

    /// Its latch, where it is one.
    pub fn latch_mut(&mut self) -> Option<&mut Latch> {
        match self {
            Mechanism::Latch(latch) => Some(latch),
            Mechanism::Bar(bar) => Some(&mut bar.latch),
            Mechanism::SnapBlade(_) | Mechanism::Disc(_) => None,
        }
    }

    /// The disc, where it is one.
    pub fn disc(&self) -> Option<&Disc> {
        match self {
            Mechanism::Disc(disc) => Some(disc),
            _ => None,
        }
    }

    /// Distance that a cold part keeps from its release, m: the clearance of a latch, the rise of a
    /// blade.
    pub fn travel_m(&mut self) -> &mut f64 {
        match self {
            Mechanism::Latch(latch) => &mut latch.release_travel_m,
            Mechanism::Bar(bar) => &mut bar.latch.release_travel_m,
            Mechanism::SnapBlade(blade) => &mut blade.rise_m,
            Mechanism::Disc(disc) => &mut disc.rise_m,
        }
    }

    /// How a strip whose layers are listed the wrong way round bends when it is heated.
    pub(super) fn bends_away(&self) -> &'static str {
        match self {
            Mechanism::Latch(_) | Mechanism::Bar(_) => "away from the latch",
            Mechanism::SnapBlade(_) => "with the rise instead of against it",
            Mechanism::Disc(_) => "with the dome instead of against it",
        }
    }

    /// Force of its spring as new, N; 0: it has none.
    pub fn preload_n(&self) -> f64 {
        match self {
            Mechanism::Latch(latch) => latch.preload_n,
            Mechanism::Bar(bar) => bar.latch.preload_n,
            Mechanism::SnapBlade(blade) => blade.preload_thrust_n,
            Mechanism::Disc(disc) => disc.contact_force_n,
        }
    }

    /// Force with which the strip must push to release it, N, when a part of the preload is lost; 0
    /// where nothing is pushed.
    pub fn force_n(&self, loss: f64) -> f64 {
        self.latch().map_or(0.0, |latch| latch.force_n(loss))
    }
}

/// Read whichever mechanism the file has.
pub(super) fn release(root: &TableReader<'_>, s: &mut Scenario) -> bool {
    let there = TABLES
        .iter()
        .filter_map(|t| Some((t.path, root.table(t.path)?)));
    let there: Vec<(&str, TableReader<'_>)> = there.collect();
    match &there[..] {
        [(path, t)] => {
            s.release.mechanism = Mechanism::unread(path, t);
            let mut well = Fields::new(t, table(path)).read(s);
            if let Mechanism::Disc(read) = s.release.mechanism {
                read.lay_out(&mut s.strip);
                well = well && disc::is_possible(t, s);
            }
            t.finish();
            well
        }
        [_, (_, t), ..] => {
            root.report(
                Problem::new(
                    t.span(),
                    "a protector has one of [latch], [snap_blade] and [disc]",
                )
                .label("remove the others"),
            );
            false
        }
        [] => {
            let paths = TABLES.map(|t| t.path);
            if !paths.iter().any(|path| root.has(path)) {
                root.lacks(
                    &paths,
                    Problem::new(
                        root.span(),
                        "the file lacks its release: [latch], [snap_blade] or [disc]",
                    )
                    .label("needed")
                    .help("`relatch new latch`, `relatch new snap-blade` and `relatch new disc` print starter files"),
                );
            }
            false
        }
    }
}
