//! Reads the lines of a message one by one.

use std::ops::Range;

use super::builder::{Builder, DraftPart, Ends};
use super::head::Head;
use super::heading::heading;
use super::plain::Plain;
use super::rules::{MAY_BE_SWUM, PIECES_OR_SETS, TEXT_NOT_UNDERSTOOD, TWO_READINGS};
use super::set::{self, place};
use super::sets::{self, Doubt, Item};
use super::sums::{self, Sum};
use super::times::{self, Often};
use super::word::{Word, words};
use crate::finding::{Finding, Placed};
use crate::measure::{LIMITS, Pool, Seconds};
use crate::reader::trade_words::TradeWord;
use crate::reader::value::OwnWords;
use crate::session::rules::WORDS_KEPT_AS_CUE;
use crate::session::words::{EffortWord, Keep, PartKind};
use crate::session::{Line, RestSaid, Rounds};

/// A line of the message.
struct Written {
    plain: Plain,
    indent: usize,
    /// Whether nothing stands on the line before.
    after_blank: bool,
}

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
        let written = written(text);
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
                true => self.open_part(None, &sentence, true),
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
            && !lane_label(&words(line.plain.text())).is_some_and(|_| true)
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

    /// A sum, or a bare number that is what was read so far.
    fn sum(&self, plain: &Plain) -> Option<Sum> {
        if let Some(sum) = sums::stated(plain) {
            return Some(sum);
        }
        let (number, _, rest) = sums::number(plain.text())?;
        let bare =
            rest.trim_matches(['.', 'm', ' ']).is_empty() || rest.starts_with(['+', '-', ',']);
        let sum = Sum { number, within: 0, lengths: false, whole: true, at: plain.whole() };
        (bare && number >= 1000 && self.builder.parts.len() > 1 && self.come_to(None) == number * 6)
            .then_some(sum)
    }

    /// What was read so far, or the part that is open, in sixths.
    fn come_to(&self, part: Option<usize>) -> u64 {
        let lane = self.lanes.first().map(|lane| lane.value.as_str());
        let parts = self.builder.parts.iter().skip(part.unwrap_or(0));
        parts
            .filter_map(|part| sums::sixths(&part.lines, self.pool, lane))
            .fold(0, u64::saturating_add)
    }

    fn note_sum(&mut self, sum: Sum) {
        let part = self.builder.parts.len();
        let lines = self.builder.parts.last().map_or(0, |part| part.lines.len());
        self.sums.push((sum, Reach { part, lines }));
    }

    fn open_part(&mut self, kind: Option<PartKind>, name: &Plain, titled: bool) {
        let text = name.text().trim_end_matches(':').trim();
        let title = titled.then(|| Placed::new(text.to_owned(), place(name.whole())));
        let place = place(name.whole());
        self.builder.part(DraftPart { kind, title, headed: true, ..DraftPart::at(place) });
    }

    /// What stands behind a heading: its sum, how often it is swum, a title, sets.
    fn after_heading(&mut self, rest: &Plain, line: &Written) {
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
            let inner_words = super::word::words(inner.text());
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

    fn part_sum(&mut self, sum: Sum) {
        if let Some(part) = self.builder.parts.last_mut() {
            part.sum = Some(sum);
        }
    }

    /// Rounds, and what stands behind how often they are swum.
    fn open_rounds(
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
        let behind =
            words.first().is_some_and(|word| word.is_any(&["x", "twice"])) && ends != Ends::Part;
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
                if let Some(time) = between_rounds(&rest) {
                    self.builder.rest_between(time);
                } else if begins(&rest) {
                    // All of it on the line.
                    self.sets(&rest, line);
                    self.builder.close(|found| found == ends);
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
    fn count_behind(&mut self, plain: &Plain, often: &Often) {
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

    /// The sets of a line.
    fn sets(&mut self, plain: &Plain, line: &Written) {
        let plain = match tail_sum(plain) {
            Some((body, sum)) => {
                let before = self.come_to(None);
                self.sets(&body, line);
                let come_to = self.come_to(None).saturating_sub(before);
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

    fn line_sum(&mut self, body: &Plain, sum: Sum) {
        let parted = sets::parted(body).map(|parted| parted.items.len()).unwrap_or(0);
        let lines = self.builder.here().map(|lines| {
            let from = lines.len().saturating_sub(parted);
            sums::sixths(lines.get(from..).unwrap_or_default(), None, None).unwrap_or(0)
        });
        if lines != Some(sum.number * 6) {
            self.note_sum(sum);
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

    fn behind_rounds(&mut self, behind: &Plain, line: &Written) {
        if behind.is_blank() {
            return;
        }
        let start =
            behind.text().len() - behind.text().trim_start_matches([',', '-', ':', ' ']).len();
        let behind = behind.slice(start..behind.text().len());
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

    fn set(&mut self, plain: &Plain) {
        match set::read(plain, self.own) {
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

    /// "200 wd", "300 choice to warm up": the part a set begins stands behind it. The set alone.
    fn part_behind(&mut self, plain: &Plain) -> Plain {
        let words = words(plain.text());
        let Some((kind, from)) = heading_behind(&words) else { return plain.clone() };
        let name =
            plain.slice(words.get(from).map_or(0, |word| word.span.start)..plain.text().len());
        if self.builder.parts.last().is_none_or(|part| part.kind != Some(kind)) {
            self.open_part(Some(kind), &name, false);
        }
        plain.slice(0..words.get(from).map_or(0, |word| word.span.start))
    }

    /// Warns of words that may be swum and are not.
    fn held_in(&mut self, text: &str, at: crate::finding::Place) {
        if sets::may_hold_set(text).is_some() || speaks_of_rounds(text) {
            self.found.push(
                Finding::new(
                    &MAY_BE_SWUM,
                    format!("\"{text}\" speaks of a distance, and is not counted"),
                )
                .label(at, "")
                .help("if it is to be swum, begin a line with it"),
            );
        }
    }

    /// A sentence that begins with no set.
    fn no_set(&mut self, plain: &Plain, words: &[Word<'_>], line: &Written, continues: bool) {
        if self.builder.in_rounds()
            && let Some(rest) = between_rounds(plain)
            && self.builder.rest_between(rest)
        {
            return;
        }
        if self.clauses(plain) {
            return;
        }
        let at_head = self.builder.parts.is_empty() && !self.builder.in_rounds();
        let of_repeats = is_of_repeats(words);
        let labelled = words.get(1).is_some_and(|word| word.text == ":");
        if !of_repeats
            && (!at_head || labelled)
            && let Some((before, sets)) = lead_in(plain, words)
        {
            if !self.clauses(&before) && !before.is_blank() {
                self.talk(&before, line, continues);
            }
            return self.sets(&sets, line);
        }
        self.talk(plain, line, continues);
    }

    /// Clauses on a line of their own are the last set's.
    fn clauses(&mut self, plain: &Plain) -> bool {
        let Some(said) = set::clauses_alone(plain, self.own) else { return false };
        let Some(set) = self.builder.last_set() else { return false };
        let rest = said.rest.as_ref().map(|rest| Placed::new(rest.value.counts(), rest.place));
        set.rest_after = set.rest_after.take().or(rest);
        set.on = set.on.take().or(said.on);
        set.effort = set.effort.take().or(said.effort);
        set.pattern = set.pattern.take().or(said.pattern);
        set.strokes = set.strokes.take().or(said.strokes);
        set.gear.extend(said.gear);
        true
    }

    /// Words: facts at the head, a word on the set before, a remark between sets.
    fn talk(&mut self, plain: &Plain, line: &Written, continues: bool) {
        let at = place(plain.whole());
        if self.builder.parts.is_empty() {
            return self.at_head(plain, continues);
        }
        self.head.spoken(plain);
        let text = plain.text().trim().to_owned();
        if text.chars().count() as u64 > LIMITS.text_characters.most / 2 {
            self.held_in(&text, at);
            self.kept_off.push(plain.whole());
            return;
        }
        let inside = continues || line.indent > self.last_indent || is_of_repeats(&words(&text));
        if inside && let Some(set) = self.builder.last_set() {
            let whole =
                set.cue.as_ref().map_or(text.clone(), |cue| format!("{}; {text}", cue.value));
            let start = set.cue.as_ref().map_or(at.start, |cue| cue.place.start.min(at.start));
            set.cue = Some(Placed::new(whole, place(start..at.end)));
            self.found.push(
                Finding::new(&WORDS_KEPT_AS_CUE, format!("\"{text}\" is kept as a cue"))
                    .label(at, "on the set before it"),
            );
            // Lines of some repeats add no distance to the set.
            if !is_of_repeats(&words(&text)) {
                self.held_in(&text, at);
            }
            return;
        }
        self.held_in(&text, at);
        self.builder.push(Line::Remark(Placed::new(text, at)));
    }

    /// A line before the session: a fact, the title, talk.
    fn at_head(&mut self, plain: &Plain, continues: bool) {
        self.head.spoken(plain);
        if self.head.facts(plain) {
            return;
        }
        // Behind a greeting a title stands right above the facts.
        let first = self.kept_off.is_empty() || self.before_facts && set_free(plain.text());
        if !continues && !self.head.has("title") && first && is_title(plain.text()) {
            self.head.title(plain);
            return;
        }
        self.held_in(plain.text(), place(plain.whole()));
        self.kept_off.push(plain.whole());
    }

    /// A line in quotes is a remark, whatever it says.
    fn meant(&mut self, remark: &Plain) {
        let at = place(remark.whole());
        self.meant.push(at.start);
        self.builder.push(Line::Remark(Placed::new(remark.text().to_owned(), at)));
    }

    /// "keep: lengths" below a heading is of the part.
    fn keep_of_part(&mut self, plain: &Plain) -> bool {
        let Some(part) = self.builder.parts.last_mut().filter(|part| part.lines.is_empty()) else {
            return false;
        };
        let keep = plain.text().split_once(':').filter(|(key, _)| key.eq_ignore_ascii_case("keep"));
        let Some(keep) = keep.and_then(|(_, keep)| Keep::from_text(keep)) else { return false };
        part.keep = Some(Placed::new(keep, place(plain.whole())));
        true
    }

    /// The lanes that words begin with: "Lane 1:", those that are known by name, or one that is said to
    /// have a pace.
    fn lane_label(&self, words: &[Word<'_>]) -> Option<(Vec<String>, usize)> {
        if let Some(label) = lane_label(words) {
            return Some(label);
        }
        let colon = words.iter().take(12).position(|word| word.text == ":")?;
        let named: Vec<String> = words
            .get(..colon)?
            .split(|word| matches!(word.text, "," | "&" | "and" | "+"))
            .map(|name| name.iter().map(|word| word.text).collect::<Vec<_>>().join(" "))
            .collect();
        let known = |name: &String| {
            self.lane_facts.iter().any(|(lane, _)| lane.value.eq_ignore_ascii_case(name))
                || self.club_lanes.iter().any(|lane| lane.eq_ignore_ascii_case(name))
        };
        let defined = words.get(colon + 1).is_some_and(|word| word.is_any(&["pace"])) && colon > 0;
        (!named.is_empty() && (named.iter().all(known) || defined && named.len() == 1))
            .then_some((named, colon + 1))
    }

    /// A line of a lane.
    fn of_lane(
        &mut self,
        plain: &Plain,
        words: &[Word<'_>],
        (names, taken): (Vec<String>, usize),
        line: &Written,
    ) {
        let end = words.get(taken - 1).map_or(0, |word| word.span.end);
        let name_at = place(plain.source(0..end));
        // Another lane on the same line.
        let next = (taken..words.len())
            .find(|at| words.get(*at..).is_some_and(|words| self.lane_label(words).is_some()));
        let until =
            next.and_then(|at| words.get(at)).map_or(plain.text().len(), |word| word.span.start);
        let rest = plain.slice(end..until);
        let named: Vec<Placed<String>> =
            names.into_iter().map(|name| Placed::new(name, name_at)).collect();
        let sets = super::word::words(rest.text());
        let is_fact = sets.first().is_some_and(|word| word.is_any(&["pace", "swimmers"]))
            || rest.text().contains("/100")
            || rest.text().contains("swimmers");
        if is_fact {
            self.lane_facts.extend(named.into_iter().map(|name| (name, rest.clone())));
        } else if !rest.is_blank() {
            for name in &named {
                if self.lanes.iter().all(|known| known.value != name.value) {
                    self.lanes.push(name.clone());
                }
            }
            self.lane = named;
            self.sentence(&rest, line, false);
            self.lane.clear();
        }
        if next.is_some() {
            self.sentence(&plain.slice(until..plain.text().len()), line, false);
        }
    }
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

/// The words of a line that is nothing but words in quotes.
fn in_quotes(plain: &Plain) -> Option<Plain> {
    let inner = plain.text().strip_prefix('"')?.strip_suffix('"')?;
    (!inner.contains('"') && !inner.is_empty()).then(|| plain.slice(1..1 + inner.len()))
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
fn rounds_behind(plain: &Plain, words: &[Word<'_>]) -> Option<(Plain, Often, Plain)> {
    let first = words.first().filter(|word| matches!(word.text, "(" | "[" | "{"))?;
    let close = sets::closing(words, 0)?;
    let often = times::often(words.get(close + 1..)?)?;
    let inner = plain.slice(first.span.end..words.get(close)?.span.start);
    let behind = plain.slice(often.span.end..plain.text().len());
    begins(&inner).then_some((inner, often, behind))
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

/// Whether words say how often something is swum: "3 rds", "twice".
fn speaks_of_rounds(text: &str) -> bool {
    let words = words(text);
    (0..words.len()).any(|at| words.get(at..).and_then(times::often).is_some())
}

/// Whether a text begins with a set.
fn begins(plain: &Plain) -> bool {
    sets::begins_set(plain.text())
}

fn set_free(text: &str) -> bool {
    text.contains(char::is_alphabetic) && !text.contains(|sign: char| sign.is_ascii_digit())
}

/// "1-4 @ 1:10", "#5 fast", "odds drill", "no. 1 fly": of some repeats of the set before.
fn is_of_repeats(words: &[Word<'_>]) -> bool {
    words.first().is_some_and(|word| {
        let range = word.text.split('-').all(super::word::is_number) && word.text.len() < 6;
        word.text.starts_with('#')
            || word.is_any(&[
                "odd", "odds", "even", "evens", "no.", "no", "last", "first", "1st", "2nd", "hold",
            ])
            || range && word.text.contains('-')
    })
}

/// The sum of a heading: "(500)", "600", "1,600".
fn part_sum(plain: &Plain) -> Option<Sum> {
    let (number, within, rest) = sums::number(plain.text().trim_start_matches(['(', '=', ' ']))?;
    let unit = rest.trim_matches([' ', ')', 'm', 'y', 'd', 's', '.']);
    unit.is_empty().then(|| Sum { number, within, lengths: false, whole: false, at: plain.whole() })
}

/// "- 1000" behind a heading: its sum, if sets follow, or a swim. The flag says that there is a dash.
fn maybe_sum(behind: &Plain) -> Option<(Sum, bool)> {
    let dash = behind.text().starts_with('-');
    let start = behind.text().len() - behind.text().trim_start_matches(['-', ' ']).len();
    part_sum(&behind.slice(start..behind.text().len())).map(|sum| (sum, dash))
}

/// A sum at the end of a line of sets: "5 x 200 @ 3:00 = 1000".
fn tail_sum(plain: &Plain) -> Option<(Plain, Sum)> {
    let (body, sum) = plain.text().rsplit_once('=')?;
    let sum = part_sum(&plain.slice(plain.text().len() - sum.len()..plain.text().len()))?;
    Some((plain.slice(0..body.len()), sum))
}

/// The rest between rounds: "1 min between rounds", "(1 min extra after each rd)".
fn between_rounds(plain: &Plain) -> Option<Placed<Seconds>> {
    let text = plain.text();
    let words = words(text);
    let rounds = words.iter().any(|word| {
        word.is_any(&["round", "rounds", "rd", "rds", "ladders", "sets", "set", "circuit"])
    });
    let between =
        words.iter().any(|word| word.is_any(&["between", "after", "extra", "rest", "each"]));
    if !rounds || !between || words.len() > 10 {
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

/// A lead-in before sets on a line: "1 min rest, then 6 x 50", "Straight in, 400 easy".
fn lead_in(plain: &Plain, words: &[Word<'_>]) -> Option<(Plain, Plain)> {
    let at = (1..words.len()).find(|at| {
        let before =
            words.get(at - 1).is_some_and(|word| word.is_any(&[",", "then", ":", "-", "do"]));
        let behind = words.get(*at).and_then(|word| plain.text().get(word.span.start..));
        before && behind.is_some_and(sets::begins_set)
    })?;
    let word = words.get(at)?;
    let mut until = at;
    while until > 0
        && words.get(until - 1).is_some_and(|word| word.is_any(&[",", "then", ":", "-", "and"]))
    {
        until -= 1;
    }
    let end = words.get(until.checked_sub(1)?)?.span.end;
    let before = plain.slice(0..end);
    let few = until <= 4;
    few.then(|| (before, plain.slice(word.span.start..plain.text().len())))
}

/// Whether a first line names the session: a few words that neither greet nor end like a sentence.
fn is_title(text: &str) -> bool {
    const GREETINGS: [&str; 16] = [
        "hi", "hello", "hey", "dear", "morning", "evening", "good", "ok", "right", "rite", "g'day",
        "hallo", "guys", "team", "from", "subject",
    ];
    let words = words(text);
    let greets = words.first().is_some_and(|word| word.is_any(&GREETINGS));
    let sentence = text.ends_with(['.', '?', ','])
        || words
            .iter()
            .any(|word| word.is_any(&["i", "you", "u", "me", "my", "cant", "please", "pls"]));
    !greets
        && !sentence
        && words.len() <= 10
        && text.chars().count() <= 60
        && text.contains(char::is_alphabetic)
}

/// The lanes that words begin with, and how many words name them: "Lane 1:", "A:", "ALL LANES".
fn lane_label(words: &[Word<'_>]) -> Option<(Vec<String>, usize)> {
    let first = words.first()?;
    let colon = |at: usize| words.get(at).is_some_and(|word| word.text == ":");
    if first.is_any(&["all", "everyone", "everybody"]) {
        let lanes = usize::from(words.get(1).is_some_and(|word| word.is_any(&["lanes"])));
        let ends = words.get(1 + lanes).is_none_or(|word| word.text == ":");
        let taken = 1 + lanes + usize::from(colon(1 + lanes));
        return (ends && (lanes > 0 || taken > 1)).then(|| (Vec::new(), taken));
    }
    if first.is_any(&["lane", "group", "lanes", "squad"]) && colon(2) {
        let name = words.get(1)?;
        let named = name.text.chars().count() <= 2 && name.text.chars().all(char::is_alphanumeric);
        let mut kind = first.text.to_lowercase();
        if let Some(letter) = kind.get_mut(..1) {
            letter.make_ascii_uppercase();
        }
        return named.then(|| (vec![format!("{kind} {}", name.text)], 3));
    }
    let letter = first.text.len() == 1 && matches!(first.text, "A" | "B" | "C" | "D" | "E" | "F");
    (letter && colon(1)).then(|| (vec![first.text.to_owned()], 2))
}

/// The bracket that ends a text and was not opened in it.
fn unopened(text: &str) -> Option<char> {
    let last = text.chars().next_back().filter(|sign| matches!(sign, ')' | '}'))?;
    let open = if last == ')' { '(' } else { '{' };
    let balance = text.chars().fold(0_i32, |depth, sign| match sign {
        sign if sign == open => depth + 1,
        sign if sign == last => depth - 1,
        _ => depth,
    });
    (balance < 0).then_some(last)
}

fn unclosed(text: &str) -> bool {
    text.matches(['{', '(']).count() > text.matches(['}', ')']).count()
}

/// The sentences of a line: they end at a full stop, an exclamation or a question mark with more behind.
fn sentences(plain: &Plain) -> Vec<Plain> {
    let words = words(plain.text());
    let mut from = 0;
    let mut depth = 0_usize;
    let mut cuts = Vec::new();
    for (at, word) in words.iter().enumerate() {
        match word.text {
            "(" | "{" => depth += 1,
            ")" | "}" => depth = depth.saturating_sub(1),
            _ => {}
        }
        let short = at > 0
            && words.get(at - 1).is_some_and(|word| {
                word.is_any(&["no", "approx", "tot", "min", "sec", "vs", "st"])
            });
        let more = words.get(at + 1).is_some();
        if depth == 0 && matches!(word.text, "." | "!" | "?") && more && !short {
            cuts.push(from..word.span.end);
            from = word.span.end;
        }
    }
    cuts.push(from..plain.text().len());
    let trimmed = |plain: Plain| {
        let end = plain.text().trim_end_matches(['.', ' ']).len();
        plain.slice(0..end)
    };
    cuts.into_iter()
        .map(|span| trimmed(plain.slice(span)))
        .filter(|plain| plain.text().chars().any(char::is_alphanumeric))
        .collect()
}

/// The lines of a text that say something. Where a blank line stands between all of them, none counts.
fn written(text: &str) -> Vec<Written> {
    let mut lines: Vec<Written> = Vec::new();
    let (mut base, mut blank) = (0, true);
    for line in text.split_inclusive('\n') {
        let body = line.trim_end_matches(['\n', '\r']);
        let start = base;
        base += line.len();
        let plain = Plain::of(body, start);
        let says = plain
            .text()
            .chars()
            .any(|sign| sign.is_alphanumeric() || matches!(sign, '{' | '}' | '(' | ')'));
        if !says {
            blank = true;
            continue;
        }
        if body.trim_start().starts_with("//") {
            continue;
        }
        lines.push(Written { plain, indent: indent(body), after_blank: blank });
        blank = false;
    }
    let spread = lines.len() > 3 && lines.iter().skip(1).all(|line| line.after_blank);
    if spread {
        lines.iter_mut().skip(1).for_each(|line| line.after_blank = false);
    }
    lines
}

/// How far a line is indented, a tab as four columns.
fn indent(line: &str) -> usize {
    let blank = line.chars().take_while(|sign| sign.is_whitespace());
    blank.map(|sign| if sign == '\t' { 4 } else { 1 }).sum()
}
