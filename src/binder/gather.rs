//! From a checked block to an outline: every session worked out for one pool, its cards composed.

use super::{BinderSession, BinderWeek, Binding, Outline};
use crate::block::{BlockSession, CheckedBlock, CheckedWeek, longest_swim};
use crate::finding::Finding;
use crate::measure::Pool;
use crate::plan::Version;
use crate::press::{Press, Wishes};
use crate::source::Source;
use crate::words::Words;

/// An outline, the words it is printed in, and what was found on the way.
#[derive(Debug)]
pub struct Gathered {
    /// Given where nothing that was found is an error.
    pub outline: Option<(Outline, Words)>,
    /// For each session of the block, in order, what printing it found, and the files that
    /// points into.
    pub found: Vec<(Vec<Finding>, Vec<Source>)>,
}

/// Works every session of `block` out for `pool`.
pub fn gather(block: &CheckedBlock, pool: Pool, binding: &Binding) -> Gathered {
    let mut all_found = Vec::new();
    let mut words = None;
    let mut weeks = Vec::new();
    for week in &block.weeks {
        let mut sessions = Vec::new();
        for session in &week.sessions {
            let (mut found, mut sources) = (Vec::new(), session.sources.clone());
            let into = (&mut found, &mut sources);
            sessions.extend(worked(session, pool, binding, &mut words, into));
            all_found.push((found, sources));
        }
        weeks.push(of_week(week, sessions));
    }
    let faulty = all_found.iter().flat_map(|(found, _)| found).any(Finding::is_error);
    let outline = Outline {
        title: block.title.value.clone(),
        club: block.club.as_ref().map(|club| club.name.value.clone()),
        goal: block.goal.as_ref().map(|goal| goal.value),
        note: block.note.as_ref().map(|note| note.value.clone()),
        pool,
        weeks,
    };
    let outline = words.filter(|_| !faulty).map(|words| (outline, words));
    Gathered { outline, found: all_found }
}

fn of_week(week: &CheckedWeek, sessions: Vec<BinderSession>) -> BinderWeek {
    let title = week.title.as_ref().map(|title| title.value.clone());
    BinderWeek { number: week.number, title, easier: week.easier, sessions }
}

/// One session in `pool`; the first one's words are the binder's.
fn worked(
    session: &BlockSession,
    pool: Pool,
    binding: &Binding,
    words: &mut Option<Words>,
    (found, sources): (&mut Vec<Finding>, &mut Vec<Source>),
) -> Option<BinderSession> {
    let checked = &session.ready.session;
    let press = Press::set_up(checked, sources, &Wishes::default(), found)?;
    let press = press.on(binding.card_stock());
    let mut version = Version::of(checked, pool);
    // Day and time as the block has them: its entry's own, else the file's, else the usual ones.
    for plan in std::iter::once(&mut version.plan).chain(&mut version.lanes) {
        plan.date = session.date;
        if let Some(starts) = session.starts {
            plan.start_at(starts);
        }
    }
    let cards = press.cards(&version, found);
    words.get_or_insert_with(|| press.words().clone());
    let plan = &version.plan;
    Some(BinderSession {
        title: plan.title.value.clone(),
        date: plan.date,
        distance: plan.distance(),
        is_about: plan.is_about(),
        longest: longest_swim(plan),
        cards,
    })
}
