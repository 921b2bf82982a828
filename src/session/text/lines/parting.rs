//! Headings, and what stands behind them: a sum, how often, a title, sets.

use super::super::builder::{DraftPart, Ends};
use super::super::heading::heading;
use super::super::plain::Plain;
use super::super::set::place;
use super::super::sums::Sum;
use super::super::word::{Word, words};
use super::super::{set, sets, sums, times};
use super::talk::in_quotes;
use super::written::Written;
use super::{Lines, Reach, begins, set_free};
use crate::finding::Placed;
use crate::reader::trade_words::TradeWord;
use crate::session::words::{Keep, PartKind};

impl Lines<'_> {
    /// A sum, or a bare number that is what was read so far.
    pub(super) fn sum(&self, plain: &Plain) -> Option<Sum> {
        if let Some(sum) = sums::stated(plain) {
            return Some(sum);
        }
        let (number, _, rest) = sums::number(plain.text())?;
        let bare = rest.trim_matches(['.', 'm', 'y', 'd', 's', ' ']).is_empty()
            || rest.starts_with(['+', '-', ',']);
        let sum = Sum { number, within: 0, lengths: false, whole: true, at: plain.whole() };
        let last = self.builder.parts.last().and_then(|part| part.kind);
        // Nobody swims down 2,000.
        let right = self.come_to() == number * 6 || last == Some(PartKind::CoolDown);
        (bare && number >= 1000 && self.builder.parts.len() > 1 && right).then_some(sum)
    }

    pub(super) fn note_sum(&mut self, sum: Sum) {
        let part = self.builder.parts.len();
        let lines = self.builder.parts.last().map_or(0, |part| part.lines.len());
        self.sums.push((sum, Reach { part, lines }));
    }

    /// A part that a short line titles, its sum behind a dash.
    pub(super) fn open_theme(&mut self, line: &Plain) {
        let dash =
            line.text().find(" - ").filter(|at| line.text().get(at + 3..).is_some_and(is_sum));
        let name = line.slice(0..dash.unwrap_or(line.text().len()));
        self.open_part(None, &name, true);
        if let Some(dash) = dash
            && let Some(sum) = part_sum(&line.slice(dash + 3..line.text().len()))
        {
            self.part_sum(sum);
        }
    }

    pub(super) fn open_part(&mut self, kind: Option<PartKind>, name: &Plain, titled: bool) {
        let text = name.text().trim_end_matches(':').trim();
        let title = titled.then(|| Placed::new(text.to_owned(), place(name.whole())));
        let place = place(name.whole());
        self.builder.part(DraftPart { kind, title, headed: true, ..DraftPart::at(place) });
    }

    /// What stands behind a heading: its sum, how often it is swum, a title, sets.
    pub(super) fn after_heading(&mut self, rest: &Plain, line: &Written) {
        let words = words(rest.text());
        let Some(first) = words.first() else { return };
        let from = |at: usize| {
            rest.slice(
                words.get(at).map_or(rest.text().len(), |word| word.span.start)..rest.text().len(),
            )
        };
        if matches!(first.text, ":" | "-" | "," | "." | ";" | ")") {
            return self.after_heading(&from(1), line);
        }
        if let Some(often) = times::often(&words) {
            return self.open_rounds(rest, &words, &often, line, Ends::Part);
        }
        if first.text == "("
            && let Some(close) = words.iter().position(|word| word.text == ")")
        {
            let inner =
                rest.slice(first.span.end..words.get(close).map_or(0, |word| word.span.start));
            let inner_words = super::super::word::words(inner.text());
            if let Some(often) = times::often(&inner_words) {
                self.open_rounds(&inner, &inner_words, &often, line, Ends::Part);
            } else if let Some(sum) = part_sum(&inner) {
                self.part_sum(sum);
            } else {
                self.talk(&inner, line, false);
            }
            return self.after_heading(&from(close + 1), line);
        }
        if first.text == "="
            && let Some(sum) = sums::stated(rest)
        {
            return self.part_sum(sum);
        }
        let unit = usize::from(words.get(1).is_some_and(|word| word.is_any(&["m", "yd", "yds"])));
        let colon = words.get(1 + unit).filter(|word| matches!(word.text, ":"));
        if let (Some(colon), Some(sum)) = (colon, part_sum(&rest.slice(0..first.span.end))) {
            self.part_sum(sum);
            return self.after_heading(&rest.slice(colon.span.start..rest.text().len()), line);
        }
        if let Some(title) = in_quotes(rest) {
            if let Some(part) = self.builder.parts.last_mut() {
                part.title = Some(Placed::new(title.text().to_owned(), place(title.whole())));
            }
            return;
        }
        let has_title = self.builder.parts.last().is_some_and(|part| part.title.is_some());
        if !begins(rest)
            && set_free(rest.text())
            && !has_title
            && set::clauses_alone(rest, self.own).is_none()
        {
            if let Some(part) = self.builder.parts.last_mut() {
                part.title = Some(Placed::new(rest.text().to_owned(), place(rest.whole())));
            }
            return;
        }
        self.sentence(rest, line, false);
    }

    pub(super) fn part_sum(&mut self, sum: Sum) {
        if let Some(part) = self.builder.parts.last_mut() {
            part.sum = Some(sum);
        }
    }

    pub(super) fn line_sum(&mut self, body: &Plain, sum: Sum) {
        let parted = sets::parted(body).map(|parted| parted.items.len()).unwrap_or(0);
        let lines = self.builder.here().map(|lines| {
            let from = lines.len().saturating_sub(parted);
            sums::sixths(lines.get(from..).unwrap_or_default(), None, None).unwrap_or(0)
        });
        if lines != Some(sum.number * 6) {
            self.note_sum(sum);
        }
    }

    /// "200 wd", "300 choice to warm up": the part a set begins stands behind it. The set alone.
    pub(super) fn part_behind(&mut self, plain: &Plain) -> Plain {
        let words = words(plain.text());
        let Some((kind, from)) = heading_behind(&words) else { return plain.clone() };
        let name =
            plain.slice(words.get(from).map_or(0, |word| word.span.start)..plain.text().len());
        if self.builder.parts.last().is_none_or(|part| part.kind != Some(kind)) {
            self.open_part(Some(kind), &name, false);
        }
        plain.slice(0..words.get(from).map_or(0, |word| word.span.start))
    }

    /// "keep: lengths" below a heading is of the part.
    pub(super) fn keep_of_part(&mut self, plain: &Plain) -> bool {
        let Some(part) = self.builder.parts.last_mut().filter(|part| part.lines.is_empty()) else {
            return false;
        };
        let keep = plain.text().split_once(':').filter(|(key, _)| key.eq_ignore_ascii_case("keep"));
        let Some(keep) = keep.and_then(|(_, keep)| Keep::from_text(keep)) else { return false };
        part.keep = Some(Placed::new(keep, place(plain.whole())));
        true
    }
}

/// The heading at the end of a set's line, and its first word.
fn heading_behind(words: &[Word<'_>]) -> Option<(PartKind, usize)> {
    (words.len().saturating_sub(3).max(1)..words.len()).find_map(|at| {
        let named = words.get(at..)?;
        let to = usize::from(named.first()?.is_any(&["to", "as"]) && named.len() > 1);
        let heading = heading(named.get(to..)?)?;
        let kind =
            heading.kind.filter(|kind| matches!(kind, PartKind::WarmUp | PartKind::CoolDown))?;
        (heading.words == named.len() - to).then_some((kind, at))
    })
}

/// The sum of a heading: "(500)", "600", "1,600".
fn part_sum(plain: &Plain) -> Option<Sum> {
    let (number, within, rest) = sums::number(plain.text().trim_start_matches(['(', '=', ' ']))?;
    let unit = rest.trim_matches([' ', ')', 'm', 'y', 'd', 's', '.']);
    unit.is_empty().then(|| Sum { number, within, lengths: false, whole: false, at: plain.whole() })
}

/// "- 1000" behind a heading: its sum, if sets follow, or a swim. The flag says that there is a dash.
pub(super) fn maybe_sum(behind: &Plain) -> Option<(Sum, bool)> {
    let dash = behind.text().starts_with('-');
    let start = behind.text().len() - behind.text().trim_start_matches(['-', ' ']).len();
    part_sum(&behind.slice(start..behind.text().len())).map(|sum| (sum, dash))
}

/// Whether a text is a number, with a unit or none.
pub(super) fn is_sum(text: &str) -> bool {
    sums::number(text.trim())
        .is_some_and(|(_, _, rest)| rest.trim_matches(['m', 'y', 'd', 's', '.', ' ']).is_empty())
}

/// A sum at the end of a line of sets: "5 x 200 @ 3:00 = 1000".
pub(super) fn tail_sum(plain: &Plain) -> Option<(Plain, Sum)> {
    let (body, sum) = plain.text().rsplit_once('=')?;
    let sum = part_sum(&plain.slice(plain.text().len() - sum.len()..plain.text().len()))?;
    Some((plain.slice(0..body.len()), sum))
}
