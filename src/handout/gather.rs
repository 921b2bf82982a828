//! From checked sessions to a hand-out: what each is printed with, its version for the pool asked
//! for, and findings where the layout could not do what a file asks.

use super::{Evening, Handout, HandoutWeek, NOTICE_TOO_LONG, lay_out, wording};
use crate::block::days_between;
use crate::finding::Finding;
use crate::intake::Ready;
use crate::measure::{Date, Pool};
use crate::paint::pdf::{Made, Meta};
use crate::plan::Version;
use crate::press::{self, Press, Wishes};
use crate::session::Club;
use crate::sheet::Paper;
use crate::source::Source;
use crate::stock::Stock;

/// A hand-out, and what its file says of it.
#[derive(Debug)]
pub struct Gathered {
    /// The hand-out laid out.
    pub handout: Handout,
    /// The name of its file: "week-2027-01-12-25m.pdf".
    pub name: String,
    /// Title, language and day of its first session.
    pub meta: Meta,
    /// The language of its words, where no coach who speaks it has read them over.
    pub unreviewed_language: Option<String>,
    /// The first and the last day of its sessions, where they do not lie in one week.
    pub longer_than_a_week: Option<(Date, Date)>,
    /// The titles of sessions without a day, where others have one: they are printed last, and
    /// nobody can see when they are swum.
    pub undated: Vec<String>,
}

/// Lays `sessions` out for the week, in their order, in `pool` if one is asked for.
///
/// `sources` and `findings` are those of each session: files read on the way and what was found
/// are added. `None` where there is no session, or one names something that cannot be used.
pub fn gather(
    sessions: &[&Ready],
    pool: Option<Pool>,
    paper: Paper,
    sources: &mut [Vec<Source>],
    findings: &mut [Vec<Finding>],
) -> Option<Gathered> {
    let presses = presses(sessions, sources, findings)?;
    let (first, press) = (sessions.first()?, presses.first()?);
    let stock = Stock::named("handout")?.ok()?;
    let others: Vec<Option<Version>> = sessions.iter().map(|ready| other(ready, pool?)).collect();
    let versions: Vec<&Version> = others
        .iter()
        .zip(sessions)
        .map(|(other, ready)| other.as_ref().unwrap_or(&ready.written))
        .collect();
    let week = week(sessions, &versions, &presses);
    let handout = lay_out(&week, paper, &stock, press.words());
    add_faults(&handout, &week, &versions, findings);
    wording::add_findings(sessions, findings);
    let date = sessions.iter().filter_map(|ready| ready.session.date).min();
    let name = match date {
        Some(date) => format!("week-{date}-{}.pdf", pools(&versions)),
        None => format!("week-{}.pdf", pools(&versions)),
    };
    let title = week.club.clone().unwrap_or_else(|| first.session.title.value.clone());
    let meta = Meta {
        title: date.map_or(title.clone(), |date| format!("{title}, {}", press.words().date(date))),
        language: press.words().language.clone(),
        made: date.map(Made::on),
    };
    let unreviewed_language = press.unreviewed_language().map(str::to_owned);
    let longer_than_a_week = longer_than_a_week(sessions);
    let undated = undated(sessions);
    Some(Gathered { handout, name, meta, unreviewed_language, longer_than_a_week, undated })
}

/// What each session is printed with; `None` where one names something that cannot be used.
fn presses<'a>(
    sessions: &[&'a Ready],
    sources: &mut [Vec<Source>],
    findings: &mut [Vec<Finding>],
) -> Option<Vec<Press<'a>>> {
    let wishes = Wishes::default();
    let mut presses = Vec::new();
    // All are tried, so that all that is wrong is reported at once.
    for ((ready, sources), findings) in sessions.iter().zip(sources).zip(findings) {
        presses.extend(Press::set_up(&ready.session, sources, &wishes, findings));
    }
    (presses.len() == sessions.len()).then_some(presses)
}

/// The version for `pool`, unless it is the written one, which is worked out already.
fn other(ready: &Ready, pool: Pool) -> Option<Version> {
    (pool != ready.session.pool.value).then(|| Version::of(&ready.session, pool))
}

/// The week of the club that comes first, with the notice that comes first.
fn week<'a>(
    sessions: &[&'a Ready],
    versions: &[&'a Version],
    presses: &[Press<'_>],
) -> HandoutWeek<'a> {
    let club = |of: fn(&Club) -> bool| {
        sessions.iter().filter_map(|ready| ready.session.club.as_ref()).find(|club| of(club))
    };
    let evenings = versions.iter().zip(presses);
    HandoutWeek {
        club: club(|_| true).map(|club| club.name.value.clone()),
        notice: club(|club| club.notice.is_some()).and_then(|club| club.notice.as_ref()),
        evenings: evenings
            .map(|(version, press)| Evening {
                plans: version.printed(),
                extras: press.extras().clone(),
            })
            .collect(),
    }
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

/// The first and the last day of the sessions, where they do not lie in one week.
fn longer_than_a_week(sessions: &[&Ready]) -> Option<(Date, Date)> {
    let days = || sessions.iter().filter_map(|ready| ready.session.date);
    let (first, last) = (days().min()?, days().max()?);
    let is_longer = days_between(first, last).is_some_and(|apart| apart > DAYS_APART);
    is_longer.then_some((first, last))
}

/// The titles of those without a day among those with one. Where none has a day, none is meant to.
fn undated(sessions: &[&Ready]) -> Vec<String> {
    let (dated, undated): (Vec<&Ready>, Vec<&Ready>) =
        sessions.iter().partition(|ready| ready.session.date.is_some());
    let titles = undated.iter().filter(|_| !dated.is_empty());
    titles.map(|ready| ready.session.title.value.clone()).collect()
}

/// What the layout could not do, as findings of the session it was written in.
fn add_faults(
    handout: &Handout,
    week: &HandoutWeek,
    versions: &[&Version],
    findings: &mut [Vec<Finding>],
) {
    for (index, fault) in &handout.faults {
        let plan = versions.get(*index).map(|version| &version.plan);
        let (Some(plan), Some(findings)) = (plan, findings.get_mut(*index)) else { continue };
        let finding = press::finding_of(fault, plan, plan.title.place);
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
