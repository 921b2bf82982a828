//! `deckcard lanes ROSTER.csv`

use std::path::PathBuf;

use clap::ValueEnum;

use super::arguments::unit;
use super::reporter::Reporter;
use super::{Refusal, answer};
use crate::lanes::{Names, Roster, Seating, Swimmer, lane_tables, read_roster, split};
use crate::measure::{Seconds, Unit};
use crate::report::counted;
use crate::source;
use crate::typeset::face::{missing, sign_text};

/// Errors of a roster that are printed: a wrong file has one on every line.
const MOST_ERRORS: usize = 20;

/// Arguments of `lanes`.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// A CSV file with the columns name, and pace (2:05) or tests (200=2:50 400=6:00) or
    /// both; others are left out; - is standard input
    roster: PathBuf,
    /// How many lanes there are
    #[arg(long)]
    lanes: usize,
    /// The most swimmers in a lane
    #[arg(long)]
    most: usize,
    /// What the paces are per 100 of, where the roster does not say it: m or yd
    #[arg(long, value_parser = unit)]
    unit: Option<Unit>,
    /// Where the lane tables carry the swimmers' names; without it nowhere
    #[arg(long, value_enum, default_value_t)]
    names: NamesIn,
}

/// Where names go.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
enum NamesIn {
    /// Nowhere
    #[default]
    None,
    /// Behind a #, where the coach reads them and no card shows them
    Comments,
    /// In the lane's name, which is printed on its cards
    Cards,
}

/// Splits a roster: the tables to standard output, where they can be added to a session
/// file, the seating to standard error.
pub(super) fn run(arguments: &Arguments, reporter: &mut Reporter) -> Result<(), Refusal> {
    let bytes = source::load_bytes(&arguments.roster)?;
    let path = source::shown(&arguments.roster);
    let Roster { swimmers, unit, remarks } = match read_roster(&bytes) {
        Ok(roster) => roster,
        Err(errors) => {
            errors.iter().take(MOST_ERRORS).for_each(|error| reporter.fault_of(&path, error));
            if let Some(more @ 1..) = errors.len().checked_sub(MOST_ERRORS) {
                reporter.note(format_args!("{path}: {} like these", counted(more, "more line")));
            }
            return Ok(());
        }
    };
    remarks.iter().for_each(|remark| reporter.note(format_args!("{path}, {remark}")));
    if arguments.names == NamesIn::Cards {
        printable(&swimmers)?;
    }
    let seating = split(swimmers, arguments.lanes, arguments.most)?;
    let names = match arguments.names {
        NamesIn::None => Names::Nowhere,
        NamesIn::Comments => Names::Comments,
        NamesIn::Cards => Names::Cards,
    };
    if let (Some(said), Some(asked)) = (unit, arguments.unit)
        && said != asked
    {
        reporter
            .fault_of(&path, &format_args!("its paces are per 100 {said}, not per 100 {asked}"));
        return Ok(());
    }
    let unit = unit.or(arguments.unit);
    let tables = lane_tables(&seating, names, unit)?;
    rows(&seating).into_iter().for_each(|row| reporter.note(row));
    if unit.is_none() {
        reporter.note(
            "the roster does not say whether its paces are per 100 m or per 100 yd: they are taken as of \
             the session's own pace; --unit or a column \"pace per 100 yd\" says it",
        );
    }
    // Added to a file whose last line is not ended, a heading needs a line of its own.
    answer::document(&format!("\n{tables}"))
}

/// Refuses names that no card could show.
fn printable(swimmers: &[Swimmer]) -> Result<(), Refusal> {
    let unprintable = swimmers.iter().find_map(|swimmer| {
        let missing = missing(&swimmer.name);
        let signs: Vec<String> = missing.into_iter().map(sign_text).collect();
        (!signs.is_empty()).then(|| (swimmer.name.clone(), signs.join(", ")))
    });
    match unprintable {
        Some((name, signs)) => Err(Refusal::UnprintableName { name, signs }),
        None => Ok(()),
    }
}

/// A row for each lane: its pace, how many swim in it and how far apart they are, and who.
fn rows(seating: &[Seating]) -> Vec<String> {
    let together: Vec<String> = seating.iter().map(together).collect();
    let width = together.iter().map(|text| text.chars().count()).max().unwrap_or_default();
    let row = |((index, lane), together): ((usize, &Seating), &String)| {
        let swimmers = lane.swimmers.iter();
        let who: Vec<String> =
            swimmers.map(|swimmer| format!("{} {}", swimmer.name, swimmer.pace)).collect();
        let (pace, who) = (lane.pace().to_string(), who.join(", "));
        format!("Lane {:<3} pace {pace:>5}   {together:<width$}   {who}", index + 1)
    };
    seating.iter().enumerate().zip(&together).map(row).collect()
}

/// "3 swimmers within 15 s": from the quickest to the slowest.
fn together(lane: &Seating) -> String {
    let count = counted(lane.swimmers.len(), "swimmer");
    match lane.spread() {
        Seconds::ZERO if lane.swimmers.len() == 1 => count,
        Seconds::ZERO => format!("{count} at one pace"),
        apart => format!("{count} within {}", apart.spoken()),
    }
}
