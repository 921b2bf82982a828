//! A session as TOML.

use std::fmt::Write as _;

use super::comments::Comments;
use super::{factors, is_own, own_pace, pace_text, rest_text, unit};
use crate::fit::booking;
use crate::measure::Pace;
use crate::reader::{quoted, quoted_list};
use crate::session::{Aim, Lane, Line, OnSaid, Part, Session, Set};
use crate::source::Source;

/// The session as TOML. `usual` is the pace that is reckoned with where it says none; comments of
/// `source`, which it was read from, are kept.
pub fn as_toml(session: &Session, source: &Source, usual: Option<Pace>) -> String {
    let mut writer = Writer { session, comments: Comments::of(source), out: String::new() };
    writer.head(usual);
    for part in &session.parts {
        writer.part(part);
    }
    for words in writer.comments.rest() {
        writer.comment("", &words);
    }
    writer.out
}

struct Writer<'s> {
    session: &'s Session,
    comments: Comments,
    out: String,
}

// Writing to a string cannot fail; the result of each `writeln!` is dropped for that.
impl Writer<'_> {
    fn key(&mut self, key: &str, value: &str) {
        let _ = writeln!(self.out, "{key} = {value}");
    }

    fn comment(&mut self, indent: &str, words: &str) {
        let _ = writeln!(self.out, "{indent}# {words}");
    }

    fn comments_before(&mut self, byte: usize, indent: &str) {
        for words in self.comments.before(byte) {
            self.comment(indent, &words);
        }
    }

    fn head(&mut self, usual: Option<Pace>) {
        let session = self.session;
        self.key("title", &quoted(&session.title.value));
        if let Some(date) = &session.date {
            self.key("date", &date.value.to_string());
        }
        if let Some(club) = &session.club_named {
            self.key("club", &quoted(&club.value));
        }
        if let Some(pool) = session.pool.as_ref().filter(|pool| is_own(pool)) {
            self.key("pool", &quoted(&pool.value.to_string()));
        }
        if let Some(also) = session.also.as_ref().filter(|also| is_own(also)) {
            self.key(
                "also",
                &quoted(&also.value.0.map_or("none".to_owned(), |pool| pool.to_string())),
            );
        }
        if let Some(keep) = &session.keep {
            self.key("keep", &quoted(&keep.value.to_string()));
        }
        if is_own(&session.level) {
            self.key("level", &quoted(&session.level.value.to_string()));
        }
        if let Some(goal) = &session.goal {
            self.key("goal", &quoted(&goal.value.to_string()));
        }
        if let Some(focus) = &session.focus {
            self.key("focus", &quoted(&focus.value));
        }
        if let Some(booked) = session.booked.as_ref().filter(|booked| is_own(booked)) {
            self.key("booked", &quoted(&booking(booked.value)));
        }
        if let Some(starts) = session.starts.as_ref().filter(|starts| is_own(starts)) {
            self.key("starts", &quoted(&starts.value.to_string()));
        }
        if let Some(pace) = own_pace(session) {
            self.key("pace", &quoted(&pace_text(pace, unit(session))));
        } else if let Some(pace) = usual.filter(|_| session.at_usual_pace) {
            self.comment("", "no pace was said: this is the one that was reckoned with");
            self.key("pace", &quoted(&pace_text(pace, unit(session))));
        }
        if let Some(pause) = session.changeover.as_ref().or(session.speed.changeover.as_ref()) {
            self.key("changeover", &quoted(&pause.value.spoken()));
        }
        let gear = session.gear.iter().filter(|gear| is_own(gear)).map(|gear| gear.value.as_str());
        let gear: Vec<&str> = gear.collect();
        if !gear.is_empty() {
            self.key("gear", &quoted_list(gear.iter().copied()));
        }
        if let Some(strokes) = session.strokes_per_length.as_ref().filter(|strokes| is_own(strokes))
        {
            self.key("strokes_per_length", &strokes.value.to_string());
        }
        if session.together {
            self.key("together", "true");
        }
        if let Some(language) = session.language.as_ref().filter(|language| is_own(language)) {
            self.key("language", &quoted(&language.value));
        }
        let allowed: Vec<String> = session
            .allow
            .iter()
            .filter(|allow| is_own(&allow.finding))
            .map(|allow| {
                format!(
                    "{{ finding = {}, because = {} }}",
                    quoted(&allow.finding.value),
                    quoted(&allow.because.value)
                )
            })
            .collect();
        if !allowed.is_empty() {
            self.key("allow", &format!("[{}]", allowed.join(", ")));
        }
        let factors: Vec<String> = factors(&session.speed)
            .iter()
            .map(|(key, factor)| format!("{key} = {factor}"))
            .collect();
        if !factors.is_empty() {
            self.key("speed", &format!("{{ {} }}", factors.join(", ")));
        }
        self.lanes();
    }

    fn lanes(&mut self) {
        let session = self.session;
        if session.lanes.is_empty()
            && session.club.as_ref().is_some_and(|club| !club.lanes.is_empty())
        {
            self.key("lane", "[]");
        }
        for lane in session.lanes.iter().filter(|lane| is_own(&lane.name)) {
            self.lane(lane);
        }
    }

    fn lane(&mut self, lane: &Lane) {
        self.out.push('\n');
        self.comments_before(lane.name.place.start, "");
        let bare = self.session.pace_unit.unwrap_or(unit(self.session));
        let pace = Pace { per_100: lane.pace.value, unit: lane.pace_unit.unwrap_or(bare) };
        let _ = writeln!(self.out, "[[lane]]");
        self.key("name", &quoted(&lane.name.value));
        self.key("pace", &quoted(&pace_text(pace, bare)));
        if let Some(swimmers) = &lane.swimmers {
            self.key("swimmers", &swimmers.value.to_string());
        }
        if let Some(gap) = &lane.gap {
            self.key("gap", &quoted(&gap.value.spoken()));
        }
        if let Some(stretch) = &lane.stretch {
            self.key("stretch", &stretch.value.to_string());
        }
        if let Some(strokes) = &lane.strokes_per_length {
            self.key("strokes_per_length", &strokes.value.to_string());
        }
    }

    fn part(&mut self, part: &Part) {
        self.out.push('\n');
        self.comments_before(part.place.start, "");
        let _ = writeln!(self.out, "[[part]]");
        if let Some(kind) = &part.kind {
            self.key("kind", &quoted(&kind.value.to_string()));
        }
        if let Some(title) = &part.title {
            self.key("title", &quoted(&title.value));
        }
        if let Some(keep) = &part.keep {
            self.key("keep", &quoted(&keep.value.to_string()));
        }
        let _ = writeln!(self.out, "sets = [");
        self.lines(&part.lines, "  ");
        let _ = writeln!(self.out, "]");
    }

    fn lines(&mut self, lines: &[Line], indent: &str) {
        for line in lines {
            match line {
                Line::Set(set) => {
                    self.comments_before(set.place.end, indent);
                    let _ = writeln!(self.out, "{indent}{},", set_text(set));
                }
                Line::Rounds(rounds) => {
                    self.comments_before(rounds.count.place.start, indent);
                    let mut keys = format!("rounds = {}", rounds.count.value);
                    if let Some(rest) = &rounds.rest {
                        let _ = write!(keys, ", rest = {}", quoted(&rest.value.spoken()));
                    }
                    if !rounds.efforts.is_empty() {
                        let efforts = rounds.efforts.iter().map(|effort| effort.value.said());
                        let _ = write!(keys, ", efforts = {}", quoted_list(efforts));
                    }
                    let _ = writeln!(self.out, "{indent}{{ {keys}, sets = [");
                    self.lines(&rounds.lines, &format!("{indent}  "));
                    let _ = writeln!(self.out, "{indent}] }},");
                }
                Line::Activity(activity) => {
                    self.comments_before(activity.what.place.start, indent);
                    let (what, time) =
                        (quoted(&activity.what.value), quoted(&activity.time.value.spoken()));
                    let _ = writeln!(self.out, "{indent}{{ activity = {what}, time = {time} }},");
                }
                Line::Remark(remark) => {
                    self.comments_before(remark.place.start, indent);
                    let _ = writeln!(self.out, "{indent}{{ remark = {} }},", quoted(&remark.value));
                }
            }
        }
    }
}

fn set_text(set: &Set) -> String {
    let mut keys = vec![format!("swim = {}", quoted(&set.swim.value.to_string()))];
    let mut text = |key: &str, value: Option<String>| {
        keys.extend(value.map(|value| format!("{key} = {}", quoted(&value))))
    };
    text("rest", set.rest.as_ref().map(|rest| rest_text(rest.value)));
    text(
        "on",
        set.on.as_ref().map(|on| match on.value {
            OnSaid::Every(time) => time.to_string(),
            OnSaid::Per100(time) => format!("{time}/100"),
        }),
    );
    text("rest_after", set.rest_after.as_ref().map(|rest| rest.value.spoken()));
    text("effort", set.effort.as_ref().map(|effort| effort.value.said().to_owned()));
    text("pattern", set.pattern.as_ref().map(|pattern| pattern.value.to_string()));
    text(
        "strokes",
        set.strokes.as_ref().map(|aim| match aim.value {
            Aim::Count => "count".to_owned(),
            Aim::Hold => "hold".to_owned(),
            Aim::Fewer(fewer) => format!("-{fewer}"),
        }),
    );
    text("cue", set.cue.as_ref().map(|cue| cue.value.clone()));
    text("keep", set.keep.as_ref().map(|keep| keep.value.to_string()));
    if !set.gear.is_empty() {
        keys.push(format!(
            "gear = {}",
            quoted_list(set.gear.iter().map(|gear| gear.value.as_str()))
        ));
    }
    if set.fixed {
        keys.push("fixed = true".to_owned());
    }
    if !set.lanes.is_empty() {
        keys.push(format!(
            "lanes = {}",
            quoted_list(set.lanes.iter().map(|lane| lane.value.as_str()))
        ));
    }
    format!("{{ {} }}", keys.join(", "))
}
