//! Findings one a line: `path:line:col: severity[id]: title`.

use std::fmt::Write;

use super::{Finding, visible};
use crate::source::Source;

/// One line for each finding.
pub fn render(findings: &[Finding], sources: &[Source]) -> String {
    let mut out = String::new();
    for finding in findings {
        let place = finding.place();
        let source = sources.get(place.map_or(0, |place| place.file.0));
        let path = visible::line(source.map_or("", Source::path));
        // Writing to a string cannot fail.
        let _ = match (source, place) {
            (Some(source), Some(place)) => {
                let at = source.position(place.start);
                write!(out, "{path}:{}:{}: ", at.line, at.column)
            }
            _ => write!(out, "{path}: "),
        };
        let _ = writeln!(
            out,
            "{}[{}]: {}",
            finding.severity.text(),
            finding.rule.id,
            visible::line(&finding.title)
        );
    }
    out
}
