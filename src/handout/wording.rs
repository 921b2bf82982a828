//! What the club says on the back in its own words, read for what calls for a caution.

use crate::advice::wording::finding;
use crate::check::wording::{CautionKind, cautions_of};
use crate::finding::{Finding, Place};
use crate::intake::Ready;
use crate::session::{Club, Notice};

/// The cautions a notice calls for. Its lines are read one by one, for "No running" is over where
/// its line ends, and as one text, for a sentence may go on below.
fn cautions_of_notice(notice: &Notice) -> Vec<CautionKind> {
    let mut kinds = cautions_of(&notice.lines.join(" "));
    kinds.extend(notice.lines.iter().flat_map(|line| cautions_of(line)));
    kinds.sort_unstable();
    kinds.dedup();
    kinds
}

/// The cautions that the club's name and its notice call for, each kind once.
pub(super) fn cautions(club: Option<&str>, notice: Option<&Notice>) -> Vec<CautionKind> {
    let mut kinds = club.map(cautions_of).unwrap_or_default();
    kinds.extend(notice.map(cautions_of_notice).unwrap_or_default());
    kinds.sort_unstable();
    kinds.dedup();
    kinds
}

/// Adds a finding on each kind once, however many sessions are the club's, to those of the session
/// whose club file says it, unless that session or its club allows it.
pub(super) fn add_findings(sessions: &[&Ready], findings: &mut [Vec<Finding>]) {
    let mut known: Vec<CautionKind> = Vec::new();
    for (index, place, kinds) in said(sessions).into_iter().flatten() {
        let (Some(ready), Some(findings)) = (sessions.get(index), findings.get_mut(index)) else {
            continue;
        };
        for kind in kinds {
            if known.contains(&kind) {
                continue;
            }
            known.push(kind);
            let found = finding(kind, place, "the hand-out prints a caution below the notice");
            let allows = &ready.session.allow;
            if !allows.iter().any(|allow| allow.finding.value == found.rule.id) {
                findings.push(found);
            }
        }
    }
}

/// What the notice and the name that are printed speak of: in which session, and where.
fn said(sessions: &[&Ready]) -> [Option<(usize, Place, Vec<CautionKind>)>; 2] {
    let clubs = || {
        let clubs = sessions.iter().map(|ready| ready.session.club.as_ref());
        clubs.enumerate().filter_map(|(index, club)| club.map(|club: &Club| (index, club)))
    };
    let notice = clubs().find_map(|(index, club)| {
        let notice = club.notice.as_ref()?;
        Some((index, notice.place, cautions_of_notice(&notice.value)))
    });
    let name = clubs().next();
    let name = name.map(|(index, club)| (index, club.name.place, cautions_of(&club.name.value)));
    [notice, name]
}
