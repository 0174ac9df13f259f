//! `calc NAME --table FILE.csv`: the same header and rows, with every result column computed anew.

use std::fmt::Write as _;
use std::fs;
use std::path::Path;

use csv::{ReaderBuilder, StringRecord, WriterBuilder};

use super::bench::Bench;
use super::column::{Column, Role};
use super::row::{Answers, Row};
use super::run::CalcOutcome;

/// Larger files are refused before they are read, bytes.
const LARGEST: u64 = 64 * 1024 * 1024;

/// Where records stand in a file, counted on from the last one: comments and blank lines are skipped.
struct Lines<'a> {
    text: &'a str,
    byte: usize,
    line: u64,
}

impl Lines<'_> {
    /// The line on which the record starts that the reader met at or after `byte`.
    fn of(&mut self, byte: u64) -> u64 {
        let byte = usize::try_from(byte).unwrap_or(usize::MAX);
        let passed = self.text.as_bytes().get(self.byte..byte).unwrap_or(&[]);
        self.line += passed.iter().map(|b| u64::from(*b == b'\n')).sum::<u64>();
        self.byte = byte.max(self.byte);
        let mut line = self.line;
        for rest in self.text.get(self.byte..).unwrap_or("").split('\n') {
            if !rest.starts_with('#') && !rest.trim_end_matches('\r').is_empty() {
                break;
            }
            line += 1;
        }
        line
    }
}

/// The text of a file, without a byte-order mark.
pub(super) fn read(path: &Path) -> Result<String, String> {
    let size = fs::metadata(path).map_err(|error| error.to_string())?.len();
    if size > LARGEST {
        return Err("the file is larger than 64 MB".to_owned());
    }
    let bytes = fs::read(path).map_err(|error| error.to_string())?;
    let text = String::from_utf8(bytes).map_err(|_| "the file is not UTF-8 text".to_owned())?;
    Ok(match text.strip_prefix('\u{feff}') {
        Some(rest) => rest.to_owned(),
        None => text,
    })
}

/// Which bench column each column of the file is; none for extra ones.
fn match_columns(
    bench: &'static Bench,
    header: &StringRecord,
    place: &str,
) -> Result<Vec<Option<&'static Column>>, String> {
    let found: Vec<Option<&'static Column>> = header
        .iter()
        .map(|name| {
            bench
                .columns
                .iter()
                .find(|column| column.name == name.trim())
        })
        .collect();
    let mut wrong = String::new();
    for column in bench.columns {
        let times = found
            .iter()
            .flatten()
            .filter(|other| other.name == column.name)
            .count();
        // Words that are only copied may be left out: nothing rests on them.
        if times == 0 && column.role != Role::Text {
            let _ = writeln!(wrong, "error: {place}: column `{}` is missing", column.name);
        } else if times > 1 {
            let _ = writeln!(
                wrong,
                "error: {place}: column `{}` stands there twice",
                column.name
            );
        }
    }
    if wrong.is_empty() {
        Ok(found)
    } else {
        Err(wrong)
    }
}

/// The cells of a row as they go out.
fn filled(
    columns: &[Option<&'static Column>],
    record: &StringRecord,
    row: &Row,
    answers: &Answers,
) -> Vec<String> {
    let given = |column: &Column| column.given.is_some() && row.word(column.name).is_some();
    columns
        .iter()
        .enumerate()
        .map(|(at, column)| {
            let cell = record.get(at).unwrap_or("");
            match column {
                Some(column) if column.role == Role::Result && !given(column) => {
                    answers.get(column.name).unwrap_or("").to_owned()
                }
                // A property, or an input that follows from others in this row.
                Some(column) if column.role != Role::Text && cell.trim().is_empty() => {
                    answers.get(column.name).unwrap_or("").to_owned()
                }
                _ => cell.to_owned(),
            }
        })
        .collect()
}

/// Computes every row of a table.
pub(super) fn compute_table(bench: &'static Bench, path: &Path) -> CalcOutcome {
    let shown = path.display().to_string().replace('\\', "/");
    match read(path) {
        Ok(text) => compute_text(bench, &text, &shown),
        Err(why) => CalcOutcome::refused(format!("{shown}: {why}")),
    }
}

fn compute_text(bench: &'static Bench, text: &str, shown: &str) -> CalcOutcome {
    let mut reader = ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .comment(Some(b'#'))
        .from_reader(text.as_bytes());
    let mut lines = Lines {
        text,
        byte: 0,
        line: 1,
    };
    let mut writer = WriterBuilder::new().flexible(true).from_writer(Vec::new());
    let mut outcome = CalcOutcome::default();
    let mut columns: Option<(Vec<Option<&'static Column>>, usize)> = None;
    let mut record = StringRecord::new();
    loop {
        let line = lines.of(reader.position().byte());
        match reader.read_record(&mut record) {
            Ok(true) => {}
            Ok(false) => break,
            Err(error) => return CalcOutcome::refused(format!("{shown}:{line}: {error}")),
        }
        let Some((columns, width)) = &columns else {
            match match_columns(bench, &record, &format!("{shown}:{line}")) {
                Ok(found) => columns = Some((found, record.len())),
                Err(err) => {
                    return CalcOutcome {
                        err,
                        code: 2,
                        ..CalcOutcome::default()
                    };
                }
            }
            if writer.write_record(&record).is_err() {
                return CalcOutcome::refused(format!("{shown}: the header cannot be written"));
            }
            continue;
        };
        let row = Row::new(bench.columns, |name| {
            columns
                .iter()
                .position(|column| column.is_some_and(|column| column.name == name))
                .and_then(|at| record.get(at))
                .unwrap_or("")
                .to_owned()
        });
        let answers = if record.len() == *width {
            bench
                .answer(&row)
                .map_err(|faults| faults.iter().map(|fault| fault.text().to_owned()).collect())
        } else {
            Err(vec![format!(
                "the row has {} cells, the header {width}",
                record.len()
            )])
        };
        let answers = answers.unwrap_or_else(|faults: Vec<String>| {
            for fault in faults {
                let _ = writeln!(outcome.err, "error: {shown}:{line}: {fault}");
            }
            outcome.code = 1;
            Answers::default()
        });
        if writer
            .write_record(filled(columns, &record, &row, &answers))
            .is_err()
        {
            return CalcOutcome::refused(format!("{shown}:{line}: the row cannot be written"));
        }
    }
    if columns.is_none() {
        return CalcOutcome::refused(format!("{shown}: the file has no header line"));
    }
    match writer.into_inner().map(String::from_utf8) {
        Ok(Ok(out)) => CalcOutcome { out, ..outcome },
        _ => CalcOutcome::refused(format!("{shown}: the table cannot be written")),
    }
}
