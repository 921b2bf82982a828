//! Rounds: their heads, what stands behind how often, and their rests.

use super::super::builder::Ends;
use super::super::plain::Plain;
use super::super::rules::TWO_READINGS;
use super::super::set::place;
use super::super::times::Often;
use super::super::word::{Word, words};
use super::super::{set, sets, times};
use super::written::{Written, unclosed};
use super::{Lines, begins};
use crate::finding::{Finding, Placed};
use crate::measure::{LIMITS, Seconds};
use crate::reader::value::OwnWords;
use crate::session::words::EffortWord;
use crate::session::{Line, RestSaid, Rounds};

impl Lines<'_> {
    /// Rounds, and what stands behind how often they are swum.
    pub(super) fn open_rounds(
        &mut self,
        plain: &Plain,
        words: &[Word<'_>],
        often: &Often,
        line: &Written,
        ends: Ends,
    ) {
        let end = words.get(often.words - 1).map_or(0, |word| word.span.end);
        let at = plain.source(often.span.clone());
        let rest = plain.slice(end..plain.text().len());
        let rest_text = rest.text().trim_start_matches([':', ',', ')', '-', ' ']);
        let rest = rest.slice(rest.text().len() - rest_text.len()..rest.text().len());
        // "x 2" behind what was read may be of the last set or of all.
        let behind = words.first().is_some_and(|word| word.is_any(&["x", "twice"])) && ends != Ends::Part
            // "Twice through:" is the head of what follows.
            && words.last().is_none_or(|word| word.text != ":");
        if behind {
            return self.count_behind(plain, often);
        }
        match rest.text().chars().next() {
            Some(sign @ ('{' | '(')) if unclosed(rest.text()) => {
                self.builder.open(often.count, at, Ends::Sign(if sign == '{' { '}' } else { ')' }));
                let rest = rest.slice(1..rest.text().len());
                if !rest.is_blank() {
                    self.sentence(&rest, line, false);
                }
            }
            _ => {
                self.builder.open(often.count, at, ends);
                let (rest, efforts) = round_efforts(&rest, self.own);
                self.builder.efforts(efforts);
                if begins(&rest) {
                    // All of it on the line.
                    self.sets(&rest, line);
                    self.builder.close(|found| found == ends);
                } else if let Some(time) = rest_said(&rest, &super::super::word::words(rest.text()))
                {
                    self.builder.rest_between(time);
                } else if !rest.is_blank() {
                    self.builder.push(Line::Remark(Placed::new(
                        rest.text().to_owned(),
                        place(rest.whole()),
                    )));
                }
            }
        }
    }

    /// "x 2" on a line of its own: of the set before where there is one only.
    pub(super) fn count_behind(&mut self, plain: &Plain, often: &Often) {
        let sets = self.builder.here().map_or(0, |lines| {
            lines.iter().filter(|line| !matches!(line, Line::Remark(_))).count()
        });
        if sets == 1 {
            self.builder.wrap(often.count, plain.source(often.span.clone()));
            return;
        }
        let title = format!("\"{}\" may be of the last set or of all before it", plain.text());
        self.found.push(
            Finding::new(&TWO_READINGS, title)
                .label(place(plain.whole()), "")
                .help("write how often before what is swum: 2 x (4 x 50 free, 100 back)"),
        );
    }

    pub(super) fn behind_rounds(&mut self, behind: &Plain, line: &Written) {
        if behind.is_blank() {
            return;
        }
        let start =
            behind.text().len() - behind.text().trim_start_matches([',', '-', ':', ' ']).len();
        let behind = behind.slice(start..behind.text().len());
        // "1 min between rounds, lane 3 do two": each piece by itself.
        if let Some(comma) = behind.text().find(", ") {
            self.behind_rounds(&behind.slice(0..comma), line);
            return self.behind_rounds(&behind.slice(comma..behind.text().len()), line);
        }
        let rest = between_rounds(&behind).or_else(|| {
            match set::clauses_alone(&behind, self.own)?.rest? {
                Placed { value: RestSaid::Of(time), place } => Some(Placed::new(time, place)),
                _ => None,
            }
        });
        match (rest, self.builder.last_rounds()) {
            (Some(rest), Some(Rounds { rest: between @ None, .. })) => *between = Some(rest),
            _ if behind.text().chars().any(char::is_alphanumeric) => {
                self.talk(&behind, line, false)
            }
            _ => {}
        }
    }
}

/// "2 rounds, steady / quick": how hard each is, and what else stands there.
fn round_efforts(rest: &Plain, own: &OwnWords) -> (Plain, Vec<Placed<EffortWord>>) {
    let start = rest.text().rfind(',').map_or(0, |comma| comma + 1);
    let text = rest.text().get(start..).unwrap_or_default();
    let mut at = start;
    let mut efforts = Vec::new();
    for word in text.split('/') {
        let Some(effort) = EffortWord::from_club_spelling(word.trim(), own) else {
            return (rest.clone(), Vec::new());
        };
        efforts.push(Placed::new(effort, place(rest.source(at..at + word.len()))));
        at += word.len() + 1;
    }
    if efforts.len() < 2 {
        return (rest.clone(), Vec::new());
    }
    (rest.slice(0..start.saturating_sub(1)), efforts)
}

/// "[8 x 25 kick, 100 easy] x 2": sets in brackets, how often, and what stands behind.
pub(super) fn rounds_behind(plain: &Plain, words: &[Word<'_>]) -> Option<(Plain, Often, Plain)> {
    let first = words.first().filter(|word| matches!(word.text, "(" | "[" | "{"))?;
    let close = sets::closing(words, 0)?;
    let often = times::often(words.get(close + 1..)?)?;
    let inner = plain.slice(first.span.end..words.get(close)?.span.start);
    let behind = plain.slice(often.span.end..plain.text().len());
    begins(&inner).then_some((inner, often, behind))
}

/// The rest between rounds: "1 min between rounds", "(1 min extra after each rd)".
pub(super) fn between_rounds(plain: &Plain) -> Option<Placed<Seconds>> {
    let words = words(plain.text());
    let rounds = words.iter().any(|word| word.is_any(&ROUNDS));
    if rounds { rest_said(plain, &words) } else { None }
}

/// Words for rounds beside their rest.
const ROUNDS: [&str; 11] =
    ["round", "rounds", "rd", "rds", "ladders", "sets", "set", "circuit", "blocks", "block", "lap"];

/// The rest that is said behind the head of rounds, which need not name them: "30 s rest after each".
fn rest_said(plain: &Plain, words: &[Word<'_>]) -> Option<Placed<Seconds>> {
    let text = plain.text();
    let rest = ["between", "btw", "b/w", "after", "extra", "rest", "each"];
    if !words.iter().any(|word| word.is_any(&rest)) || words.len() > 10 {
        return None;
    }
    let at = words.iter().position(|word| {
        word.text.starts_with(|sign: char| sign.is_ascii_digit() || sign == ':')
    })?;
    let first = words.get(at)?;
    let unit = words.get(at + 1).filter(|word| {
        word.is_any(&["s", "sec", "secs", "seconds", "min", "mins", "minute", "minutes"])
    });
    let span = first.span.start..unit.unwrap_or(first).span.end;
    let said = text.get(span.clone())?;
    let said = said.strip_prefix(':').map_or(said.to_owned(), |seconds| format!("{seconds} s"));
    let time: Seconds = crate::reader::value::likely_time(&said)?.parse().ok()?;
    let within = LIMITS.rest_s.holds(u64::from(time.get()));
    within.then(|| Placed::new(time, place(plain.source(span))))
}
