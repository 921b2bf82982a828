//! The list of gear against what the sets use.

use super::{Subject, advice};
use crate::finding::{Finding, Placed, Severity};
use crate::reader::quoted_list;
use crate::session::words::same_gear;

advice! {
    GEAR_UNUSED by gear_unused {
        id: "gear-unused",
        severity: Severity::Note,
        summary: "gear is listed and no set uses it",
        why: "Everybody carries fins to the pool for nothing, and trusts the list less next time.",
        unworried: "If it is worn throughout, as a tow float is, or is for one swimmer: most lists have such a \
                    piece, so this is a note.",
        before: "gear = [\"board\", \"fins\"] and no set with fins",
        after: "gear = [\"board\"]",
        source: "Common practice, no source.",
    }

    GEAR_UNLISTED by gear_unlisted {
        id: "gear-unlisted",
        severity: Severity::Warning,
        summary: "a set uses gear that the list leaves out",
        why: "Half the lane stands at the wall without a board.",
        unworried: "If the pool lends it. Without a list of gear in the session nothing is reported.",
        before: "gear = [\"fins\"] ... { ..., gear = [\"board\"] }",
        after: "gear = [\"fins\", \"board\"]",
        source: "Common practice, no source.",
    }
}

/// Whether two words mean one piece: the kickboards are the board, a buoy is the pull buoy. One
/// name ends with the other, but for capitals and an s at its end.
fn same(a: &Placed<String>, b: &Placed<String>) -> bool {
    let bare = |name: &str| name.trim().to_lowercase().trim_end_matches('s').to_owned();
    let (a, b) = (bare(&a.value), bare(&b.value));
    let ends = |long: &str, short: &str| !short.is_empty() && long.ends_with(short);
    same_gear(&a, &b) || ends(&a, &b) || ends(&b, &a)
}

fn gear_unused(subject: &Subject<'_>, found: &mut Vec<Finding>) {
    let spots = subject.spots();
    for listed in &subject.session.gear {
        if spots.iter().flat_map(|spot| &spot.set.gear).any(|used| same(used, listed)) {
            continue;
        }
        found.push(
            Finding::new(&GEAR_UNUSED, format!("no set uses the {}", listed.value))
                .label(listed.place, "listed here")
                .help(format!(
                    "take it off the list, or write in a set: gear = [\"{}\"]",
                    listed.value
                )),
        );
    }
}

fn gear_unlisted(subject: &Subject<'_>, found: &mut Vec<Finding>) {
    // A session without a list goes by what there usually is.
    let usual = subject.session.club.as_ref().map(|club| &club.gear);
    let own = &subject.session.gear;
    let listed = usual.filter(|_| own.is_empty()).unwrap_or(own);
    let Some(last) = listed.last() else { return };
    let spots = subject.spots();
    let mut reported: Vec<&Placed<String>> = Vec::new();
    for used in spots.iter().flat_map(|spot| &spot.set.gear) {
        if listed.iter().chain(reported.iter().copied()).any(|known| same(known, used)) {
            continue;
        }
        reported.push(used);
        let all = listed.iter().chain([used]).map(|piece| piece.value.as_str());
        found.push(
            Finding::new(&GEAR_UNLISTED, format!("the list of gear leaves out the {}", used.value))
                .label(used.place, "used here")
                .label(last.place, "the list ends here")
                .help(format!("write: gear = {}", quoted_list(all))),
        );
    }
}
