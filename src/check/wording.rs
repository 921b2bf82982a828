//! Wordings that call for a caution on the card: holding the breath, dives, and kicking upright
//! where the water may be deep.
//!
//! What they are is data: a list for each language in `templates/cautions`, with its sources. Every
//! list is searched whatever language a card is in, for a coach writes cues in any. No list knows
//! all wordings there are.

mod lists;
mod phrase;
mod tokens;

use super::{CheckedLine, CheckedSession, each_set};
use crate::finding::{Place, Placed};
use crate::reader::trade_words::TradeWord;

/// What a wording asks a caution for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum CautionKind {
    /// Holding the breath, breathing seldom, going under water.
    BreathHold,
    /// A dive or a start from above the water.
    Dive,
    /// Kicking upright or treading water, for which depth matters.
    Upright,
}

impl CautionKind {
    /// Every kind.
    pub const ALL: [CautionKind; 3] =
        [CautionKind::BreathHold, CautionKind::Dive, CautionKind::Upright];
}

/// A wording that calls for a caution.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Caution {
    /// The set it is printed beside.
    pub set: Place,
    /// The text it was found in.
    pub text: Place,
    /// Which.
    pub kind: CautionKind,
}

/// The cautions a line of text calls for, each kind once.
///
/// ```
/// use deckcard::check::wording::{CautionKind, cautions_of};
///
/// assert_eq!(cautions_of("race start, 15 m u/w"), [CautionKind::BreathHold, CautionKind::Dive]);
/// assert!(cautions_of("never hold your breath").is_empty());
/// ```
pub fn cautions_of(text: &str) -> Vec<CautionKind> {
    let tokens = tokens::tokens(text);
    let mut said = Vec::new();
    for list in lists::LISTS.iter() {
        list.said(&tokens, &mut said);
    }
    let harmless =
        |one: &lists::Said| said.iter().any(|other| other.is_harmless && one.is_inside(other));
    let calls = |kind: &CautionKind| {
        said.iter().any(|one| one.kind == *kind && !one.is_harmless && !harmless(one))
    };
    CautionKind::ALL.into_iter().filter(calls).collect()
}

/// Every caution of a session, from all that a swimmer reads of it: its title and focus, the names
/// of lanes, the titles of parts, cues and gear.
///
/// A part's title speaks for its first set; the session's title and focus and the lanes' names
/// for the first set of all.
pub fn cautions(session: &CheckedSession) -> Vec<Caution> {
    let mut cautions: Vec<Caution> = Vec::new();
    let mut whole = vec![&session.title];
    whole.extend(&session.focus);
    whole.extend(session.lanes.iter().map(|lane| &lane.name));
    for part in &session.parts {
        let mut heading = part.title.as_ref();
        each_set(&part.lines, 1, &mut |set, _| {
            let texts = whole.drain(..).chain(heading.take()).chain(&set.cue).chain(&set.gear);
            for text in texts {
                add(&mut cautions, set.place, text);
            }
            for movement in set.cycle.legs().filter_map(|leg| leg.movement) {
                let text = Placed::new(movement.text().to_owned(), set.swim_place);
                add(&mut cautions, set.place, &text);
            }
        });
        between_sets(&part.lines, &mut cautions);
    }
    cautions
}

/// What activities and remarks say, beside the set before them; before the first, beside that.
fn between_sets(lines: &[CheckedLine], cautions: &mut Vec<Caution>) {
    let mut first = None;
    each_set(lines, 1, &mut |set, _| first = first.or(Some(set.place)));
    let Some(mut beside) = first else { return };
    for line in lines {
        match line {
            CheckedLine::Set(set) => beside = set.place,
            CheckedLine::Activity(activity) => add(cautions, beside, &activity.what),
            CheckedLine::Remark(remark) => add(cautions, beside, remark),
            CheckedLine::Rounds { lines, .. } => between_sets(lines, cautions),
        }
    }
}

fn add(cautions: &mut Vec<Caution>, set: Place, text: &Placed<String>) {
    for kind in cautions_of(&text.value) {
        // One caution of a kind is enough beside one set.
        if !cautions.iter().any(|known| known.set == set && known.kind == kind) {
            cautions.push(Caution { set, text: text.place, kind });
        }
    }
}
