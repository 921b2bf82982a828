//! `deckcard draft`

use std::path::{Path, PathBuf};

use super::arguments::{
    AskedDistance, asked_distance, date, minutes, pace, pool, time_of_day, word,
};
use super::reporter::Reporter;
use super::waiting::Waiting;
use super::{Refusal, answer, write};
use crate::draft::{Booked, Drafted, Library, Wish, draft_beside};
use crate::finding::Finding;
use crate::measure::{Date, Distance, Pace, Pool, Seconds, TimeOfDay};
use crate::session::words::{Goal, Level};
use crate::source::{self, LoadError, Source};
use crate::typeset::face;

/// Arguments of `draft`.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// Whom the session is for: beginner, improver or advanced
    #[arg(long, value_parser = word::<Level>)]
    level: Level,
    /// What it develops: ease, technique, endurance, threshold, speed, medley or recovery
    #[arg(long, value_parser = word::<Goal>)]
    goal: Goal,
    /// The one skill it attends to; one that suits the goal if left out
    #[arg(long)]
    focus: Option<String>,
    /// The pool: "25 m", "25 yd", "33 1/3 m"
    #[arg(long, value_parser = pool)]
    pool: Pool,
    /// Swim time per 100 of the pool's unit at steady freestyle: 2:40
    #[arg(long, value_parser = pace)]
    pace: Seconds,
    /// The session ends within so many minutes
    #[arg(long, required_unless_present = "distance", value_parser = minutes)]
    minutes: Option<Seconds>,
    /// The whole distance, in the pool's unit: 800, or "800 m"
    #[arg(long, value_parser = asked_distance)]
    distance: Option<AskedDistance>,
    /// The gear you have, with commas between: board,fins
    #[arg(long, value_delimiter = ',')]
    gear: Vec<String>,
    /// Another variant is another session for the same wish
    #[arg(long, default_value_t = 0)]
    variant: u32,
    /// The main set holds one swim of so far without a stop
    #[arg(long, value_name = "DISTANCE", value_parser = asked_distance)]
    unbroken: Option<AskedDistance>,
    /// What the session is called; invented if left out
    #[arg(long)]
    title: Option<String>,
    /// Its day: 2027-01-12
    #[arg(long, value_parser = date)]
    date: Option<Date>,
    /// The club file, as seen from where the session is written
    #[arg(long, value_name = "FILE")]
    club: Option<String>,
    /// Minutes the lane is booked; those of the session if left out
    #[arg(long, value_name = "MINUTES", value_parser = minutes)]
    booked: Option<Seconds>,
    /// When it starts: 19:15
    #[arg(long, value_parser = time_of_day)]
    starts: Option<TimeOfDay>,
    /// A file of the club's own patterns, tried before the program's
    #[arg(long, value_name = "FILE")]
    patterns: Option<PathBuf>,
    /// The session file to write; - is standard output
    #[arg(short = 'o', long = "output", value_name = "FILE")]
    output: PathBuf,
    /// Write over a file that is there
    #[arg(long)]
    force: bool,
}

/// Drafts a session and writes it.
pub(super) fn run(arguments: &Arguments, reporter: &mut Reporter) -> Result<(), Refusal> {
    let to_output = arguments.output == Path::new("-");
    if !to_output {
        write::may_take(&arguments.output, arguments.force)?;
    }
    for (key, text) in [("title", &arguments.title), ("focus", &arguments.focus)] {
        text.as_ref().map_or(Ok(()), |text| printable(key, text))?;
    }
    let library = match &arguments.patterns {
        None => Library::built_in()?,
        Some(path) => {
            let (file, library) = with_own(path)?;
            match library {
                Ok(library) => {
                    reporter.report(library.remarks(), &[file]);
                    library
                }
                Err(findings) => {
                    reporter.report(&findings, &[file]);
                    return Ok(());
                }
            }
        }
    };
    let folder = arguments.output.parent().map(Path::to_path_buf).unwrap_or_default();
    let wish = wish(arguments);
    let drafted = Waiting::on(0, |_| {
        draft_beside(&wish, &library, &|name| source::file(&folder.join(name)))
    })?;
    let shown = arguments.output.display().to_string();
    let text = Source::new(if to_output { "the draft" } else { &shown }, drafted.text.as_str());
    reporter.report(&drafted.warnings, &[text]);
    if let Some(strange) = &drafted.strange_focus {
        reporter.note(strange);
    }
    let line = in_a_line(&drafted, &wish);
    if to_output {
        answer::document(&drafted.text)?;
        reporter.note(line);
        return Ok(());
    }
    let read_only = write::ReadOnly::unless(arguments.force);
    let wrote = write::one(&arguments.output, drafted.text.as_bytes(), read_only)?;
    let replaced = if wrote.replaced { ", in place of an earlier file" } else { "" };
    reporter.note(format_args!("{}: {line}{replaced}", wrote.path.display()));
    Ok(())
}

/// Refuses a text that would be drafted into a file and then stop the print of its card.
pub(super) fn printable(key: &'static str, text: &str) -> Result<(), Refusal> {
    if let Some(sign) = text.chars().find(|sign| sign.is_control()) {
        return Err(Refusal::ControlSign { key, code: u32::from(sign) });
    }
    match face::missing(text) {
        signs if signs.is_empty() => Ok(()),
        signs => Err(Refusal::NoGlyph { key, signs }),
    }
}

/// One line for a person who watches the run.
fn in_a_line(drafted: &Drafted, wish: &Wish) -> String {
    let (distance, seconds) = (drafted.distance.with_commas(), drafted.seconds);
    let left = wish.time.map(|time| time.less(seconds));
    let left = left.filter(|left| left.get() > 90);
    let left = left.map(|left| format!(", {} of the time left", left.spoken()));
    let asked = wish.distance.filter(|asked| misses_by_more_than_a_length(drafted, *asked, wish));
    let asked = asked.map(|asked| format!(", for the {} asked for", asked.with_commas()));
    let (left, asked) = (left.unwrap_or_default(), asked.unwrap_or_default());
    format!("{}, {distance} in {seconds}{asked}{left}", drafted.title)
}

/// Whether the distance is another than was asked for: not only rounded to where it ends at the
/// start wall.
fn misses_by_more_than_a_length(drafted: &Drafted, asked: Distance, wish: &Wish) -> bool {
    let grid = |distance: Distance| distance.true_length().grid();
    grid(drafted.distance).abs_diff(grid(asked)) > grid(wish.pool.length())
}

/// A club's file, and the program's patterns with its own before them, or what is wrong with it.
fn with_own(path: &Path) -> Result<(Source, Result<Library, Vec<Finding>>), Refusal> {
    let own = match source::file(path) {
        Ok(own) => own,
        Err(LoadError::Rejected(rejected)) => {
            let (file, finding) = *rejected;
            return Ok((file, Err(vec![finding])));
        }
        Err(error) => return Err(error.into()),
    };
    let library = Library::built_in()?.with(&own);
    Ok((own, library.map_err(|error| error.findings)))
}

fn wish(arguments: &Arguments) -> Wish {
    let unit = arguments.pool.unit();
    let distance = |asked: Option<AskedDistance>| asked.map(|asked| asked.or_in(unit));
    let pace = Pace { per_100: arguments.pace, unit };
    let gear = arguments.gear.iter().map(|piece| piece.trim().to_lowercase());
    Wish {
        focus: arguments.focus.clone(),
        time: arguments.minutes,
        distance: distance(arguments.distance),
        gear: gear.filter(|piece| !piece.is_empty()).collect(),
        variant: arguments.variant,
        unbroken: distance(arguments.unbroken),
        title: arguments.title.clone(),
        date: arguments.date,
        club: arguments.club.clone(),
        booked: arguments.booked.map_or(Booked::Wished, Booked::Asked),
        starts: arguments.starts,
        ..Wish::new(arguments.level, arguments.goal, arguments.pool, pace)
    }
}
