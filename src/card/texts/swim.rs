//! How a swim is swum, on its line: the stroke in bold, and lighter behind it what its legs are and
//! how its repeats differ.

use super::set::time_kept_with_its_word;
use crate::measure::{Distance, Lengths, Pool, Seconds};
use crate::plan::SetPlan;
use crate::session::swim::{Asked, Course, Differ, Grouped, Legs, Pieces, Way, Which};
use crate::session::words::{EffortWord, Mode, Stroke};
use crate::typeset::paragraph::{Span, bold, plain};
use crate::words::{Words, filled};

/// Between the steps of a ladder, and the pieces of a broken swim, where they are printed.
const DASH: &str = "\u{2013}";
/// And where they are told.
const COMMA: &str = ", ";

/// Words the line of one set.
struct Wording<'a> {
    words: &'a Words,
    plan: &'a SetPlan,
    pool: Pool,
}

/// How often: the count before the sign; nothing for a single swim.
pub(in crate::card) fn times(plan: &SetPlan) -> u64 {
    plan.chalk.repeats
}

/// How far each time, without its unit: nothing for a ladder, whose steps are its line, and for what
/// has a time instead.
pub(in crate::card) fn distance_text(words: &Words, pool: Pool, plan: &SetPlan) -> Option<String> {
    let wording = Wording { words, plan, pool };
    match &plan.chalk.course {
        Course::Each(asked) | Course::Broken { whole: asked, .. } => Some(wording.asked(*asked)),
        Course::Ladder(_) | Course::Timed(_) => None,
    }
}

/// All that stands behind the distance.
pub(in crate::card) fn spans(words: &Words, pool: Pool, plan: &SetPlan) -> Vec<Span> {
    Wording { words, plan, pool }.spans()
}

/// The whole line in words, for a set that has more on it than repeats, a distance and a stroke.
pub(in crate::card) fn spoken(words: &Words, pool: Pool, plan: &SetPlan) -> Option<String> {
    let chalk = &plan.chalk;
    let is_plain = matches!(chalk.course, Course::Each(_)) && !chalk.is_shaped();
    (!is_plain).then(|| Wording { words, plan, pool }.spoken())
}

/// "descend 1–3, 4–6".
pub(in crate::card) fn grouped_text(words: &Words, grouped: &Grouped) -> String {
    let groups = grouped.groups.iter().map(|(from, to)| format!("{from}\u{2013}{to}"));
    format!("{} {}", words.trade(grouped.pattern), groups.collect::<Vec<_>>().join(", "))
}

/// An effort as the coach said it; one of the program's in the card's language.
pub(in crate::card) fn effort_text<'a>(words: &'a Words, effort: &'a EffortWord) -> &'a str {
    effort.own_word().unwrap_or_else(|| words.trade(effort.counts))
}

impl Wording<'_> {
    fn spans(&self) -> Vec<Span> {
        let chalk = &self.plan.chalk;
        let mut line = String::new();
        if let Course::Ladder(steps) = &chalk.course {
            line.push_str(&self.steps(steps, DASH));
            line.push(' ');
        }
        if let Course::Timed(time) = &chalk.course {
            line.push_str(&self.words.spoken(*time).replace(' ', "\u{a0}"));
            line.push(' ');
        }
        line.push_str(&self.way(&chalk.way, true));
        let behind = self.behind(DASH);
        let mut spans = vec![bold(line.trim_end().to_owned())];
        if !behind.is_empty() {
            let alone = line.trim().is_empty();
            let text = behind.join("; ");
            spans.push(plain(if alone { text } else { format!(" {text}") }));
            spans.retain(|span| !(alone && span.text.is_empty()));
        }
        spans
    }

    /// "4 times 100: 50 fly, 50 free".
    fn spoken(&self) -> String {
        let chalk = &self.plan.chalk;
        let far = match &chalk.course {
            Course::Each(asked) | Course::Broken { whole: asked, .. } => self.asked(*asked),
            Course::Ladder(steps) => self.steps(steps, COMMA),
            Course::Timed(time) => self.words.spoken(*time),
        };
        let swim = format!("{far} {}", self.way(&chalk.way, true));
        let swim = match chalk.repeats {
            1 => swim,
            count => {
                filled(&self.words.set.times, &[("count", &count.to_string()), ("swim", &swim)])
            }
        };
        let behind: String = self.behind(COMMA).iter().map(|more| format!(": {more}")).collect();
        // Signs and spaces that only print.
        let spoken = format!("{}{behind}", swim.trim_end());
        spoken.replace('/', ", ").replace(['\u{a0}', '\u{2060}'], " ").replace("  ", " ")
    }

    /// What stands behind the swim: the pieces of a broken one, legs, how the repeats differ.
    fn behind(&self, between: &str) -> Vec<String> {
        let chalk = &self.plan.chalk;
        let broken = match &chalk.course {
            Course::Broken { at, rest, .. } => Some(self.broken(at, *rest, between)),
            _ => None,
        };
        let differ = chalk.differ.as_ref().map(|differ| self.differ(differ));
        [broken, self.legs(&chalk.legs), differ].into_iter().flatten().collect()
    }

    fn broken(&self, at: &Pieces, rest: Seconds, between: &str) -> String {
        let time = self.words.spoken(rest).replace(' ', "\u{a0}");
        match at {
            Pieces::Listed(pieces) => {
                let pieces = self.steps(pieces, between);
                filled(&self.words.set.broken, &[("pieces", &pieces), ("time", &time)])
            }
            Pieces::Each(piece) => {
                let distance = self.asked(*piece);
                filled(&self.words.set.broken_each, &[("distance", &distance), ("time", &time)])
            }
        }
    }

    fn legs(&self, legs: &Legs) -> Option<String> {
        match legs {
            Legs::Whole => None,
            Legs::Parts(parts) => {
                let parts = parts.iter().map(|(asked, way)| {
                    let way = self.way(way, false).replace(' ', "\u{a0}");
                    format!("{}\u{a0}{way}", self.asked(*asked)).trim_end().to_owned()
                });
                Some(parts.collect::<Vec<_>>().join(", "))
            }
            Legs::Turns { ways, by } => {
                let ways: Vec<String> = ways.iter().map(|way| self.way(way, false)).collect();
                let ways = ways.join("/");
                Some(match by {
                    Some(by) => time_kept_with_its_word(&filled(
                        &self.words.set.by_turns,
                        &[("ways", &ways), ("distance", &self.asked(*by))],
                    )),
                    None => ways,
                })
            }
        }
    }

    fn differ(&self, differ: &Differ) -> String {
        let listed = |entries: Vec<String>| entries.join(", ");
        match differ {
            Differ::MedleyOrder { reverse: false } => self.words.set.medley_order.clone(),
            Differ::MedleyOrder { reverse: true } => self.words.set.medley_order_reverse.clone(),
            Differ::Runs(runs) => {
                let run = |(count, way): &(u64, Way)| {
                    format!("{count}\u{a0}{}", self.way(way, false).replace(' ', "\u{a0}"))
                };
                listed(runs.iter().map(run).collect())
            }
            Differ::Some(some) => {
                let one = |(which, way): &(Which, Way)| {
                    let which = self.which(*which).replace(' ', "\u{a0}");
                    format!("{which}\u{a0}{}", self.way(way, false).replace(' ', "\u{a0}"))
                };
                listed(some.iter().map(one).collect())
            }
        }
    }

    fn which(&self, which: Which) -> String {
        let set = &self.words.set;
        let counted = |text: &str, count: u64| filled(text, &[("count", &count.to_string())]);
        match which {
            Which::Odd => set.odd.clone(),
            Which::Even => set.even.clone(),
            Which::Every(2) => set.every_second.clone(),
            Which::Every(3) => set.every_third.clone(),
            Which::Every(count) => counted(&set.every_nth, count),
            Which::Last(1) => set.last.clone(),
            Which::Last(count) => counted(&set.last_count, count),
            Which::Range(from, to) if from == to => from.to_string(),
            Which::Range(from, to) => format!("{from}\u{2013}{to}"),
        }
    }

    /// The words of a way; the stroke is left out where the mode says it all, and on the line
    /// of a set freestyle is said where nothing else is.
    fn way(&self, way: &Way, is_line: bool) -> String {
        let words = self.words;
        let mode = way.mode.filter(|mode| *mode != Mode::Swim || way.stroke.is_none());
        let mut text = match (way.stroke, mode) {
            (Some(Stroke::Free), Some(mode @ (Mode::Kick | Mode::Scull))) if is_line => {
                words.trade(mode).to_owned()
            }
            (Some(stroke), Some(mode)) => words.stroke_mode(words.trade(stroke), words.trade(mode)),
            (Some(stroke), None) => words.trade(stroke).to_owned(),
            (None, Some(mode)) => words.trade(mode).to_owned(),
            (None, None) => String::new(),
        };
        let mut add = |more: &str| {
            if !text.is_empty() {
                text.push(' ');
            }
            text.push_str(more);
        };
        if let Some(movement) = way.movement {
            add(words.trade(movement));
        }
        if let Some(effort) = &way.effort {
            add(effort_text(words, effort));
        }
        if let Some(on) = way.on {
            add(&filled(&words.set.on, &[("time", &on.to_string())]));
        }
        text
    }

    fn steps(&self, steps: &[Asked], between: &str) -> String {
        let steps: Vec<String> = steps.iter().map(|step| self.asked(*step)).collect();
        steps.join(between)
    }

    /// A distance in the pool's unit, without it.
    fn asked(&self, asked: Asked) -> String {
        let distance = match asked {
            Asked::Lengths(count) => {
                self.pool.distance(Lengths::new(u32::try_from(count).unwrap_or(u32::MAX)))
            }
            Asked::Number(sixths, _) => Distance::from_sixths(sixths, self.pool.unit()),
            Asked::Widths(1) => return self.words.set.one_width.clone(),
            Asked::Widths(count) => {
                let count = count.to_string();
                return filled(&self.words.set.widths, &[("count", &count)]).replace(' ', "\u{a0}");
            }
            Asked::HalfLength => {
                let first = self.plan.cycle.repeats.first();
                first.map_or(self.pool.length(), |repeat| repeat.distance(self.pool))
            }
        };
        self.words.number(distance)
    }
}
