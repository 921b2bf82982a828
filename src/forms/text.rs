//! A session as a message.

use super::comments::Comments;
use super::{factors, is_own, own_pace, pace_text, rest_text, unit};
use crate::fit::booking;
use crate::measure::{Date, Pace};
use crate::reader::trade_words::TradeWord;
use crate::session::words::PartKind;
use crate::session::{
    Aim, Lane, Line, OnSaid, Part, Rounds, Session, Set, reads_as, reads_as_title,
};
use crate::source::Source;

/// The session as a message; what it takes from its club is left to the club. Comments of `source`,
/// which it was read from, are kept.
///
/// Where a `club.toml` lies beside the message it would be taken up; `club_beside` says that one does,
/// and a session without a club then says so.
pub fn as_text(session: &Session, source: &Source, club_beside: bool) -> String {
    let comments = Comments::of(source);
    let mut writer = Writer { session, comments, club_beside, out: String::new() };
    writer.head();
    for part in &session.parts {
        writer.part(part);
    }
    for words in writer.comments.rest() {
        writer.out.push_str(&format!("// {words}\n"));
    }
    writer.out
}

struct Writer<'s> {
    session: &'s Session,
    comments: Comments,
    club_beside: bool,
    out: String,
}

/// The months as a date has them.
const MONTHS: [&str; 12] =
    ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];

impl Writer<'_> {
    fn line(&mut self, indent: usize, line: &str) {
        self.out.push_str(&"  ".repeat(indent));
        self.out.push_str(line);
        self.out.push('\n');
    }

    fn key(&mut self, key: &str, value: impl std::fmt::Display) {
        self.line(0, &format!("{key}: {value}"));
    }

    fn comments_before(&mut self, byte: usize, indent: usize) {
        for words in self.comments.before(byte) {
            self.line(indent, &format!("// {words}"));
        }
    }

    fn head(&mut self) {
        let session = self.session;
        let title = &session.title.value;
        match reads_as_title(title) {
            true => self.line(0, title),
            false => self.key("title", title),
        }
        let facts = self.facts();
        if !facts.is_empty() {
            self.line(0, &facts.join(", "));
        }
        if let Some(club) = &session.club_named {
            self.key("club", &club.value);
        } else if self.club_beside {
            self.key("club", "none");
        }
        if let Some(goal) = &session.goal {
            self.key("goal", goal.value);
        }
        if let Some(focus) = &session.focus {
            self.key("focus", &focus.value);
        }
        if let Some(pace) = own_pace(session) {
            self.key("pace", pace_text(pace, unit(session)));
        }
        if let Some(also) = session.also.as_ref().filter(|also| is_own(also)) {
            self.key("also", also.value.0.map_or("none".to_owned(), |pool| pool.to_string()));
        }
        if let Some(keep) = &session.keep {
            self.key("keep", keep.value);
        }
        if let Some(pause) = session.changeover.as_ref().or(session.speed.changeover.as_ref()) {
            self.key("changeover", pause.value.spoken());
        }
        let gear: Vec<&str> = session
            .gear
            .iter()
            .filter(|gear| is_own(gear))
            .map(|gear| gear.value.as_str())
            .collect();
        if !gear.is_empty() {
            self.key("gear", gear.join(", "));
        }
        if let Some(strokes) = session.strokes_per_length.as_ref().filter(|strokes| is_own(strokes))
        {
            self.key("strokes per length", strokes.value);
        }
        if session.together {
            self.key("together", "yes");
        }
        if let Some(language) = session.language.as_ref().filter(|language| is_own(language)) {
            self.key("language", &language.value);
        }
        let factors = factors(&session.speed);
        if !factors.is_empty() {
            let factors: Vec<String> =
                factors.iter().map(|(key, factor)| format!("{key} {factor}")).collect();
            self.key("speed", factors.join(", "));
        }
        for allow in session.allow.iter().filter(|allow| is_own(&allow.finding)) {
            self.key("allow", format!("{} because {}", allow.finding.value, allow.because.value));
        }
        self.lanes();
    }

    /// "25 m, improver, 45 min from 19:15, 12 Jan 2027".
    fn facts(&self) -> Vec<String> {
        let session = self.session;
        let mut facts = Vec::new();
        facts.extend(
            session.pool.as_ref().filter(|pool| is_own(pool)).map(|pool| pool.value.to_string()),
        );
        if is_own(&session.level) {
            facts.push(session.level.value.to_string());
        }
        let booked = session
            .booked
            .as_ref()
            .filter(|booked| is_own(booked))
            .map(|booked| booking(booked.value));
        let starts = session
            .starts
            .as_ref()
            .filter(|starts| is_own(starts))
            .map(|starts| starts.value.to_string());
        match (booked, starts) {
            (Some(booked), Some(starts)) => facts.push(format!("{booked} from {starts}")),
            (booked, starts) => facts.extend(booked.or(starts)),
        }
        facts.extend(session.date.as_ref().map(|date| date_text(date.value)));
        facts
    }

    fn lanes(&mut self) {
        let own = |lane: &&Lane| is_own(&lane.name);
        if self.session.lanes.is_empty()
            && self.session.club.as_ref().is_some_and(|club| !club.lanes.is_empty())
        {
            self.key("lanes", "none");
        }
        let lanes: Vec<&Lane> = self.session.lanes.iter().filter(own).collect();
        for lane in lanes {
            let pool = unit(self.session);
            let bare = self.session.pace_unit.unwrap_or(pool);
            let pace = Pace { per_100: lane.pace.value, unit: lane.pace_unit.unwrap_or(bare) };
            let mut facts = vec![format!("pace {}", pace_text(pace, bare))];
            facts.extend(
                lane.swimmers.as_ref().map(|swimmers| format!("{} swimmers", swimmers.value)),
            );
            facts.extend(lane.gap.as_ref().map(|gap| format!("{} apart", gap.value.spoken())));
            facts.extend(
                lane.strokes_per_length
                    .as_ref()
                    .map(|strokes| format!("{} strokes per length", strokes.value)),
            );
            facts.extend(
                lane.stretch.as_ref().filter(|stretch| stretch.value).map(|_| "stretch".to_owned()),
            );
            self.comments_before(lane.name.place.start, 0);
            self.key(&lane.name.value, facts.join(", "));
        }
    }

    fn part(&mut self, part: &Part) {
        self.out.push('\n');
        self.comments_before(part.place.start, 0);
        let mut heading = part.kind.as_ref().map_or(String::new(), |kind| heading(kind.value));
        if let Some(title) = &part.title {
            heading = match title.value.contains(|sign: char| sign.is_ascii_digit()) {
                true => format!("{heading}: \"{}\"", title.value),
                false => format!("{heading}: {}", title.value),
            };
        }
        self.line(0, &heading);
        if let Some(keep) = &part.keep {
            self.key("keep", keep.value);
        }
        let last = part.lines.len().saturating_sub(1);
        for (at, line) in part.lines.iter().enumerate() {
            self.part_line(line, 0, at == last);
        }
    }

    fn part_line(&mut self, line: &Line, indent: usize, last: bool) {
        match line {
            Line::Set(set) => {
                self.comments_before(set.place.end, indent);
                self.line(indent, &line_text(line));
            }
            Line::Rounds(rounds) => {
                self.comments_before(rounds.count.place.start, indent);
                self.line(indent, &line_text(line));
                for line in &rounds.lines {
                    self.part_line(line, indent + 1, false);
                }
            }
            Line::Activity(activity) => {
                self.comments_before(activity.what.place.start, indent);
                self.line(indent, &line_text(line));
            }
            Line::Remark(remark) => {
                self.comments_before(remark.place.start, indent);
                let plain = !last && reads_as(&remark.value, &Line::Remark(remark.clone()));
                let line =
                    if plain { remark.value.clone() } else { format!("\"{}\"", remark.value) };
                self.line(indent, &line);
            }
        }
    }
}

/// A line of a part as a message has it, of rounds the first one.
pub(crate) fn line_text(line: &Line) -> String {
    match line {
        Line::Set(set) => set_text(set),
        Line::Rounds(rounds) => rounds_text(rounds),
        Line::Activity(activity) => {
            format!("{}: {}", activity.time.value.spoken(), activity.what.value)
        }
        Line::Remark(remark) => remark.value.clone(),
    }
}

fn heading(kind: PartKind) -> String {
    let text = kind.text();
    let (first, rest) = text.split_at(text.chars().next().map_or(0, char::len_utf8));
    format!("{}{rest}", first.to_uppercase())
}

/// "12 Jan 2027".
fn date_text(date: Date) -> String {
    let iso = date.to_string();
    let fields: Vec<usize> = iso.split('-').filter_map(|field| field.parse().ok()).collect();
    match fields.as_slice() {
        [year, month, day] => {
            let month = month.checked_sub(1).and_then(|at| MONTHS.get(at)).unwrap_or(&"");
            format!("{day} {month} {year}")
        }
        _ => iso,
    }
}

fn rounds_text(rounds: &Rounds) -> String {
    let mut text = format!("{} rounds", rounds.count.value);
    if let Some(rest) = &rounds.rest {
        text.push_str(&format!(", {} between rounds", rest.value.spoken()));
    }
    if !rounds.efforts.is_empty() {
        let efforts: Vec<&str> = rounds.efforts.iter().map(|effort| effort.value.said()).collect();
        text.push_str(&format!(", {}", efforts.join(" / ")));
    }
    text
}

/// A set as a line, its cue in quotes where it would be read as something else.
fn set_text(set: &Set) -> String {
    let lanes: Vec<&str> = set.lanes.iter().map(|lane| lane.value.as_str()).collect();
    let lanes = if lanes.is_empty() { String::new() } else { format!("{}: ", lanes.join(", ")) };
    let mut bare = set.swim.value.to_string();
    for clause in clauses(set) {
        bare.push_str(", ");
        bare.push_str(&clause);
    }
    let Some(cue) = &set.cue else { return format!("{lanes}{bare}") };
    let plain = format!("{bare}: {}", cue.value);
    let mut own = set.clone();
    own.lanes.clear();
    let line = match reads_as(&plain, &Line::Set(Box::new(own))) {
        true => plain,
        false => format!("{bare}: \"{}\"", cue.value),
    };
    format!("{lanes}{line}")
}

fn clauses(set: &Set) -> Vec<String> {
    let mut clauses = Vec::new();
    clauses.extend(set.rest.as_ref().map(|rest| format!("rest {}", rest_text(rest.value))));
    clauses.extend(set.on.as_ref().map(|on| match on.value {
        OnSaid::Every(time) => format!("on {time}"),
        OnSaid::Per100(time) => format!("on {time}/100"),
    }));
    clauses
        .extend(set.rest_after.as_ref().map(|rest| format!("then rest {}", rest.value.spoken())));
    clauses.extend(set.effort.as_ref().map(|effort| effort.value.said().to_owned()));
    clauses.extend(set.pattern.as_ref().map(|pattern| pattern.value.to_string()));
    clauses.extend(set.strokes.as_ref().map(|aim| match aim.value {
        Aim::Count => "count strokes".to_owned(),
        Aim::Hold => "hold count".to_owned(),
        Aim::Fewer(1) => "1 stroke fewer".to_owned(),
        Aim::Fewer(fewer) => format!("{fewer} strokes fewer"),
    }));
    clauses.extend(set.gear.iter().map(|gear| format!("using {}", gear.value)));
    clauses.extend(set.keep.as_ref().map(|keep| format!("keep {}", keep.value)));
    if set.fixed {
        clauses.push("fixed".to_owned());
    }
    clauses
}
