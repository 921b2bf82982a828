//! Reads a roster: a file of comma-separated values with a swimmer on each line.

mod coding;
mod rows;

use std::fmt;

use thiserror::Error;

use super::Swimmer;
use crate::finding::visible;
use crate::measure::{LIMITS, Seconds, Unit};
use crate::plan::critical::{CriticalError, TimedSwim, TimedSwimError, critical_pace};
use crate::reader::nearest;
use rows::{Row, Unclosed};

/// A roster as it was read.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Roster {
    /// Its swimmers, in their order.
    pub swimmers: Vec<Swimmer>,
    /// The unit that its paces are per 100 of, where it says so.
    pub unit: Option<Unit>,
    /// What its reader should know.
    pub remarks: Vec<Remark>,
}

/// What was read otherwise than it is written, or not at all.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Remark {
    /// The file is neither UTF-8 nor UTF-16; a name with a letter beyond ASCII.
    Guessed(String),
    /// A comment, with its line.
    LeftOut(u64, String),
    /// Columns that are not asked for, with the line of their names.
    Columns(u64, Vec<String>),
    /// A pace in a spreadsheet's writing, with its line, and what it was read as; the first of all.
    Pace(u64, String, Seconds),
}

impl fmt::Display for Remark {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Remark::Guessed(name) => write!(
                f,
                "the file does not say how its letters are coded, and is read as Windows-1252; look \
                 at the names (\"{name}\"), and save it as UTF-8 if they are wrong"
            ),
            Remark::LeftOut(line, text) => {
                write!(f, "line {line}: left out, for it begins with #: {text}")
            }
            Remark::Columns(line, names) => match names.split_last() {
                Some((last, [])) => write!(f, "line {line}: left out is the column \"{last}\""),
                Some((last, more)) => {
                    let more: Vec<String> = more.iter().map(|name| format!("\"{name}\"")).collect();
                    let more = more.join(", ");
                    write!(f, "line {line}: left out are the columns {more} and \"{last}\"")
                }
                None => Ok(()),
            },
            Remark::Pace(line, written, read) => write!(
                f,
                "line {line}: {written} is read as {read}, minutes and seconds; so are others like it"
            ),
        }
    }
}

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
    /// A spreadsheet's own file.
    #[error("the file is a spreadsheet; save it from there as CSV (comma-separated values)")]
    Spreadsheet,
    /// No text in any coding that is known.
    #[error("the file is no text that can be read; save it as CSV in UTF-8")]
    NoText,
    /// No columns that could be a roster's.
    #[error("the first line names the columns: name, and pace or tests or both")]
    NoHeader,
    /// A column with another name.
    #[error("no column is called \"{0}\"; they are name, pace and tests")]
    UnknownColumn(String),
    /// Two columns for one thing.
    #[error(
        "the columns \"{0}\" and \"{1}\" hold the same; take one of them out, or name it otherwise"
    )]
    SameColumn(String, String),
    /// More fields than columns.
    #[error(
        "the line has {fields} values for {columns} columns; put quotes around a value with a \
         comma in it"
    )]
    TooMany {
        /// Values of the line.
        fields: usize,
        /// Columns of the roster.
        columns: usize,
    },
    /// A quote that is never closed.
    #[error("a quote is opened here and never closed")]
    Unclosed,
    /// No name.
    #[error("a swimmer needs a name or initials")]
    NoName,
    /// A sign in a name that turns the direction of reading.
    #[error(
        "the name holds a sign that is not seen and turns the reading, U+{:04X}; write the name anew",
        u32::from(*.0)
    )]
    Turned(char),
    /// A name longer than any text.
    #[error("the name has {0} characters; write up to {most}", most = LIMITS.text_characters.most)]
    LongName(usize),
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
    /// Test swims in one unit, other paces in another.
    #[error(
        "the test swims are in {}, the other paces per 100 {known}; a roster takes one unit",
        tests.plural()
    )]
    OtherUnit {
        /// That of the tests.
        tests: Unit,
        /// That of all before.
        known: Unit,
    },
    /// Nobody.
    #[error("the roster holds no swimmers")]
    Empty,
}

/// Which field holds what.
struct Columns {
    count: usize,
    name: usize,
    pace: Option<usize>,
    tests: Option<usize>,
    /// That of the paces, where their column says it.
    unit: Option<Unit>,
    /// Those that are not asked for.
    others: Vec<String>,
}

/// Reads a roster: values parted by commas, semicolons or tabs, with a line of column names, and a
/// swimmer on each other line. UTF-8 and UTF-16 are read, and what is neither as Windows-1252.
///
/// # Errors
///
/// Everything wrong with it, each with its line.
pub fn read_roster(bytes: &[u8]) -> Result<Roster, Vec<RosterError>> {
    let at_line = |line, fault| vec![RosterError { line, fault }];
    let coded = coding::text(bytes).map_err(|fault| at_line(1, fault))?;
    let separator = rows::separator(&coded.text);
    let rows = rows::rows(&coded.text, separator);
    let rows = rows.map_err(|Unclosed { line }| at_line(line, RosterFault::Unclosed))?;
    let names_separator =
        |row: &Row| row.line == 1 && coded.text.lines().next().is_some_and(is_separator_line);
    let mut rows = rows.into_iter().skip_while(names_separator);
    let header = rows.next().ok_or_else(|| at_line(1, RosterFault::NoHeader))?;
    let columns = columns(&header).map_err(|fault| at_line(header.line, fault))?;
    let mut roster = Roster { unit: columns.unit, ..Roster::default() };
    if !columns.others.is_empty() {
        roster.remarks.push(Remark::Columns(header.line, columns.others.clone()));
    }
    let mut errors = Vec::new();
    for row in rows {
        if let Some(comment) = comment(&row) {
            roster.remarks.push(Remark::LeftOut(row.line, comment.to_owned()));
            continue;
        }
        match swimmer(&row, &columns, &mut roster) {
            Ok(swimmer) => roster.swimmers.push(swimmer),
            Err(fault) => errors.push(RosterError { line: row.line, fault }),
        }
    }
    if roster.swimmers.is_empty() && errors.is_empty() {
        errors.push(RosterError { line: header.line, fault: RosterFault::Empty });
    }
    let foreign = roster.swimmers.iter().find(|swimmer| !swimmer.name.is_ascii());
    if let Some(foreign) = foreign.filter(|_| coded.is_guessed) {
        roster.remarks.insert(0, Remark::Guessed(foreign.name.clone()));
    }
    if errors.is_empty() { Ok(roster) } else { Err(errors) }
}

fn is_separator_line(line: &str) -> bool {
    rows::named_separator(line).is_some()
}

/// A row that begins with # and has but one value; with others it is a swimmer's, "#7 Ann".
fn comment(row: &Row) -> Option<&str> {
    let (first, others) = row.fields.split_first()?;
    let is_alone = others.iter().all(String::is_empty);
    (first.starts_with('#') && is_alone).then_some(first)
}

fn columns(header: &Row) -> Result<Columns, RosterFault> {
    let (mut name, mut pace, mut tests) = (None, None, None);
    let (mut unit, mut others) = (None, Vec::new());
    let count =
        header.fields.iter().rposition(|field| !field.is_empty()).map_or(0, |last| last + 1);
    for (index, column) in header.fields.iter().enumerate().take(count) {
        let lower = column.to_lowercase();
        let slot = match lower.as_str() {
            "name" | "initials" | "swimmer" => &mut name,
            "tests" | "test" => &mut tests,
            _ => match pace_column(&lower) {
                Some(said) => {
                    unit = said;
                    &mut pace
                }
                None if nearest(&lower, ["name", "pace", "tests"].into_iter()).is_some() => {
                    return Err(RosterFault::UnknownColumn(column.clone()));
                }
                None => {
                    others.extend((!column.is_empty()).then(|| column.clone()));
                    continue;
                }
            },
        };
        if let Some(before) = slot.replace(index) {
            let before = header.fields.get(before).cloned().unwrap_or_default();
            return Err(RosterFault::SameColumn(before, column.clone()));
        }
    }
    match name {
        Some(name) if pace.is_some() || tests.is_some() => {
            Ok(Columns { count, name, pace, tests, unit, others })
        }
        // A first line that names nothing known is a swimmer's.
        _ => {
            Err(others.into_iter().next().map_or(RosterFault::NoHeader, RosterFault::UnknownColumn))
        }
    }
}

/// Whether a column in small letters is that of the paces, and the unit that it says: "pace",
/// "pace per 100 yd", "pace (yd)".
fn pace_column(lower: &str) -> Option<Option<Unit>> {
    let per = lower.strip_prefix("pace")?.trim().trim_matches(['(', ')']).trim();
    let per = per.strip_prefix("per").or_else(|| per.strip_prefix('/')).unwrap_or(per).trim();
    let unit = per.strip_prefix("100").unwrap_or(per).trim();
    if unit.is_empty() { Some(None) } else { Unit::from_word(unit).map(Some) }
}

fn swimmer(row: &Row, columns: &Columns, roster: &mut Roster) -> Result<Swimmer, RosterFault> {
    let fields = row.fields.iter().rposition(|field| !field.is_empty()).map_or(0, |last| last + 1);
    if fields > columns.count {
        return Err(RosterFault::TooMany { fields, columns: columns.count });
    }
    let field = |column: Option<usize>| {
        column.and_then(|column| row.fields.get(column)).map_or("", String::as_str)
    };
    let name = field(Some(columns.name)).to_owned();
    if name.chars().all(is_unseen) {
        return Err(RosterFault::NoName);
    }
    if let Some(sign) = name.chars().find(|sign| visible::steers(*sign)) {
        return Err(RosterFault::Turned(sign));
    }
    let length = name.chars().count();
    if !LIMITS.text_characters.holds(length as u64) {
        return Err(RosterFault::LongName(length));
    }
    let (written, tests) = (field(columns.pace), field(columns.tests));
    let pace = if !written.is_empty() {
        let pace = pace(written).ok_or_else(|| RosterFault::Pace(written.to_owned()))?;
        let is_first = !roster.remarks.iter().any(|remark| matches!(remark, Remark::Pace(..)));
        if pace.is_reinterpreted && is_first {
            roster.remarks.push(Remark::Pace(row.line, written.to_owned(), pace.read));
        }
        pace.read
    } else if !tests.is_empty() {
        let swims: Result<Vec<TimedSwim>, _> = tests.split_whitespace().map(str::parse).collect();
        let swims = swims.map_err(RosterFault::Test)?;
        let unit = swims.iter().find_map(|swim| swim.unit);
        if let (Some(tests), Some(known)) = (unit, roster.unit)
            && tests != known
        {
            return Err(RosterFault::OtherUnit { tests, known });
        }
        roster.unit = roster.unit.or(unit);
        critical_pace(&swims).map_err(RosterFault::Tests)?.per_100
    } else {
        return Err(RosterFault::NoPace(name));
    };
    if !LIMITS.pace_s.holds(u64::from(pace.get())) {
        return Err(RosterFault::Pace(pace.to_string()));
    }
    Ok(Swimmer { name, pace })
}

/// Whether a sign prints nothing by itself: blanks, what steers, and what joins or parts letters
/// (Unicode, Default_Ignorable_Code_Point in DerivedCoreProperties).
fn is_unseen(sign: char) -> bool {
    sign.is_whitespace()
        || visible::steers(sign)
        || matches!(sign,
            '\u{ad}' | '\u{34f}' | '\u{115f}' | '\u{1160}' | '\u{17b4}' | '\u{17b5}'
            | '\u{180b}'..='\u{180f}' | '\u{200b}'..='\u{200f}' | '\u{2060}'..='\u{206f}'
            | '\u{3164}' | '\u{fe00}'..='\u{fe0f}' | '\u{feff}' | '\u{ffa0}'
            | '\u{e0000}'..='\u{e0fff}')
}

/// A pace as it was read, and whether by more than its own writing.
struct Pace {
    read: Seconds,
    is_reinterpreted: bool,
}

/// A pace: "1:45", or what spreadsheets make of it: "1:45:00" of a cell for hours, "1.45" or "1,45"
/// of a cell for numbers.
fn pace(written: &str) -> Option<Pace> {
    let holds = |pace: &Seconds| LIMITS.pace_s.holds(u64::from(pace.get()));
    let plain: Option<Seconds> = written.parse().ok();
    if let Some(read) = plain.filter(holds) {
        return Some(Pace { read, is_reinterpreted: false });
    }
    // Nobody takes an hour for 100, so minutes and seconds are meant.
    let as_hours =
        plain.filter(|read| read.get() % 60 == 0).map(|read| Seconds::new(read.get() / 60));
    let as_hours = as_hours.filter(|_| written.matches(':').count() == 2);
    // With one digit behind the point it might be tenths of a minute.
    let as_number = written.split_once(['.', ',']).and_then(|(minutes, seconds)| {
        let is_number = |text: &str| !text.is_empty() && text.bytes().all(|b| b.is_ascii_digit());
        let is_whole = is_number(minutes) && is_number(seconds) && seconds.len() == 2;
        is_whole.then(|| format!("{minutes}:{seconds}").parse().ok()).flatten()
    });
    let read = as_hours.or(as_number).filter(holds)?;
    Some(Pace { read, is_reinterpreted: true })
}

#[cfg(test)]
mod tests;
