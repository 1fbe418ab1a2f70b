use super::fabricated;
use relatch::internals::answer::{Failed, PropertyName, TripTime};
use relatch::internals::present::{characteristic_csv, preload_shift_csv, series_csv};

#[test]
fn series_has_a_unit_in_every_number_column_and_every_row() {
    let outcome = fabricated::winding();
    let text = series_csv(&outcome).unwrap();
    assert!(text.ends_with("\r\n"));
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let headers = reader.headers().unwrap().clone();
    for header in headers.iter().filter(|h| *h != "contacts") {
        let unit = header.rsplit('_').next().unwrap();
        assert!(["s", "a", "c", "mm", "w"].contains(&unit), "{header}");
    }
    let rows: Vec<_> = reader.records().map(Result::unwrap).collect();
    assert_eq!(rows.len(), outcome.series.len());
    let winding: f64 = rows[7].get(7).unwrap().parse().unwrap();
    assert_eq!(Some(winding), outcome.series[7].winding_c);
}

#[test]
fn characteristic_leaves_the_time_empty_where_it_never_trips() {
    let text = characteristic_csv(&fabricated::latch()).unwrap().unwrap();
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let first = reader.records().next().unwrap().unwrap();
    assert_eq!(
        (&first[0], &first[4], &first[6], &first[7]),
        ("cold", "", "holds_for_ever", "holds for ever")
    );
    assert!(characteristic_csv(&fabricated::holds()).unwrap().is_none());
}

#[test]
fn reasons_with_commas_and_quotes_stay_one_cell() {
    let mut outcome = fabricated::latch();
    let material = "a, \"b\"\nc".to_owned();
    outcome.preload_shift[1].trip_time = TripTime::Failed {
        why: Failed::OutOfRange {
            material: material.clone(),
            property: PropertyName::Density,
            needed_c: 400.0,
            range_c: [0.0, 300.0],
        },
    };
    let text = preload_shift_csv(&outcome).unwrap();
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let row = reader.records().nth(1).unwrap().unwrap();
    assert!(row[7].contains(&material), "{}", &row[7]);
    assert_eq!(&row[5], "failed");
    assert_eq!(&row[2], "");
}
