//! Chunks and shards share out every unit and every row once.

use relatch::internals::study::population::{Design, Settings, Shard};

fn of(units: u64, shard: Option<Shard>) -> Settings {
    Settings::new(units, 1, Design::Sobol, 100, true, shard).unwrap()
}

#[test]
fn shards_share_out_every_chunk_once() {
    for units in [2, 255, 256, 257, 10_000, 1_000_000] {
        let whole = of(units, None);
        let mut all = Vec::new();
        for part in 1..=16 {
            all.extend(of(units, Some(Shard { part, of: 16 })).own_chunks());
        }
        all.sort_unstable();
        assert_eq!(all, whole.own_chunks());
        let units_of: u64 = all
            .iter()
            .map(|c| whole.units_of(*c).end - whole.units_of(*c).start)
            .sum();
        assert_eq!(units_of, units);
        let rows: u64 = all
            .iter()
            .map(|c| whole.rows_of(*c).end - whole.rows_of(*c).start)
            .sum();
        assert_eq!(rows, 100);
    }
}

#[test]
fn nonsense_is_refused() {
    let shard = |part, of| Some(Shard { part, of });
    let new = |units, rows, shard| Settings::new(units, 1, Design::Latin, rows, true, shard);
    assert!(new(0, 0, None).is_err() && new(1, 0, None).is_err());
    assert!(new(1_000_000_001, 0, None).is_err());
    assert!(new(10, 1, None).is_err());
    assert!(new(10, 0, shard(0, 4)).is_err() && new(10, 0, shard(5, 4)).is_err());
    assert!(new(10, 0, shard(1, 0)).is_err());
}
