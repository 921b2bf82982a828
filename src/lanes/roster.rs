//! Reads a roster: a CSV file with a swimmer on each line.

use thiserror::Error;

use super::Swimmer;
use crate::measure::LIMITS;
use crate::plan::critical::{CriticalError, TimedSwim, TimedSwimError, critical_pace};

/// A fault of a roster with its line, from 1.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error("line {line}: {fault}")]
pub struct RosterError {
    /// The line of the file.
    pub line: u64,
    /// What is wrong there.
    pub fault: RosterFault,
}

/// What can be wrong with a line of a roster.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum RosterFault {
    /// No columns that could be a roster's.
    #[error("the first line names the columns: name, and pace or tests or both")]
    NoHeader,
    /// A column with another name.
    #[error("no column is called \"{0}\"; they are name, pace and tests")]
    UnknownColumn(String),
    /// A quote that is not closed, or more fields than columns.
    #[error("the line has not one value for each column")]
    Torn,
    /// No name.
    #[error("a swimmer needs a name or initials")]
    NoName,
    /// Neither a pace nor tests.
    #[error("{0} needs a pace (2:05) or test swims (200=2:50 400=6:00)")]
    NoPace(String),
    /// A pace that is no time, or out of all bounds.
    #[error("\"{0}\" is no pace per 100; write minutes and seconds, such as 2:05")]
    Pace(String),
    /// A test swim that cannot be read.
    #[error("{0}")]
    Test(TimedSwimError),
    /// Test swims that give no pace.
    #[error("{0}")]
    Tests(CriticalError),
    /// Nobody.
    #[error("the roster holds no swimmers")]
    Empty,
}

/// Which field holds what.
struct Columns {
    name: usize,
    pace: Option<usize>,
    tests: Option<usize>,
}

/// Reads a roster: comma- or semicolon-separated text with a line of column names, and a swimmer on
/// each other line.
///
/// # Errors
///
/// Everything wrong with it, each with its line.
pub fn read_roster(text: &str) -> Result<Vec<Swimmer>, Vec<RosterError>> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let first = text.lines().next().unwrap_or_default();
    // Where the comma is the decimal sign, spreadsheets part columns by semicolons.
    let delimiter = if first.contains(';') && !first.contains(',') { b';' } else { b',' };
    let mut reader = csv::ReaderBuilder::new()
        .delimiter(delimiter)
        .trim(csv::Trim::All)
        .comment(Some(b'#'))
        .from_reader(text.as_bytes());
    let columns = reader.headers().map_err(|_| no_header()).and_then(columns);
    let columns = columns.map_err(|error| vec![error])?;
    let (mut swimmers, mut errors) = (Vec::new(), Vec::new());
    for record in reader.records() {
        let (line, swimmer) = match &record {
            Ok(record) => {
                (record.position().map_or(0, csv::Position::line), swimmer(record, &columns))
            }
            Err(error) => (error.position().map_or(0, csv::Position::line), Err(RosterFault::Torn)),
        };
        match swimmer {
            Ok(swimmer) => swimmers.push(swimmer),
            Err(fault) => errors.push(RosterError { line, fault }),
        }
    }
    if swimmers.is_empty() && errors.is_empty() {
        errors.push(RosterError { line: 1, fault: RosterFault::Empty });
    }
    if errors.is_empty() { Ok(swimmers) } else { Err(errors) }
}

fn no_header() -> RosterError {
    RosterError { line: 1, fault: RosterFault::NoHeader }
}

fn columns(header: &csv::StringRecord) -> Result<Columns, RosterError> {
    let (mut name, mut pace, mut tests) = (None, None, None);
    for (index, column) in header.iter().enumerate() {
        let slot = match column.to_lowercase().as_str() {
            "name" | "initials" | "swimmer" => &mut name,
            "pace" | "pace per 100" => &mut pace,
            "tests" | "test" => &mut tests,
            _ => {
                let fault = RosterFault::UnknownColumn(column.to_owned());
                return Err(RosterError { line: 1, fault });
            }
        };
        *slot = Some(index);
    }
    match name {
        Some(name) if pace.is_some() || tests.is_some() => Ok(Columns { name, pace, tests }),
        _ => Err(no_header()),
    }
}

fn swimmer(record: &csv::StringRecord, columns: &Columns) -> Result<Swimmer, RosterFault> {
    let field = |column: Option<usize>| column.and_then(|column| record.get(column)).unwrap_or("");
    let name = field(Some(columns.name)).to_owned();
    if name.is_empty() {
        return Err(RosterFault::NoName);
    }
    let (written, tests) = (field(columns.pace), field(columns.tests));
    let pace = if !written.is_empty() {
        written.parse().map_err(|_| RosterFault::Pace(written.to_owned()))?
    } else if !tests.is_empty() {
        let swims: Result<Vec<TimedSwim>, _> = tests.split_whitespace().map(str::parse).collect();
        critical_pace(&swims.map_err(RosterFault::Test)?).map_err(RosterFault::Tests)?.per_100
    } else {
        return Err(RosterFault::NoPace(name));
    };
    if !LIMITS.pace_s.holds(u64::from(pace.get())) {
        return Err(RosterFault::Pace(pace.to_string()));
    }
    Ok(Swimmer { name, pace })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::Seconds;

    fn swimmer(name: &str, pace: u32) -> Swimmer {
        Swimmer { name: name.to_owned(), pace: Seconds::new(pace) }
    }

    #[test]
    fn paces_are_written_or_come_of_tests() {
        let text = "Name,Pace,Tests\n# the early lane\nA. B.,2:05,\n\"C, D\",,200=2:50 400=6:00\n";
        assert_eq!(read_roster(text), Ok(vec![swimmer("A. B.", 125), swimmer("C, D", 95)]));
        assert_eq!(read_roster("\u{feff}name;pace\nÅse;1:50\n"), Ok(vec![swimmer("Åse", 110)]));
    }

    #[test]
    fn every_fault_is_told_with_its_line() {
        let text =
            "name,pace,tests\nA,2:05,\n,2:00,\nB,soon,\nC,,\nD,,200=2:50\nE,,200:2:50\nF,1\n";
        let errors = read_roster(text).expect_err("a bad roster");
        let lines: Vec<u64> = errors.iter().map(|error| error.line).collect();
        assert_eq!(lines, [3, 4, 5, 6, 7, 8]);
        assert_eq!(
            errors[2].to_string(),
            "line 5: C needs a pace (2:05) or test swims (200=2:50 400=6:00)"
        );
        for (text, fault) in [
            ("", RosterFault::NoHeader),
            ("name\nA\n", RosterFault::NoHeader),
            ("name,pace\n", RosterFault::Empty),
            ("name,speed\nA,1\n", RosterFault::UnknownColumn("speed".to_owned())),
        ] {
            assert_eq!(read_roster(text), Err(vec![RosterError { line: 1, fault }]), "{text}");
        }
    }
}
