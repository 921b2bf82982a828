//! Warnings the coach means.

use crate::finding::{FileId, Finding, Rule, Severity, rules};
use crate::reader::{nearest, offer, quoted};
use crate::session::Allow;

rules! {
    NEEDLESS_ALLOW {
        id: "needless-allow",
        severity: Severity::Note,
        summary: "the session allows a warning that is not there",
        why: "An old excuse, left in the file, silences the warning on the day it is needed.",
        unworried: "Never; take the line out. A club file may allow what only some sessions need.",
        before: "allow = [{ finding = \"part-share\", because = \"time-trial night\" }] in a usual session",
        after: "(the line left out)",
        source: "A choice of this program.",
    }

    UNKNOWN_ALLOW {
        id: "unknown-allow",
        severity: Severity::Warning,
        summary: "allow names no warning or note there is, or an error",
        why: "A misspelt id allows nothing, and errors cannot be allowed: no honest card can be printed \
              past them.",
        unworried: "Never.",
        before: "allow = [{ finding = \"part-shares\", because = \"time-trial night\" }]",
        after: "allow = [{ finding = \"part-share\", because = \"time-trial night\" }]",
        source: "A choice of this program.",
    }
}

/// Takes away what is allowed, and reports allows that allow nothing. `all` are the rules there
/// are, of every stage: an allow may name a warning that another stage finds.
pub fn apply(allows: &[Allow], all: &[&Rule], findings: &mut Vec<Finding>) {
    let mut amiss = Vec::new();
    for allow in allows {
        let id = allow.finding.value.as_str();
        match all.iter().find(|rule| rule.id == id) {
            None => amiss.push(unknown(allow, id, all)),
            Some(rule) if rule.severity == Severity::Error => amiss.push(
                Finding::new(&UNKNOWN_ALLOW, format!("{id} is an error and cannot be allowed"))
                    .label(allow.finding.place, "")
                    .help("put right what it reports"),
            ),
            Some(_) => {
                let silences = findings.iter().any(|finding| finding.rule.id == id);
                if !silences && allow.place.file == FileId::MAIN {
                    amiss.push(
                        Finding::new(&NEEDLESS_ALLOW, format!("there is no {id} to allow"))
                            .label(allow.place, "")
                            .help("take this entry out"),
                    );
                }
            }
        }
    }
    findings.retain(|finding| {
        finding.is_error() || !allows.iter().any(|allow| allow.finding.value == finding.rule.id)
    });
    findings.append(&mut amiss);
}

fn unknown(allow: &Allow, id: &str, all: &[&Rule]) -> Finding {
    let finding = Finding::new(&UNKNOWN_ALLOW, format!("there is no finding \"{id}\""))
        .label(allow.finding.place, "");
    match nearest(id, all.iter().map(|rule| rule.id)) {
        Some(near) => {
            let finding = finding.help(format!("write: finding = \"{near}\""));
            offer(finding, allow.finding.place, id, quoted(near))
        }
        None => finding.help("deckcard explain lists them all"),
    }
}
