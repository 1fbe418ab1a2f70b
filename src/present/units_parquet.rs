//! The table of units as a Parquet file (feature `parquet`), column by column from the finished
//! CSV.

use parquet::basic::{LogicalType, Repetition, Type as Physical};
use parquet::data_type::{BoolType, ByteArray, ByteArrayType, DoubleType, Int64Type};
use parquet::errors::ParquetError;
use parquet::file::properties::WriterProperties;
use parquet::file::writer::SerializedFileWriter;
use parquet::schema::types::Type;
use std::fmt;
use std::io::{Read, Write};
use std::sync::Arc;

/// Rows that are held in memory at a time.
const GROUP: usize = 65_536;

/// What a column holds.
#[derive(Clone, Copy, PartialEq)]
enum Kind {
    Number,
    Whole,
    YesOrNo,
    Text,
}

/// By the name of the column, and whether it is one of words.
fn kind(name: &str, words: &[&str]) -> Kind {
    match name {
        "unit" | "point" => Kind::Whole,
        "asked_alone" => Kind::YesOrNo,
        "note" | "answer" => Kind::Text,
        _ if words.contains(&name) => Kind::Text,
        _ => Kind::Number,
    }
}

/// The table could not be written.
#[derive(Debug)]
pub struct UnitsParquetError(String);

impl fmt::Display for UnitsParquetError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "cannot write the table of units as Parquet: {}", self.0)
    }
}

impl std::error::Error for UnitsParquetError {}

impl From<ParquetError> for UnitsParquetError {
    fn from(error: ParquetError) -> Self {
        Self(error.to_string())
    }
}

impl From<csv::Error> for UnitsParquetError {
    fn from(error: csv::Error) -> Self {
        Self(error.to_string())
    }
}

/// Write the units of a CSV table as Parquet: unit numbers as integers, every input and result as a
/// double (null where there is no number, infinite where it never happens), notes and columns of
/// `words` as text.
///
/// # Errors
/// The table is none of units, or the disk refuses.
pub fn units_parquet(
    table: impl Read,
    words: &[&str],
    out: impl Write + Send,
) -> Result<(), UnitsParquetError> {
    let mut reader = csv::Reader::from_reader(table);
    let names: Vec<String> = reader.headers()?.iter().map(str::to_owned).collect();
    let fields = names
        .iter()
        .map(|name| {
            let (physical, repetition) = match kind(name, words) {
                Kind::Whole => (Physical::INT64, Repetition::REQUIRED),
                Kind::YesOrNo => (Physical::BOOLEAN, Repetition::REQUIRED),
                Kind::Text => (Physical::BYTE_ARRAY, Repetition::OPTIONAL),
                Kind::Number => (Physical::DOUBLE, Repetition::OPTIONAL),
            };
            let text = (physical == Physical::BYTE_ARRAY).then_some(LogicalType::String);
            Type::primitive_type_builder(name, physical)
                .with_repetition(repetition)
                .with_logical_type(text)
                .build()
                .map(Arc::new)
        })
        .collect::<Result<Vec<_>, _>>()?;
    let schema = Type::group_type_builder("units")
        .with_fields(fields)
        .build()?;
    let columns: Vec<(String, Kind)> = names
        .into_iter()
        .map(|name| (name.clone(), kind(&name, words)))
        .collect();
    let properties = Arc::new(WriterProperties::builder().build());
    let mut writer = SerializedFileWriter::new(out, Arc::new(schema), properties)?;
    let mut rows = Vec::with_capacity(GROUP);
    for record in reader.into_records() {
        rows.push(record?);
        if rows.len() == GROUP {
            group(&mut writer, &columns, &rows)?;
            rows.clear();
        }
    }
    if !rows.is_empty() {
        group(&mut writer, &columns, &rows)?;
    }
    writer.close()?;
    Ok(())
}

fn group<W: Write + Send>(
    writer: &mut SerializedFileWriter<W>,
    columns: &[(String, Kind)],
    rows: &[csv::StringRecord],
) -> Result<(), UnitsParquetError> {
    let mut group = writer.next_row_group()?;
    for (k, (name, kind)) in columns.iter().enumerate() {
        let cells = || rows.iter().map(|row| row.get(k).unwrap_or_default());
        let Some(mut column) = group.next_column()? else {
            break;
        };
        match kind {
            Kind::Whole => {
                let values = cells()
                    .map(|cell| cell.parse().map_err(|_| UnitsParquetError(bad(name, cell))))
                    .collect::<Result<Vec<i64>, _>>()?;
                column
                    .typed::<Int64Type>()
                    .write_batch(&values, None, None)?;
            }
            Kind::YesOrNo => {
                let values: Vec<bool> = cells().map(|cell| cell == "yes").collect();
                column
                    .typed::<BoolType>()
                    .write_batch(&values, None, None)?;
            }
            Kind::Text => {
                let (values, levels) = there(cells(), |cell| Ok(ByteArray::from(cell)))?;
                column
                    .typed::<ByteArrayType>()
                    .write_batch(&values, Some(&levels), None)?;
            }
            Kind::Number => {
                let (values, levels) = there(cells(), |cell| match cell {
                    "never" => Ok(f64::INFINITY),
                    cell => cell.parse().map_err(|_| UnitsParquetError(bad(name, cell))),
                })?;
                column
                    .typed::<DoubleType>()
                    .write_batch(&values, Some(&levels), None)?;
            }
        }
        column.close()?;
    }
    group.close()?;
    Ok(())
}

/// What is there, and for every cell whether it is.
fn there<'c, T>(
    cells: impl Iterator<Item = &'c str>,
    read: impl Fn(&str) -> Result<T, UnitsParquetError>,
) -> Result<(Vec<T>, Vec<i16>), UnitsParquetError> {
    let (mut values, mut levels) = (Vec::new(), Vec::new());
    for cell in cells {
        levels.push(i16::from(!cell.is_empty()));
        if !cell.is_empty() {
            values.push(read(cell)?);
        }
    }
    Ok((values, levels))
}

fn bad(name: &str, cell: &str) -> String {
    format!("\"{cell}\" in column {name} is no number")
}

#[cfg(test)]
mod tests {
    use parquet::file::reader::{FileReader, SerializedFileReader};

    #[test]
    fn what_is_written_is_read_back() {
        let table = "unit,strip.length_m,trip_time_s,asked_alone,note\r\n\
                     0,0.036,12.5,no,\r\n1,0.0361,never,yes,\r\n2,0.0359,,yes,\"no, it does not\"\r\n";
        let file = tempfile::NamedTempFile::new().expect("a file");
        super::units_parquet(table.as_bytes(), &[], file.reopen().expect("the file"))
            .expect("written");
        let reader = SerializedFileReader::new(file.reopen().expect("the file")).expect("Parquet");
        let rows: Vec<String> = reader
            .get_row_iter(None)
            .expect("rows")
            .map(|row| row.expect("a row").to_string())
            .collect();
        assert_eq!(rows.len(), 3);
        assert!(
            rows[0].contains("12.5") && rows[0].contains("asked_alone: false"),
            "{rows:?}"
        );
        assert!(rows[1].contains("inf"), "{rows:?}");
        assert!(
            rows[2].contains("trip_time_s: null") && rows[2].contains("no, it does not"),
            "{rows:?}"
        );
        assert!(super::units_parquet("unit,x\r\na,1\r\n".as_bytes(), &[], Vec::new()).is_err());
    }
}
