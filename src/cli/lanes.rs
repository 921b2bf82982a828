//! `deckcard lanes ROSTER.csv`

use std::path::PathBuf;

use clap::ValueEnum;

use super::reporter::Reporter;
use super::{Refusal, answer};
use crate::lanes::{Names, Seating, lane_tables, read_roster, split};
use crate::source;

/// Arguments of `lanes`.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// A CSV file with the columns name, and pace (2:05) or tests (200=2:50 400=6:00) or
    /// both; - is standard input
    roster: PathBuf,
    /// How many lanes there are
    #[arg(long)]
    lanes: usize,
    /// The most swimmers in a lane
    #[arg(long)]
    most: usize,
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
    let source = source::load(&arguments.roster)?;
    let roster = match read_roster(source.text()) {
        Ok(roster) => roster,
        Err(errors) => {
            errors.iter().for_each(|error| reporter.fault_of(source.path(), error));
            return Ok(());
        }
    };
    let seating = split(roster, arguments.lanes, arguments.most)?;
    let names = match arguments.names {
        NamesIn::None => Names::Nowhere,
        NamesIn::Comments => Names::Comments,
        NamesIn::Cards => Names::Cards,
    };
    let tables = lane_tables(&seating, names)?;
    rows(&seating).for_each(|row| reporter.note(row));
    // Added to a file whose last line is not ended, a heading needs a line of its own.
    answer::document(&format!("\n{tables}"))
}

/// A row for each lane: pace, spread, and who swims in it.
fn rows(seating: &[Seating]) -> impl Iterator<Item = String> {
    let row = |(index, lane): (usize, &Seating)| {
        let swimmers = lane.swimmers.iter();
        let swimmers: Vec<String> =
            swimmers.map(|swimmer| format!("{} {}", swimmer.name, swimmer.pace)).collect();
        let (pace, spread) = (lane.pace().to_string(), lane.spread().spoken());
        let who = swimmers.join(", ");
        format!("Lane {:<3} pace {pace:>5}  {spread:>5} apart  {who}", index + 1)
    };
    seating.iter().enumerate().map(row)
}
