//! The head of a drafted file, proved before anything is sought.

use crate::advice::advise;
use crate::advice::booking::{OVER_BOOKED, UNDER_BOOKED};
use crate::advice::shares::PART_SHARE;
use crate::advice::wording::rule_on;
use crate::check::wording::{CautionKind, cautions_of};
use crate::check::{CheckedSession, check};
use crate::draft::script::Script;
use crate::draft::{DraftError, Open};
use crate::finding::{FileId, Finding, Rule};
use crate::plan::Version;
use crate::rules;
use crate::session::read;
use crate::source::Source;

/// Findings about a session's sums, which the head alone cannot answer for.
static SUMS: [&Rule; 3] = [&OVER_BOOKED, &UNDER_BOOKED, &PART_SHARE];

/// Checks a text as a session file; the session, if it holds together, and what is found.
pub(super) fn findings_of(text: &str, open: Open<'_>) -> (Option<CheckedSession>, Vec<Finding>) {
    let reading = read(Source::new("draft.toml", text), open);
    let mut findings = reading.findings;
    let session = reading.session.and_then(|session| check(session, &mut findings));
    if let Some(session) = &session {
        advise(session, &Version::of(session, session.pool.value), rules::all(), &mut findings);
    }
    (session, findings)
}

/// A plain session with the wish's head, checked: bands, factors and changeover are asked
/// of it, and a head that could never pass is reported before anything is sought.
pub(super) fn head(script: &Script<'_>, open: Open<'_>) -> Result<CheckedSession, DraftError> {
    let head = script.bare_head();
    let part = |kind: &str, repeats: u32, cue: &str| {
        format!(
            "[[part]]\nkind = \"{kind}\"\nsets = [{{ swim = \"{repeats} x 2 lengths\", rest = \"20 s\"{cue} }}]\n"
        )
    };
    // The focus itself as a cue, taken from the head's own line.
    let focus = head.lines().find_map(|line| line.strip_prefix("focus")).unwrap_or_default();
    let cue = format!(", cue{focus}");
    let text =
        [head.clone(), part("warm-up", 1, ""), part("main set", 4, &cue), part("cool-down", 1, "")]
            .concat();
    let (session, findings) = findings_of(&text, open);
    let about_head = findings.into_iter().find(|finding| {
        let place = finding.place();
        !SUMS.contains(&finding.rule)
            && place
                .is_none_or(|place| place.file != FileId::MAIN || place.span().start < head.len())
    });
    match (session, about_head) {
        (Some(session), None) => Ok(session),
        (_, Some(finding)) => {
            if let Some(cautioned) = cautioned(script, &finding) {
                return Err(cautioned);
            }
            Err(DraftError::Head { title: finding.title, help: finding.help.into_iter().next() })
        }
        (None, None) => {
            Err(DraftError::Head { title: "this wish makes no session".to_owned(), help: None })
        }
    }
}

/// The wish's wording that a finding of a caution is about; a draft prints no cautions.
fn cautioned(script: &Script<'_>, finding: &Finding) -> Option<DraftError> {
    let kind = CautionKind::ALL.into_iter().find(|kind| finding.rule == rule_on(*kind))?;
    let texts = [("focus", script.skill.focus.clone()), ("title", script.title())];
    let of_kind = texts.into_iter().find(|(_, text)| cautions_of(text).contains(&kind));
    of_kind.map(|(key, text)| DraftError::Cautioned { key, text, kind })
}
