//! Findings as JSON, for editors and scripts.

use serde_json::{Value, json};

use super::{Finding, Place};
use crate::source::Source;

/// One object for each finding: `file`, `id`, `severity`, `title`, `line`, `column`, `labels`,
/// `help` and `edits`.
///
/// Lines and columns count from 1, columns in characters. Labels and edits have a range of their
/// own: `file`, `start` and `end` in bytes from 0, the end past the last, and the same as `line`,
/// `column`, `end_line`, `end_column`. What has no place has nulls.
pub fn array(findings: &[Finding], sources: &[Source]) -> Vec<Value> {
    findings.iter().map(|finding| object(finding, sources)).collect()
}

/// What is wrong with no place to show, as an object with the same keys: no rule found it.
pub fn without_a_place(file: Option<&str>, title: &str) -> Value {
    json!({
        "file": file,
        "id": null,
        "severity": "error",
        "title": title,
        "line": null,
        "column": null,
        "labels": [],
        "help": [],
        "edits": [],
    })
}

fn object(finding: &Finding, sources: &[Source]) -> Value {
    let file = finding.place().map_or(0, |place| place.file.0);
    let source = sources.get(file);
    let at = finding.place().and_then(|place| Some(source?.position(place.start)));
    let labels: Vec<Value> = finding
        .labels
        .iter()
        .map(|label| {
            let mut value = range(label.place, sources);
            value["text"] = json!(label.text);
            value
        })
        .collect();
    let edits: Vec<Value> = finding
        .edit
        .iter()
        .map(|edit| {
            let mut value = range(edit.place, sources);
            value["replacement"] = json!(edit.text);
            value
        })
        .collect();
    json!({
        "file": source.map(Source::path),
        "id": finding.rule.id,
        "severity": finding.severity.text(),
        "title": finding.title,
        "line": at.map(|at| at.line),
        "column": at.map(|at| at.column),
        "labels": labels,
        "help": finding.help,
        "edits": edits,
    })
}

fn range(place: Place, sources: &[Source]) -> Value {
    let source = sources.get(place.file.0);
    let position = |byte| source.map(|source| source.position(byte));
    let (start, end) = (position(place.start), position(place.end));
    json!({
        "file": source.map(Source::path),
        "start": place.start,
        "end": place.end,
        "line": start.map(|at| at.line),
        "column": start.map(|at| at.column),
        "end_line": end.map(|at| at.line),
        "end_column": end.map(|at| at.column),
    })
}
