//! `deckcard print --week FILE…`: the weekly hand-out of a lane club.

use std::path::{Path, PathBuf};

use super::reporter::Reporter;
use super::{Exit, Refusal, pages, write};
use crate::block::days_between;
use crate::finding::{self, Finding};
use crate::handout::{self, Evening, Handout, HandoutWeek, NOTICE_TOO_LONG};
use crate::intake::{self, Intake, Ready};
use crate::measure::Pool;
use crate::paint::pdf::{self, Made, Meta};
use crate::plan::Version;
use crate::press::{self, Press, Wishes};
use crate::reader::FileKind;
use crate::session::Club;
use crate::sheet::Paper;
use crate::source::Source;
use crate::stock::Stock;

/// What a hand-out is made of.
pub(super) struct Job<'a> {
    pub files: Vec<PathBuf>,
    pub paper: Option<Paper>,
    pub pool: Option<Pool>,
    pub folder: Option<&'a Path>,
    /// When the file says it was made, whatever the sessions' days.
    pub made: Option<Made>,
}

/// Lays out the sessions of a week, if none of them has an error.
pub(super) fn run(job: &Job, reporter: &mut Reporter) -> Result<(), Refusal> {
    let mut intakes = Vec::new();
    for path in &job.files {
        match intake::open(path) {
            Ok(intake) if intake.kind != FileKind::Session => {
                reporter.report(&intake.findings, &intake.sources);
                reporter.no_session(path, intake.kind);
            }
            Ok(intake) => intakes.push(intake),
            Err(error) => reporter.refused(&error),
        }
    }
    // In the order of their days; those without one keep their places, at the end.
    intakes.sort_by_key(|intake| {
        let date = intake.ready.as_ref().and_then(|ready| ready.session.date);
        (date.is_none(), date)
    });
    let mut findings: Vec<Vec<Finding>> =
        intakes.iter_mut().map(|intake| std::mem::take(&mut intake.findings)).collect();
    let mut sources: Vec<Vec<Source>> =
        intakes.iter_mut().map(|intake| std::mem::take(&mut intake.sources)).collect();
    let made = made(job, &intakes, &mut sources, &mut findings, reporter)?;
    for (sources, findings) in sources.iter().zip(&mut findings) {
        finding::in_file_order(findings);
        reporter.report(findings, sources);
    }
    if reporter.worst() > Exit::Clean || findings.iter().flatten().any(Finding::is_error) {
        return Ok(());
    }
    let Some((name, bytes, pages)) = made else { return Ok(()) };
    let beside = job.files.first().and_then(|file| file.parent());
    let path = job.folder.or(beside).unwrap_or(Path::new("")).join(name);
    write::whole(&path, &bytes)?;
    reporter.note(format_args!(
        "wrote {}: {} printed on both sides",
        path.display(),
        sheets(pages)
    ));
    Ok(())
}

/// Pages are fronts and backs by turns.
fn sheets(pages: usize) -> String {
    match pages / 2 {
        1 => "1 sheet".to_owned(),
        count => format!("{count} sheets"),
    }
}

/// The file's name, its bytes and the number of its pages.
type HandoutFile = (String, Vec<u8>, usize);

fn made(
    job: &Job,
    intakes: &[Intake],
    sources: &mut [Vec<Source>],
    findings: &mut [Vec<Finding>],
    reporter: &mut Reporter,
) -> Result<Option<HandoutFile>, Refusal> {
    let ready: Option<Vec<&Ready>> = intakes.iter().map(|intake| intake.ready.as_ref()).collect();
    let Some(ready) = ready else { return Ok(None) };
    let Some(first) = ready.first() else { return Ok(None) };
    let mut presses = Vec::new();
    let wishes = Wishes::default();
    for ((ready, sources), findings) in ready.iter().zip(sources).zip(findings.iter_mut()) {
        presses.extend(Press::set_up(&ready.session, sources, &wishes, findings));
    }
    if presses.len() < ready.len() {
        return Ok(None);
    }
    let (Some(press), Some(Ok(stock))) = (presses.first(), Stock::named("handout")) else {
        return Ok(None);
    };
    if let Some(language) = press.unreviewed_language() {
        reporter.unreviewed(language);
    }
    let asked = |ready: &&Ready| job.pool.and_then(|pool| pages::other(ready, pool));
    let others: Vec<Option<Version>> = ready.iter().map(asked).collect();
    let versions: Vec<&Version> = others
        .iter()
        .zip(&ready)
        .map(|(other, ready)| other.as_ref().unwrap_or(&ready.written))
        .collect();
    let club = |of: fn(&Club) -> bool| {
        ready.iter().filter_map(|ready| ready.session.club.as_ref()).find(|club| of(club))
    };
    let evenings = versions.iter().zip(&presses);
    let week = HandoutWeek {
        club: club(|_| true).map(|club| club.name.value.clone()),
        notice: club(|club| club.notice.is_some()).and_then(|club| club.notice.as_ref()),
        evenings: evenings
            .map(|(version, press)| Evening {
                plans: version.printed(),
                extras: press.extras().clone(),
            })
            .collect(),
    };
    let handout = handout::lay_out(&week, job.paper.unwrap_or(Paper::A4), &stock, press.words());
    tell(&handout, &week, &versions, findings);
    tell_span(&ready, reporter);
    let date = ready.iter().filter_map(|ready| ready.session.date).min();
    let name = match date {
        Some(date) => format!("week-{date}-{}.pdf", pools(&versions)),
        None => format!("week-{}.pdf", pools(&versions)),
    };
    let title = week.club.clone().unwrap_or_else(|| first.session.title.value.clone());
    let meta = Meta {
        title: date.map_or(title.clone(), |date| format!("{title}, {}", press.words().date(date))),
        language: press.words().language.clone(),
        made: job.made.or(date.map(Made::on)),
    };
    let bytes = pdf::write(&handout.sheets, &[], &meta)?;
    Ok(Some((name, bytes, handout.sheets.len())))
}

/// The pools of the sessions as part of a file name, each once, in the order of the week: "25m",
/// or "25m-25yd".
fn pools(versions: &[&Version]) -> String {
    let mut pools: Vec<String> = Vec::new();
    for version in versions {
        let pool = version.plan.pool.file_stem();
        if !pools.contains(&pool) {
            pools.push(pool);
        }
    }
    pools.join("-")
}

/// A week's first and last day are at most this many days apart.
const DAYS_APART: i64 = 6;

/// Tells where the sessions' days do not lie in one week.
fn tell_span(ready: &[&Ready], reporter: &Reporter) {
    let days = || ready.iter().filter_map(|ready| ready.session.date);
    let (Some(first), Some(last)) = (days().min(), days().max()) else { return };
    if days_between(first, last).is_some_and(|apart| apart > DAYS_APART) {
        reporter.note(format_args!(
            "warning: the sessions are from {first} to {last}, which is more than a week; all are \
             on one hand-out"
        ));
    }
}

/// What the layout could not do, told where it is written.
fn tell(
    handout: &Handout,
    week: &HandoutWeek,
    versions: &[&Version],
    findings: &mut [Vec<Finding>],
) {
    for (index, fault) in &handout.faults {
        let plan = versions.get(*index).map(|version| &version.plan);
        let (Some(plan), Some(findings)) = (plan, findings.get_mut(*index)) else { continue };
        let finding = press::told(fault, plan, plan.title.place);
        if !findings.contains(&finding) {
            findings.push(finding);
        }
    }
    if let (true, Some(notice), Some(findings)) =
        (handout.notice_too_long, week.notice, findings.first_mut())
    {
        let finding = Finding::new(&NOTICE_TOO_LONG, "the notice has no room on a lane's strip")
            .label(notice.place, "")
            .help("shorten it, or hand it out on a sheet of its own");
        findings.push(finding);
    }
}
