//! The text of a drafted session, with the reason of each part beside it.

use std::fmt::Write as _;

use super::pattern::{Skill, Think};
use super::search::Found;
use super::size::{SizedLine, SizedSet};
use super::{Booked, Wish};
use crate::advice::swims::{LONG_SWIM, longest_usual};
use crate::check::Timing;
use crate::finding::visible;
use crate::measure::{Lengths, Seconds};
use crate::reader::{quoted, quoted_list};
use crate::session::Aim;
use crate::session::words::PartKind;

/// A wish with what its file needs besides the sets.
pub(super) struct Script<'a> {
    pub wish: &'a Wish,
    /// Per 100 of the pool's unit.
    pub pace: Seconds,
    pub skill: &'a Skill,
}

/// Comments are broken at this many letters.
const WIDTH: usize = 100;

impl Script<'_> {
    /// What the session is called.
    pub fn title(&self) -> String {
        if let Some(title) = &self.wish.title {
            return title.clone();
        }
        // Each time the variants come back to a skill, they take its next title.
        let titles = &self.skill.titles;
        let turn = usize::try_from(self.wish.variant).unwrap_or(0);
        let title = titles.get(turn % titles.len().max(1)).or(titles.first());
        title.unwrap_or(&self.skill.focus).clone()
    }

    /// The keys at the head, up to the parts, before it is known how long the session takes.
    pub fn bare_head(&self) -> String {
        let asked = match self.wish.booked {
            Booked::Asked(booked) => Some(booked),
            Booked::Wished | Booked::Needed => None,
        };
        self.head(asked, &[], None)
    }

    fn head(&self, booked: Option<Seconds>, gear: &[&str], long_because: Option<&str>) -> String {
        let wish = self.wish;
        let mut keys: Vec<(&str, String)> = vec![("title", quoted(&self.title()))];
        keys.extend(wish.date.map(|date| ("date", date.to_string())));
        keys.extend(wish.club.as_ref().map(|club| ("club", quoted(club))));
        keys.push(("pool", quoted(&wish.pool.to_string())));
        keys.push(("level", quoted(&wish.level.to_string())));
        keys.push(("goal", quoted(&wish.goal.to_string())));
        keys.push(("focus", quoted(&self.skill.focus)));
        keys.extend(booked.map(|time| ("booked", quoted(&in_words(time)))));
        keys.extend(wish.starts.map(|starts| ("starts", quoted(&starts.to_string()))));
        keys.push(("pace", quoted(&self.pace.to_string())));
        if !gear.is_empty() {
            keys.push(("gear", quoted_list(gear.iter().copied())));
        }
        keys.extend(long_because.map(|reason| {
            let finding = quoted(LONG_SWIM.id);
            ("allow", format!("[{{ finding = {finding}, because = {} }}]", quoted(reason)))
        }));
        let width = keys.iter().map(|(key, _)| key.len()).max().unwrap_or(0);
        keys.iter().fold(String::new(), |mut text, (key, value)| {
            let _ = writeln!(text, "{key:width$} = {value}");
            text
        })
    }

    /// The whole file. `say_focus` makes the focus itself the first cue of the main set, where
    /// no other cue speaks of it.
    pub fn text(&self, found: &Found<'_>, say_focus: bool) -> String {
        let wish = self.wish;
        let distance = wish.pool.distance(Lengths::new(found.lengths)).with_commas();
        let mut text = comment(&format!(
            "Drafted for the level {}, variant {}: {distance} of {}, {} minutes. {}",
            wish.level,
            wish.variant,
            wish.goal,
            found.seconds.div_ceil(60),
            "Change what your swimmers need changed.",
        ));
        let booked = wish.booked.of(Seconds::new(found.seconds), wish.time);
        text.push_str(&self.head(booked, &self.gear(found), self.long_because(found)));
        let focus = say_focus.then(|| focus_at(found));
        let mut cues = Cues { skill: self.skill, used: Vec::new(), focus };
        for (kind, size) in &found.parts {
            text.push('\n');
            text.push_str(&comment(&size.pattern.why));
            let _ = write!(text, "[[part]]\nkind  = {}\n", quoted(&kind.to_string()));
            let _ = write!(text, "title = {}\nsets  = [\n", quoted(&size.pattern.name));
            for line in &size.lines {
                self.line(&mut text, line, *kind, &mut cues);
            }
            text.push_str("]\n");
        }
        text
    }

    /// Why the swim without a stop may be longer than is usual, where it is and there is a reason.
    fn long_because(&self, found: &Found<'_>) -> Option<&str> {
        let reason = self.wish.led_up_to.as_deref()?;
        let most = longest_usual(self.wish.level, self.wish.pool.unit());
        let lines = found.parts.iter().flat_map(|(_, size)| &size.lines);
        let mut swims = lines.flat_map(|line| &line.sets).map(|set| Lengths::new(set.longest()));
        swims.any(|each| self.wish.pool.distance(each).sixths() > most.sixths()).then_some(reason)
    }

    /// Gear in the order in which it is used.
    fn gear<'f>(&self, found: &'f Found<'_>) -> Vec<&'f str> {
        let mut all: Vec<&str> = Vec::new();
        let sizes = found.parts.iter().map(|(_, size)| size);
        for set in sizes.flat_map(|size| &size.lines).flat_map(|line| &line.sets) {
            for piece in self.gear_of(set) {
                if !all.contains(&piece) {
                    all.push(piece);
                }
            }
        }
        all
    }

    fn gear_of<'f>(&self, set: &SizedSet<'f>) -> Vec<&'f str> {
        let at_hand = set.set.at_hand.iter().filter(|piece| self.wish.gear.contains(piece));
        set.set.gear.iter().chain(at_hand).map(String::as_str).collect()
    }

    fn line(&self, text: &mut String, line: &SizedLine<'_>, kind: PartKind, cues: &mut Cues<'_>) {
        let Some(count) = line.rounds else {
            for set in &line.sets {
                let _ = writeln!(text, "  {},", self.set(set, kind, cues));
            }
            return;
        };
        let _ = writeln!(text, "  {{ rounds = {count}, sets = [");
        for set in &line.sets {
            let _ = writeln!(text, "    {},", self.set(set, kind, cues));
        }
        text.push_str("  ] },\n");
    }

    fn set(&self, set: &SizedSet<'_>, kind: PartKind, cues: &mut Cues<'_>) -> String {
        let mut keys = vec![format!("swim = {}", quoted(&set.chalk(self.wish.pool)))];
        keys.push(match set.timing {
            Timing::Rest(rest) => format!("rest = {}", quoted(&rest.counts().spoken())),
            Timing::Unsaid(rest) => format!("rest = {}", quoted(&rest.spoken())),
            Timing::SendOff(every) | Timing::Per100(every) => {
                format!("on = {}", quoted(&every.to_string()))
            }
        });
        keys.extend(set.set.effort.map(|effort| format!("effort = \"{effort}\"")));
        keys.extend(set.set.pattern.map(|pattern| format!("pattern = \"{pattern}\"")));
        keys.extend(set.set.strokes.map(|aim| format!("strokes = \"{}\"", aim_text(aim))));
        let gear = self.gear_of(set);
        if !gear.is_empty() {
            keys.push(format!("gear = {}", quoted_list(gear.iter().copied())));
        }
        if set.set.fixed {
            keys.push("fixed = true".to_owned());
        }
        keys.extend(cues.of(set, kind).map(|cue| format!("cue = {}", quoted(&cue))));
        format!("{{ {} }}", keys.join(", "))
    }
}

/// Hands out the skill's cues, each kind's in turn.
struct Cues<'a> {
    skill: &'a Skill,
    used: Vec<Think>,
    /// Where the focus itself is to be the cue, until it has been.
    focus: Option<FocusAt>,
}

/// Which set of the main set the focus itself is the cue of.
#[derive(Clone, Copy, PartialEq, Eq)]
enum FocusAt {
    /// The first that is no drill: what a drill is must be said.
    WholeStroke,
    /// The first, where all are drills.
    Any,
}

fn focus_at(found: &Found<'_>) -> FocusAt {
    let main = found.parts.iter().filter(|(kind, _)| *kind == PartKind::MainSet);
    let mut sets = main.flat_map(|(_, size)| &size.lines).flat_map(|line| &line.sets);
    let is_whole = |set: &SizedSet<'_>| {
        set.set.cue.is_none() && set.set.think.is_some_and(|think| think != Think::Drill)
    };
    if sets.any(is_whole) { FocusAt::WholeStroke } else { FocusAt::Any }
}

impl Cues<'_> {
    fn of(&mut self, set: &SizedSet<'_>, kind: PartKind) -> Option<String> {
        if let Some(cue) = &set.set.cue {
            return Some(cue.clone());
        }
        let wanted = set.set.think?;
        let here = self.focus == Some(FocusAt::Any) || wanted != Think::Drill;
        if self.focus.is_some() && here && kind == PartKind::MainSet {
            self.focus = None;
            return Some(self.skill.focus.clone());
        }
        let (think, cues) = match self.skill.cues.of(wanted) {
            [] => (Think::Swim, self.skill.cues.of(Think::Swim)),
            cues => (wanted, cues),
        };
        let turn = self.used.iter().filter(|used| **used == think).count();
        self.used.push(think);
        // Better no cue than the same one a third time.
        (turn < cues.len() * 2).then(|| cues.get(turn % cues.len()).cloned()).flatten()
    }
}

/// "45 min", "1 h 15 min": a booking is never written with a colon.
fn in_words(time: Seconds) -> String {
    let (hours, minutes, seconds) = (time.get() / 3600, time.get() / 60 % 60, time.get() % 60);
    let parts = [(hours, "h"), (minutes, "min"), (seconds, "s")];
    let words = parts.iter().filter(|(count, _)| *count > 0).map(|(n, unit)| format!("{n} {unit}"));
    words.collect::<Vec<_>>().join(" ")
}

/// A stroke-count task as a file has it.
fn aim_text(aim: Aim) -> String {
    match aim {
        Aim::Count => "count".to_owned(),
        Aim::Hold => "hold".to_owned(),
        Aim::Fewer(count) => format!("-{count}"),
    }
}

/// A text as comment lines, in which TOML allows no control sign.
fn comment(text: &str) -> String {
    let mut out = String::from("#");
    let mut width = 1;
    for word in text.split_whitespace() {
        let word = visible::line(word);
        let length = word.chars().count();
        if width > 1 && width + 1 + length > WIDTH {
            out.push_str("\n#");
            width = 1;
        }
        out.push(' ');
        out.push_str(&word);
        width += 1 + length;
    }
    out.push('\n');
    out
}
