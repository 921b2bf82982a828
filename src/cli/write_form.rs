//! `deckcard write FILE`

use std::path::{Path, PathBuf};

use super::arguments::{UsualArguments, pool};
use super::reporter::Reporter;
use super::{Format, Refusal, write};
use crate::fit::{self, Wanted};
use crate::forms;
use crate::intake::{self, Ready};
use crate::measure::Pool;
use crate::reader::{FileKind, nearest};
use crate::session::{self, Line, Session, Usual};
use crate::source::Source;

/// Arguments of `write`.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// The session, as TOML or as a message; - is standard input
    file: PathBuf,
    #[command(flatten)]
    usual: UsualArguments,
    /// The version for this pool, as in "25 yd"
    #[arg(long, value_parser = pool)]
    pool: Option<Pool>,
    /// The version of this lane
    #[arg(long, value_name = "NAME")]
    lane: Option<String>,
    /// Where it goes: a name that ends in .txt or .md is a message, one in .toml is TOML. Without it,
    /// the other form goes to standard output; of one version, a message
    #[arg(short, long, value_name = "FILE")]
    output: Option<PathBuf>,
    /// Write over a file that exists
    #[arg(long)]
    force: bool,
    /// How findings are shown on standard error
    #[arg(long, value_enum, default_value_t)]
    pub format: Format,
}

/// Writes a session in its other form.
pub(super) fn run(arguments: &Arguments, reporter: &mut Reporter) -> Result<(), Refusal> {
    let usual = arguments.usual.usual();
    let intake = intake::open_as_usual(&arguments.file, &usual)?;
    reporter.report(&intake.findings, &intake.sources);
    let (Some(ready), Some(source)) = (&intake.ready, intake.sources.first()) else {
        return match intake.kind {
            FileKind::Session => Ok(()),
            kind => Err(Refusal::no_session(&arguments.file, kind)),
        };
    };
    let text = match version(arguments, ready, source, &usual)? {
        Some(text) => text,
        None => in_form(source, ready, arguments, &usual),
    };
    write::text(arguments.output.as_deref(), &text, arguments.force, reporter)
}

/// The version of a pool or of a lane, in the form asked for; nothing where neither is asked for.
fn version(
    arguments: &Arguments,
    ready: &Ready,
    source: &Source,
    usual: &Usual,
) -> Result<Option<String>, Refusal> {
    let own = ready.session.pool().value;
    let moves = arguments.pool.filter(|pool| *pool != own);
    if moves.is_none() && arguments.lane.is_none() {
        return Ok(None);
    }
    let mut now = source.clone();
    if let Some(name) = &arguments.lane {
        now = of_lane(name, ready, &now, usual)?;
    }
    if moves.is_some() {
        let ready = take(&now, usual);
        if let Some(ready) = ready {
            let wanted = Wanted { pool: moves, ..Wanted::default() };
            let fitted = fit::fit(&now, &ready.session, &wanted)?;
            now = Source::new(now.path(), fitted.text);
        }
    }
    let ready = take(&now, usual);
    Ok(ready.map(|ready| in_form(&now, &ready, arguments, usual)))
}

fn take(source: &Source, usual: &Usual) -> Option<Ready> {
    intake::take_as_usual(source.clone(), usual).ready
}

/// One lane's session: its sets at its pace, cut to the booking as its card is.
fn of_lane(name: &str, ready: &Ready, source: &Source, usual: &Usual) -> Result<Source, Refusal> {
    let lanes = ready.session.lanes();
    let Some(lane) = lanes.iter().find(|lane| lane.name.value.eq_ignore_ascii_case(name.trim()))
    else {
        let names: Vec<&str> = lanes.iter().map(|lane| lane.name.value.as_str()).collect();
        let near = nearest(name, names.iter().copied()).map(str::to_owned);
        return Err(Refusal::NoSuchLane { name: name.to_owned(), near, lanes: names.join(", ") });
    };
    let Some(mut session) = intake::read_as_usual(source.clone(), usual).session else {
        return Ok(source.clone());
    };
    let name = &lane.name.value;
    for part in &mut session.parts {
        keep_lane(&mut part.lines, name);
    }
    let pace = ready.session.pace_of(Some(lane));
    session.lanes.clear();
    session.pace = Some(lane.pace.clone());
    session.pace_unit = Some(pace.unit);
    session.title.value = format!("{}, {name}", session.title.value);
    if let Some(pace) = &mut session.pace {
        pace.place.file = crate::finding::FileId::MAIN;
    }
    session.strokes_per_length = lane.strokes_per_length.clone().or(session.strokes_per_length);
    let written = forms::as_toml(&session, source, Some(pace));
    let own = Source::new(source.path().to_owned() + ".toml", written);
    let Some(its) = take(&own, usual) else { return Ok(own) };
    let stretch = lane.stretch.as_ref().is_some_and(|stretch| stretch.value);
    let booked = its.session.booked().map(|booked| booked.value);
    match booked.filter(|booked| stretch || its.written.plan.seconds() > *booked) {
        None => Ok(own),
        Some(time) => {
            let wanted = Wanted { time: Some(time), ..Wanted::default() };
            let fitted = fit::fit(&own, &its.session, &wanted)?;
            Ok(Source::new(own.path(), fitted.text))
        }
    }
}

/// Leaves out what other lanes swim.
fn keep_lane(lines: &mut Vec<Line>, name: &str) {
    lines.retain_mut(|line| match line {
        Line::Set(set) => {
            let its = set.lanes.is_empty()
                || set.lanes.iter().any(|lane| lane.value.eq_ignore_ascii_case(name));
            set.lanes.clear();
            its
        }
        Line::Rounds(rounds) => {
            keep_lane(&mut rounds.lines, name);
            !rounds.lines.is_empty()
        }
        Line::Activity(_) | Line::Remark(_) => true,
    });
}

/// The session in the form that is asked for: by the name of the output, else the other one.
fn in_form(source: &Source, ready: &Ready, arguments: &Arguments, usual: &Usual) -> String {
    let Some(session) = intake::read_as_usual(source.clone(), usual).session else {
        return String::new();
    };
    let ending = arguments.output.as_deref().and_then(Path::extension);
    let is_version = arguments.pool.is_some() || arguments.lane.is_some();
    let as_toml = match ending {
        Some(ending) => ending.eq_ignore_ascii_case("toml"),
        None => session::is_message(source) && !is_version,
    };
    match as_toml {
        true => forms::as_toml(&session, source, Some(ready.session.pace())),
        false => as_text(&session, source, arguments),
    }
}

fn as_text(session: &Session, source: &Source, arguments: &Arguments) -> String {
    let target = arguments.output.as_deref().unwrap_or(&arguments.file);
    let beside = target.with_file_name("club.toml").exists();
    forms::as_text(session, source, beside)
}
