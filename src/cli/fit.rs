//! `deckcard fit FILE`

use std::path::{Path, PathBuf};

use super::arguments::{DistanceWish, UsualArguments, distance_wish, minutes, pool, word};
use super::reporter::Reporter;
use super::{Format, Refusal, answer, write};
use crate::check::CheckedSession;
use crate::finding::Finding;
use crate::fit::{Fitted, Wanted, fit};
use crate::forms;
use crate::intake::{self, Intake, Ready};
use crate::measure::{Distance, Pool, Seconds};
use crate::plan::Version;
use crate::reader::FileKind;
use crate::session::words::Level;
use crate::session::{self, Usual};
use crate::source::Source;

/// Arguments of `fit`.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// The session file; - is standard input
    file: PathBuf,
    #[command(flatten)]
    usual: UsualArguments,
    #[command(flatten)]
    wish: Wish,
    /// The fitted session file; - is standard output. Without it, NAME-40min.toml and the
    /// like beside the session file, or standard output where that is standard input
    #[arg(short, long, value_name = "FILE")]
    output: Option<PathBuf>,
    /// Write over a file that exists
    #[arg(long)]
    force: bool,
    /// How findings are shown on standard error
    #[arg(long, value_enum, default_value_t)]
    pub format: Format,
}

/// What the session is to be fitted to.
#[derive(Debug, clap::Args)]
#[group(required = true, multiple = true)]
struct Wish {
    /// End within so many minutes, without leaving a minute that one more repeat would fill
    #[arg(long, value_parser = minutes)]
    minutes: Option<Seconds>,
    /// Swim a distance, in the pool's unit: 800, "800 m"; or against the session's own: "+200 m",
    /// "-15 %", "90 %"
    #[arg(long, value_parser = distance_wish, allow_hyphen_values = true)]
    distance: Option<DistanceWish>,
    /// Move to another pool, as in "25 yd"
    #[arg(long, value_parser = pool)]
    pool: Option<Pool>,
    /// Suit another level: the parts are changed to its usual shares
    #[arg(long, value_parser = word::<Level>)]
    level: Option<Level>,
}

/// Fits a session file, and prints what is different in it.
pub(super) fn run(arguments: &Arguments, reporter: &mut Reporter) -> Result<(), Refusal> {
    let usual = arguments.usual.usual();
    let written = intake::open_as_usual(&arguments.file, &usual)?;
    reporter.report(&written.findings, &written.sources);
    let (Some(ready), Some(source)) = (&written.ready, written.sources.first()) else {
        return match written.kind {
            FileKind::Session => Ok(()),
            kind => Err(Refusal::no_session(&arguments.file, kind)),
        };
    };
    let wanted = arguments.wish.wanted(&ready.session, ready.written.plan.distance())?;
    let fitted = fit(source, &ready.session, &wanted)?;
    let taken = |fitted: &Fitted| {
        intake::take_as_usual(Source::new(source.path(), fitted.text.as_str()), &usual)
    };
    // Read again beside the club file it names; what is new in it is reported as for any file.
    let again = taken(&fitted);
    let plainly = session::is_message(source) && !reads_back(&written, &again, &fitted);
    let anew = if plainly { fitted_anew(source, &wanted, &usual)? } else { None };
    let (fitted, again) = match anew {
        Some(fitted) => {
            let again = taken(&fitted);
            (fitted, again)
        }
        None => (fitted, again),
    };
    let target = target(arguments, &fitted);
    if let Some(target) = &target {
        write::may_take(target, arguments.force)?;
    }
    tell_changes(&fitted, source, &wanted, reporter);
    again.ready.iter().for_each(|ready| tell_lanes(&ready.written, &wanted, reporter));
    let new = findings_of_the_fit(&written, &again);
    if new.iter().any(|finding| reporter.shows(finding)) {
        reporter.note("in the fitted file:");
    }
    reporter.report(&new, &named(again.sources, target.as_deref()));
    if new.iter().any(Finding::is_error) {
        return Ok(());
    }
    match target {
        None => answer::document(&fitted.text)?,
        Some(target) => {
            let read_only = write::ReadOnly::unless(arguments.force);
            reporter.note(write::one(&target, fitted.text.as_bytes(), read_only)?);
            tell_club(ready, source, &target, reporter);
        }
    }
    Ok(())
}

/// Whether a fitted text is read as the session that was fitted. A message may say one thing in two
/// places, of which an edit changes one.
fn reads_back(written: &Intake, again: &Intake, fitted: &Fitted) -> bool {
    let kept = |intake: &Intake| {
        intake.findings.iter().filter(|finding| finding.rule.id == "words-kept-as-cue").count()
    };
    kept(again) <= kept(written)
        && again.ready.as_ref().is_some_and(|ready| {
            let plan = &ready.written.plan;
            plan.distance() == fitted.recut.distance() && plan.seconds() == fitted.recut.seconds
        })
}

/// The same fit of the message written plainly, where each set says all of it once.
fn fitted_anew(source: &Source, wanted: &Wanted, usual: &Usual) -> Result<Option<Fitted>, Refusal> {
    let Some(session) = intake::read_as_usual(source.clone(), usual).session else {
        return Ok(None);
    };
    let beside = Path::new(source.path()).with_file_name("club.toml").exists();
    let plain = Source::new(source.path(), forms::as_text(&session, source, beside));
    let Some(ready) = intake::take_as_usual(plain.clone(), usual).ready else { return Ok(None) };
    Ok(Some(fit(&plain, &ready.session, wanted)?))
}

impl Wish {
    /// What is wished for `session`, which swims `own`.
    fn wanted(&self, session: &CheckedSession, own: Distance) -> Result<Wanted, Refusal> {
        let unit = self.pool.unwrap_or(session.pool.value).unit();
        let distance = self.distance.map(|wish| wish.of(own, unit)).transpose();
        Ok(Wanted {
            time: self.minutes,
            distance: distance.map_err(Refusal::Distance)?,
            pool: self.pool,
            level: self.level,
        })
    }

    /// "25yd-800m-40min-beginner", of what is wished; the distance is what the file holds.
    fn in_a_name(&self, fitted: &Fitted) -> String {
        let pool = self.pool.map(Pool::file_stem);
        let distance = self.distance.map(|asked| asked.in_a_name(fitted.recut.distance()));
        let minutes = self.minutes.map(|minutes| format!("{}min", minutes.get() / 60));
        let level = self.level.map(|level| level.to_string());
        [pool, distance, minutes, level].into_iter().flatten().collect::<Vec<_>>().join("-")
    }
}

/// The file to write; `None` for standard output.
fn target(arguments: &Arguments, fitted: &Fitted) -> Option<PathBuf> {
    match (&arguments.output, arguments.file == Path::new("-")) {
        (Some(output), _) => (output != Path::new("-")).then(|| output.clone()),
        (None, true) => None,
        (None, false) => {
            let stem = arguments.file.file_stem().unwrap_or_default().to_string_lossy();
            let ending = arguments.file.extension().map(|ending| ending.to_string_lossy());
            let ending = ending.unwrap_or("toml".into());
            let name = format!("{stem}-{}.{ending}", arguments.wish.in_a_name(fitted));
            Some(arguments.file.with_file_name(name))
        }
    }
}

/// Each change, and what the session came from and to.
fn tell_changes(fitted: &Fitted, source: &Source, wanted: &Wanted, reporter: &Reporter) {
    let recut = &fitted.recut;
    fitted.notes.iter().for_each(|note| reporter.note(note));
    recut.changes.iter().for_each(|change| reporter.note(change));
    if fitted.text == source.text() {
        reporter.note("nothing to change: it is that already");
    } else if recut.changes.is_empty() {
        reporter.note("no set changes");
    }
    let distance = recut.distance();
    reporter.note(format_args!("now {} in {}", distance.with_commas(), recut.seconds));
    if let Some(asked) = wanted.distance
        && asked.true_length() != distance.true_length()
    {
        let pool = recut.session.pool.value;
        reporter.note(format_args!(
            "{} is the nearest to {} that its sets give in whole lengths of {pool}",
            distance.with_commas(),
            asked.with_commas()
        ));
    }
}

/// What each lane swims. It is cut to the booking, and to no other time.
fn tell_lanes(version: &Version, wanted: &Wanted, reporter: &Reporter) {
    let mut late = false;
    for plan in &version.lanes {
        let Some(lane) = &plan.lane else { continue };
        let (name, distance) = (&lane.name.value, plan.distance().with_commas());
        let over = wanted.time.filter(|time| plan.seconds > *time).map(|time| {
            late = true;
            format!(", {} longer than wanted", plan.seconds.less(time).spoken())
        });
        let over = over.unwrap_or_default();
        reporter.note(format_args!("{name}: {distance} in {}{over}", plan.seconds));
    }
    if let Some(time) = wanted.time.filter(|_| late && version.plan.booked.is_none()) {
        reporter.note(format_args!(
            "lanes are cut to the booking, and there is none: write booked = \"{} min\"",
            time.minutes_up()
        ));
    }
}

/// Findings of the fitted file that the written one did not have.
fn findings_of_the_fit(written: &Intake, again: &Intake) -> Vec<Finding> {
    let known = |finding: &Finding| {
        let same = |old: &&Finding| old.rule == finding.rule && old.title == finding.title;
        written.findings.iter().any(|old| same(&old))
    };
    again.findings.iter().filter(|finding| !known(finding)).cloned().collect()
}

/// The fitted file's findings are in the file it is written to.
fn named(mut sources: Vec<Source>, target: Option<&Path>) -> Vec<Source> {
    if let Some(first) = sources.first_mut() {
        let name = target.map_or("standard output".to_owned(), |path| path.display().to_string());
        *first = Source::new(name, first.text());
    }
    sources
}

/// A club file is looked for beside the session file, also beside one in another folder.
fn tell_club(ready: &Ready, source: &Source, target: &Path, reporter: &Reporter) {
    // "" and "." are one folder.
    let real = |folder: &Path| Path::new(".").join(folder).canonicalize().ok();
    let folder = target.parent().unwrap_or(Path::new(""));
    if ready.session.club.is_some() && real(folder) != real(&source.folder()) {
        reporter.note("it names a club file, which is looked for beside it: copy that too");
    }
}
