//! Reads the lines of a message one by one.

mod lanes;
mod parting;
mod rounds;
mod talk;
mod written;

use std::ops::Range;

use super::builder::{Builder, Ends};
use super::head::Head;
use super::heading::heading;
use super::plain::Plain;
use super::rules::{PIECES_OR_SETS, TEXT_NOT_UNDERSTOOD, TWO_READINGS};
use super::set::place;
use super::sets::{Doubt, Item};
use super::sums::Sum;
use super::word::{Word, words};
use super::{set, sets, sums, times};
use crate::finding::{Finding, Placed};
use crate::measure::Pool;
use crate::reader::value::OwnWords;
use crate::session::Line;
use lanes::lane_label;
use parting::{is_sum, maybe_sum, tail_sum};
use rounds::rounds_behind;
use talk::in_quotes;
use written::{Written, sentences, unopened};

/// What was read of a message.
pub(super) struct Lines<'o> {
    own: &'o OwnWords,
    pub head: Head,
    pub builder: Builder,
    pub found: Vec<Finding>,
    /// Lines that are no part of the session.
    pub kept_off: Vec<Range<usize>>,
    /// Lanes that sets are for, in their order.
    pub lanes: Vec<Placed<String>>,
    /// What is said of lanes: the name, and the rest of the line.
    pub lane_facts: Vec<(Placed<String>, Plain)>,
    /// Where remarks begin that stand in quotes: they are printed wherever they stand.
    pub meant: Vec<usize>,
    /// Sums that are to be held against what was read, each with what it came to.
    pub sums: Vec<(Sum, Reach)>,
    pool: Option<Pool>,
    /// The names of the club's lanes.
    club_lanes: Vec<String>,
    lane: Vec<Placed<String>>,
    last_indent: usize,
    /// Whether facts stand on the next line.
    before_facts: bool,
}

/// What a stated sum may be of.
#[derive(Clone, Copy, Debug)]
pub(super) struct Reach {
    /// How many parts there were, and how many lines of the last.
    pub part: usize,
    pub lines: usize,
}

/// Words that end rounds and begin what is swum once.
const THEN: [&str; 5] = ["then", "finally", "afterwards", "after", "lastly"];

impl<'o> Lines<'o> {
    /// Reads a whole text.
    pub fn of(text: &str, own: &'o OwnWords, pool: Option<Pool>, club_lanes: Vec<String>) -> Self {
        let mut lines = Self {
            own,
            pool,
            club_lanes,
            head: Head::default(),
            builder: Builder::default(),
            found: Vec::new(),
            kept_off: Vec::new(),
            lanes: Vec::new(),
            lane_facts: Vec::new(),
            meant: Vec::new(),
            sums: Vec::new(),
            lane: Vec::new(),
            last_indent: 0,
            before_facts: false,
        };
        let written = written::of(text);
        for (at, line) in written.iter().enumerate() {
            lines.line(line, written.get(at + 1));
        }
        lines.builder.close(|_| true);
        lines
    }

    fn line(&mut self, line: &Written, next: Option<&Written>) {
        if line.after_blank {
            self.builder.close(|ends| ends == Ends::Blank);
        }
        if let Some(ends @ Ends::Indent(_)) = self.builder.waiting() {
            // Rounds whose lines are not indented end at a blank line.
            if *ends == Ends::Indent(line.indent) {
                *ends = Ends::Blank;
            }
        }
        self.builder.close(|ends| matches!(ends, Ends::Indent(indent) if line.indent <= indent));
        let mut plain = line.plain.clone();
        let mut closes = Vec::new();
        while let Some(sign) = unopened(plain.text()) {
            closes.push(sign);
            plain = plain.slice(0..plain.text().len() - 1);
        }
        self.lane.clear();
        let theme = self.theme(line, next);
        self.before_facts = next.is_some_and(|next| {
            let plain = &next.plain;
            Head::default().facts(plain) || Head::default().key_line(plain)
        });
        let mut behind_sum = false;
        for (at, sentence) in sentences(&plain).into_iter().enumerate() {
            match theme {
                true => self.open_theme(&sentence),
                // What follows a sum speaks of no set.
                false => self.sentence(&sentence, line, at > 0 && !behind_sum),
            }
            behind_sum |= self.sum(&sentence).is_some();
        }
        for sign in closes.into_iter().rev() {
            if !self.builder.close_sign(sign) && !plain.is_blank() {
                self.kept_off.push(plain.whole());
            }
        }
    }

    /// Whether a short line without a number, right before sets and behind a blank line, titles a part.
    fn theme(&self, line: &Written, next: Option<&Written>) -> bool {
        let text = line.plain.text().trim_end_matches(':');
        // A sum may stand behind: "Swim out - 200 m".
        let text =
            text.split_once(" - ").filter(|(_, sum)| is_sum(sum)).map_or(text, |(name, _)| name);
        let short = text.split_whitespace().count() <= 3
            && set_free(text)
            && !text.ends_with(['.', '!', '?', ',']);
        let before_sets =
            next.is_some_and(|next| !next.after_blank && sets::begins_set(next.plain.text()));
        let alone = !self.builder.parts.is_empty() && line.after_blank && !self.builder.in_rounds();
        let known = heading(&words(line.plain.text())).is_some();
        let clause = || set::clauses_alone(&line.plain, self.own).is_some();
        let then = words(text).first().is_some_and(|word| word.is_any(&THEN));
        short
            && before_sets
            && alone
            && !known
            && !then
            && lane_label(&words(line.plain.text())).is_none()
            && !clause()
    }

    fn sentence(&mut self, plain: &Plain, line: &Written, continues: bool) {
        let counted = set::counted_in_words(plain);
        if let Some(plain) = counted {
            return self.sentence(&plain, line, continues);
        }
        let words = words(plain.text());
        let Some(first) = words.first() else { return };
        if first.is_any(&THEN) {
            self.builder.close(|ends| matches!(ends, Ends::Blank | Ends::Part));
        }
        if first.is_any(&["then", "and", "plus", "finally", ",", "&", "+"]) && words.len() > 1 {
            return self.sentence(
                &plain.slice(first.span.end..plain.text().len()),
                line,
                continues,
            );
        }
        if !continues && let Some(remark) = in_quotes(plain) {
            return self.meant(&remark);
        }
        if self.keep_of_part(plain) {
            return;
        }
        if let Some((names, taken)) = self.lane_label(&words) {
            return self.of_lane(plain, &words, (names, taken), line);
        }
        if let Some(heading) = heading(&words) {
            let name_end = words.get(heading.words - 1).map_or(0, |word| word.span.end);
            self.open_part(heading.kind, &plain.slice(0..name_end), heading.kind.is_none());
            let behind = plain.slice(name_end..plain.text().len());
            if let Some(part) = self.builder.parts.last_mut() {
                part.maybe_sum = maybe_sum(&behind);
            }
            return self.after_heading(&behind, line);
        }
        if !continues && self.builder.parts.is_empty() && self.head.key_line(plain) {
            return;
        }
        if let Some(often) = times::often(&words) {
            return self.open_rounds(plain, &words, &often, line, Ends::Indent(line.indent));
        }
        if let Some(often) = times::head_in_words(&words) {
            return self.open_rounds(plain, &words, &often, line, Ends::Indent(line.indent));
        }
        if let Some(often) = times::all_again(&words)
            && self.builder.wrap(often.count, plain.source(often.span.clone()))
        {
            return;
        }
        if let Some(sum) = self.sum(plain) {
            return self.note_sum(sum);
        }
        let at_head = self.builder.parts.is_empty() && !self.builder.in_rounds();
        if at_head && (continues || self.head_only(plain)) && !sets::begins_counted(plain.text()) {
            return self.talk(plain, line, continues);
        }
        if sets::is_by_slashes(first.text) {
            return self.found.push(two_readings(plain, &by_slashes(&words)));
        }
        if let Some(laps) = laps(&words) {
            return self.found.push(two_readings(plain, &laps));
        }
        if let Some((inner, often, behind)) = rounds_behind(plain, &words) {
            self.builder.open(often.count, plain.source(often.span), Ends::Sign(')'));
            self.sets(&inner, line);
            self.builder.close_sign(')');
            return self.behind_rounds(&behind, line);
        }
        if begins(plain) {
            let body = self.part_behind(plain);
            return self.sets(&body, line);
        }
        self.no_set(plain, &words, line, continues);
    }

    /// Whether a line is facts and nothing else.
    fn head_only(&self, plain: &Plain) -> bool {
        Head::default().facts(plain)
    }

    /// What was read so far, in sixths.
    fn come_to(&self) -> u64 {
        let lane = self.lanes.first().map(|lane| lane.value.as_str());
        let parts = self.builder.parts.iter();
        parts
            .filter_map(|part| sums::sixths(&part.lines, self.pool, lane))
            .fold(0, u64::saturating_add)
    }

    /// The sets of a line.
    fn sets(&mut self, plain: &Plain, line: &Written) {
        let plain = match tail_sum(plain) {
            Some((body, sum)) => {
                let before = self.come_to();
                self.sets(&body, line);
                let come_to = self.come_to().saturating_sub(before);
                // A sum that is this line's own is held against it alone.
                if self.builder.in_rounds() || come_to != sum.number * 6 {
                    self.line_sum(&body, sum);
                }
                return;
            }
            None => plain.clone(),
        };
        match sets::parted(&plain) {
            Ok(parted) => {
                for span in parted.adds_up {
                    self.pieces_or_sets(&plain, span);
                }
                parted.items.into_iter().for_each(|item| self.item(item, line));
                self.last_indent = line.indent;
            }
            Err(doubt) => self.found.push(two_readings(&plain, &doubt)),
        }
    }

    fn pieces_or_sets(&mut self, plain: &Plain, span: Range<usize>) {
        let pieces = plain.text().get(span.clone()).unwrap_or_default().to_owned();
        self.found.push(
            Finding::new(
                &PIECES_OR_SETS,
                format!("\"{pieces}\" may be pieces of the swim before, or sets"),
            )
            .label(place(plain.source(span)), "they add up to it")
            .help("put pieces in brackets behind their swim, and sets on lines of their own"),
        );
    }

    fn item(&mut self, item: Item, line: &Written) {
        match item {
            Item::Set(plain) => self.set(&plain),
            Item::Open { count, count_at, inner, closes } => {
                self.builder.open(count, count_at, Ends::Sign(closes));
                if !inner.is_blank() {
                    self.sentence(&inner, line, false);
                }
            }
            Item::Rounds { count, count_at, inner, behind } => {
                self.builder.open(count, count_at, Ends::Sign(')'));
                self.sets(&inner, line);
                self.builder.close_sign(')');
                self.behind_rounds(&behind, line);
            }
        }
    }

    fn set(&mut self, plain: &Plain) {
        match set::read(plain, self.own, self.pool) {
            Ok(read) => {
                if let Some(kept) = read.found.iter().find(|kept| speaks_of_send_off(&kept.title)) {
                    let at = kept.place().unwrap_or(place(plain.whole()));
                    self.found.push(not_understood(plain, at, "this is no time"));
                    return;
                }
                self.found.extend(read.found);
                let mut read = read.line;
                if let Line::Set(set) = &mut read {
                    set.lanes.clone_from(&self.lane);
                    let quoted = |cue: &str| plain.text().contains(&format!("\"{cue}\""));
                    if let Some(cue) = set.cue.as_ref().filter(|cue| !quoted(&cue.value)) {
                        self.held_in(&cue.value.clone(), cue.place);
                    }
                }
                self.builder.push(read);
            }
            Err((_, span)) => {
                self.found.push(not_understood(plain, place(span), "this begins like a set"))
            }
        }
    }
}

/// "300/200/100 easy": one after the other, or by lane.
fn by_slashes(words: &[Word<'_>]) -> Doubt {
    let behind: Vec<&str> = words.iter().skip(1).map(|word| word.text).collect();
    let behind = behind.join(" ");
    let steps = words.first().map_or("", |word| word.text);
    let lanes =
        steps.split('/').enumerate().map(|(at, step)| format!("Lane {}: {step} {behind}", at + 1));
    let lanes: Vec<String> = lanes.map(|line| line.trim().to_owned()).collect();
    Doubt { one: format!("{} {behind}", steps.replace('/', "; ")), other: lanes.join("\n") }
}

/// "10 laps": a lap is a length to some, and there and back to others.
fn laps(words: &[Word<'_>]) -> Option<Doubt> {
    let at = words.iter().position(|word| word.is_any(&["lap", "laps"]))?;
    let first = at.checked_sub(1).and_then(|at| words.get(at))?;
    let laps = first.number()?;
    let count = match words.first().and_then(Word::number) {
        Some(count) if at == 3 => format!("{count} x "),
        Some(_) if at == 1 => String::new(),
        _ => return None,
    };
    let behind: Vec<&str> = words.iter().skip(at + 1).map(|word| word.text).collect();
    let behind = behind.join(" ");
    Some(Doubt {
        one: format!("{count}{laps} lengths {behind}"),
        other: format!("{count}{} lengths {behind}", laps * 2),
    })
}

fn not_understood(plain: &Plain, at: crate::finding::Place, what: &str) -> Finding {
    Finding::new(&TEXT_NOT_UNDERSTOOD, format!("\"{}\" is not understood", plain.text()))
        .label(at, what)
        .help("write a set as 4 x 50 free, rest 20 s; begin a line that is not swum with //")
}

/// Whether words that were kept hold a send-off that is no time: "@ 1:75".
fn speaks_of_send_off(kept: &str) -> bool {
    let words: Vec<&str> = kept.split_whitespace().map(|word| word.trim_matches('"')).collect();
    words.windows(2).any(|pair| {
        let clock = pair[1].contains(':')
            && pair[1].starts_with(|sign: char| sign.is_ascii_digit() || sign == ':');
        matches!(pair[0], "@" | "on" | "off") && clock
    })
}

fn two_readings(plain: &Plain, doubt: &Doubt) -> Finding {
    Finding::new(&TWO_READINGS, format!("\"{}\" has two readings", plain.text()))
        .label(place(plain.whole()), "")
        .help(format!("write one of them:\n{}\n{}", doubt.one.trim(), doubt.other.trim()))
}

/// The facts that lines without a set say, without reading any set.
pub(super) fn head_of(text: &str) -> Head {
    let mut head = Head::default();
    let mut at_head = true;
    for line in written::of(text).iter().filter(|line| !begins(&line.plain)) {
        at_head &= heading(&words(line.plain.text())).is_none();
        if at_head && (head.key_line(&line.plain) || head.facts(&line.plain)) {
            continue;
        }
        head.spoken(&line.plain);
    }
    head
}

/// Whether a text begins with a set.
fn begins(plain: &Plain) -> bool {
    sets::begins_set(plain.text())
}

fn set_free(text: &str) -> bool {
    text.contains(char::is_alphabetic) && !text.contains(|sign: char| sign.is_ascii_digit())
}
