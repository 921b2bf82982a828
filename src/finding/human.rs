//! Findings drawn over the lines of the file.

use annotate_snippets::{AnnotationKind, Group, Level, Origin, Renderer, Snippet};

use super::excerpt::Excerpt;
use super::{Finding, Label, Severity, visible};
use crate::source::Source;

/// Draws findings one below the other, in colour (ANSI sequences) if asked. Places whose file is
/// not among `sources` are left out.
pub fn render(findings: &[Finding], sources: &[Source], colour: bool) -> String {
    let renderer = if colour { Renderer::styled() } else { Renderer::plain() };
    let mut out = String::new();
    for finding in findings {
        out.push_str(&renderer.render(&[group(finding, sources)]));
        out.push_str("\n\n");
    }
    out
}

fn group<'a>(finding: &'a Finding, sources: &'a [Source]) -> Group<'a> {
    let level = match finding.severity {
        Severity::Error => Level::ERROR,
        Severity::Warning => Level::WARNING,
        Severity::Note => Level::NOTE,
    };
    let title = visible::line(&finding.title);
    let mut group = Group::with_title(level.primary_title(title).id(finding.rule.id));
    // One snippet for each file, the main place's file first.
    let mut files: Vec<usize> = Vec::new();
    for label in &finding.labels {
        if !files.contains(&label.place.file.0) {
            files.push(label.place.file.0);
        }
    }
    for &file in &files {
        if let Some(source) = sources.get(file) {
            let spans: Vec<_> = labels(finding, file)
                .map(|label| inside(label.place.span(), source.text()))
                .collect();
            let excerpt = Excerpt::new(source.text(), &spans);
            if let Some(first) = labels(finding, file).next().filter(|_| excerpt.is_cut) {
                group = group.element(origin(first, source));
            }
            group = group.element(snippet(finding, &excerpt, source, file));
        }
    }
    // A fault without a place in the text is the file's own.
    if files.iter().all(|file| sources.get(*file).is_none())
        && let Some(source) = sources.first()
    {
        group = group.element(Origin::path(visible::line(source.path())));
    }
    for help in &finding.help {
        group = group.element(Level::HELP.message(visible::lines(help)));
    }
    group
}

fn snippet<'a>(
    finding: &'a Finding,
    excerpt: &Excerpt,
    source: &'a Source,
    file: usize,
) -> Snippet<'a, annotate_snippets::Annotation<'a>> {
    let main = finding.place();
    let annotations = labels(finding, file).filter_map(|label| {
        let kind = if Some(label.place) == main {
            AnnotationKind::Primary
        } else {
            AnnotationKind::Context
        };
        let span = excerpt.span(&inside(label.place.span(), source.text()))?;
        let annotation = kind.span(span);
        Some(match label.text.is_empty() {
            true => annotation,
            false => annotation.label(visible::line(&label.text)),
        })
    });
    let text = visible::in_place(&excerpt.text).into_owned();
    let snippet = Snippet::source(text).line_start(excerpt.first_line).annotations(annotations);
    match excerpt.is_cut {
        true => snippet,
        false => snippet.path(visible::line(source.path())),
    }
}

fn labels(finding: &Finding, file: usize) -> impl Iterator<Item = &Label> {
    finding.labels.iter().filter(move |label| label.place.file.0 == file)
}

/// Where a finding is, for lines that are cut: the column is that of the whole line.
fn origin<'a>(first: &Label, source: &'a Source) -> Origin<'a> {
    let at = source.position(first.place.start);
    Origin::path(visible::line(source.path())).line(at.line).char_column(at.column)
}

/// The span, kept inside the text and on its letters.
fn inside(span: std::ops::Range<usize>, text: &str) -> std::ops::Range<usize> {
    let on_letter = |mut at: usize| {
        at = at.min(text.len());
        while !text.is_char_boundary(at) {
            at -= 1;
        }
        at
    };
    let start = on_letter(span.start);
    start..on_letter(span.end).max(start)
}
