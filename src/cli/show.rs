//! `deckcard show FILE…`

use rayon::iter::{IntoParallelRefIterator, ParallelIterator};
use serde_json::Value;

use super::reporter::Reporter;
use super::stocks::OnStock;
use super::{Input, Refusal, answer, files};
use crate::finding::{self, Finding};
use crate::intake::{self, Ready};
use crate::plan::{Version, Worked};
use crate::press::{self, Press, Wishes};
use crate::reader::FileKind;
use crate::report::{cards, json, reading, table};
use crate::session::{self, Usual};
use crate::source::Source;
use crate::stock::Stock;

/// Arguments of `show`.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    #[command(flatten)]
    pub input: Input,
    /// Print JSON; an array where several files are named
    #[arg(long)]
    json: bool,
    /// Show how many cards the session takes on each stock, how tall its letters are and from
    /// how far they read
    #[arg(long, conflicts_with = "json")]
    card: bool,
    #[command(flatten)]
    on: OnStock,
}

/// Shows every session that can be worked out.
pub(super) fn run(arguments: &Arguments, reporter: &mut Reporter) -> Result<(), Refusal> {
    reporter.on_paper_only();
    let mut objects = Vec::new();
    let files = files::expand(&arguments.input.files, reporter);
    for (index, path) in files.iter().enumerate() {
        let intake = match intake::open_as_usual(path, &arguments.input.usual.usual()) {
            Ok(intake) => intake,
            Err(error) => {
                reporter.refused(&error.into());
                continue;
            }
        };
        if intake.kind != FileKind::Session {
            reporter.report(&intake.findings, &intake.sources);
            match files.len() {
                1 => return Err(Refusal::no_session(path, intake.kind)),
                _ => reporter.no_session(path, intake.kind),
            }
            continue;
        }
        if arguments.card {
            show_cards(intake, arguments, index > 0, reporter)?;
            continue;
        }
        reporter.report(&intake.findings, &intake.sources);
        let read = match arguments.json {
            true => None,
            false => message_beside(&intake, &arguments.input.usual.usual()),
        };
        let Some(ready) = intake.ready else {
            // What was understood helps most where something was not.
            read.map_or(Ok(()), |read| answer::page(&apart(index > 0, &read)))?;
            continue;
        };
        let worked = Worked::of(&ready.session, ready.written);
        if arguments.json {
            objects.push(json::session(&worked, &intake.findings, &intake.sources));
        } else {
            let read = read.map_or(String::new(), |read| read + "\n");
            answer::page(&apart(index > 0, &format!("{read}{}", table::session(&worked))))?;
        }
    }
    if arguments.json {
        print_json(objects, files.len())?;
    }
    Ok(())
}

/// A message beside what was read of it; nothing for TOML.
fn message_beside(intake: &intake::Intake, usual: &Usual) -> Option<String> {
    let source = intake.sources.first().filter(|source| session::is_message(source))?;
    let session = intake::read_as_usual(source.clone(), usual).session?;
    Some(reading::of_message(source, &session, &intake.findings))
}

/// A table with an empty line before it where another is above.
fn apart(is_below: bool, table: &str) -> String {
    format!("{}{table}", if is_below { "\n" } else { "" })
}

/// The cards a session takes, on the stock asked for or on every one.
fn show_cards(
    mut intake: intake::Intake,
    arguments: &Arguments,
    is_below: bool,
    reporter: &mut Reporter,
) -> Result<(), Refusal> {
    let table = intake.ready.as_ref().and_then(|ready| {
        cards_on_stocks(
            ready,
            &arguments.on.wishes(false),
            &mut intake.sources,
            &mut intake.findings,
        )
    });
    finding::in_file_order(&mut intake.findings);
    reporter.report(&intake.findings, &intake.sources);
    if let Some(table) = table {
        answer::page(&apart(is_below, &table))?;
    }
    Ok(())
}

fn cards_on_stocks(
    ready: &Ready,
    wishes: &Wishes,
    sources: &mut Vec<Source>,
    findings: &mut Vec<Finding>,
) -> Option<String> {
    let press = Press::set_up(&ready.session, sources, wishes, findings)?;
    findings.extend(press.stock_too_small());
    let own = press.stock();
    let stocks: Vec<(String, Stock)> = match &wishes.stock {
        Some(name) => vec![(name.clone(), own.clone())],
        None => {
            // A stock of the club's own is in no list of the program.
            let of_the_club = own.reading_place.map(|_| (own.name.clone(), own.clone()));
            let listed = Stock::names().filter_map(|name| {
                let stock = press::stock_asked_for(name, wishes.turned(), sources, findings)?;
                Some((name.to_owned(), stock))
            });
            of_the_club.into_iter().chain(listed).collect()
        }
    };
    let other = ready.session.other_pool().map(|pool| Version::of(&ready.session, pool));
    let versions: Vec<&Version> = [&ready.written].into_iter().chain(&other).collect();
    let presses = stocks.into_iter().map(|(name, stock)| (name, press.on(stock)));
    let presses: Vec<(String, Press)> = presses.collect();
    let rows: Vec<_> = presses
        .iter()
        .flat_map(|(name, press)| versions.iter().map(move |version| (name, press, *version)))
        .collect();
    // Each is laid out by itself, on as many cores as there are.
    let lines = rows.par_iter().map(|(name, press, version)| cards::line(name, press, version));
    let lines: Vec<String> = lines.collect();
    Some(cards::head(&ready.written) + &lines.concat())
}

/// One session as an object, several as an array; nothing where the one cannot be shown.
fn print_json(mut objects: Vec<Value>, files: usize) -> Result<(), Refusal> {
    match (files, objects.pop()) {
        (1, None) => Ok(()),
        (1, Some(object)) => answer::json(&object),
        (_, last) => {
            objects.extend(last);
            answer::json(&Value::from(objects))
        }
    }
}
