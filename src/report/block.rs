//! A block as a table for the screen and as JSON.

use std::fmt::Write;

use serde_json::{Value, json};

use super::counted;
use super::json::{metres, number};
use crate::block::{BlockSession, CheckedBlock, CheckedWeek, weekday};
use crate::finding::{self, Finding, visible};
use crate::measure::{TrueLength, Unit};
use crate::reader::trade_words::TradeWord;
use crate::source::Source;

/// The table: a line for each week with its sessions below.
///
/// Writing to a string cannot fail; the result of each `write!` is dropped for that.
pub fn table(block: &CheckedBlock) -> String {
    let mut out = String::new();
    let _ = writeln!(out, "{}", visible::line(&block.title.value));
    let _ = writeln!(out, "{}\n", facts(block));
    let _ = writeln!(out, "{:<32} {:>10} {:>8} {:>10}", "", "total", "growth", "longest");
    for week in &block.weeks {
        week_lines(block, week, &mut out);
    }
    let total = block.weeks.iter().fold(TrueLength::from_grid(0), |sum, week| sum.plus(week.total));
    let _ = writeln!(out, "{:<32} {:>10}", "all weeks", block.in_words(total));
    out
}

fn facts(block: &CheckedBlock) -> String {
    let sessions = block.sessions().count();
    let weeks = counted(block.weeks.len(), "week");
    let mut facts = vec![format!("{weeks}, {}", counted(sessions, "session"))];
    facts.extend(block.from.as_ref().map(|from| format!("from {}", from.value.with_commas())));
    let goal = block.goal.as_ref();
    facts.extend(goal.map(|goal| format!("to {} without a stop", goal.value.spoken())));
    facts.extend(block.note.as_ref().map(|note| visible::line(&note.value).into_owned()));
    facts.join(", ")
}

fn week_lines(block: &CheckedBlock, week: &CheckedWeek, out: &mut String) {
    let mut name = format!("week {}", week.number);
    if let Some(date) = week.date {
        let _ = write!(name, ", from {date}");
    }
    if week.easier {
        name.push_str(", easier");
    }
    let growth = week.growth_permille.map_or(String::new(), |growth| {
        let sign = if growth < 0 { '-' } else { '+' };
        let tenths = growth.unsigned_abs();
        format!("{sign}{}.{} %", tenths / 10, tenths % 10)
    });
    let title = visible::line(week.title.as_ref().map_or("", |title| title.value.as_str()));
    let row = format!(
        "{name:<32} {:>10} {growth:>8} {:>10}  {title}",
        block.in_words(week.total),
        block.in_words(week.longest),
    );
    let _ = writeln!(out, "{}", row.trim_end());
    for session in &week.sessions {
        session_line(session, out);
    }
}

fn session_line(session: &BlockSession, out: &mut String) {
    let plan = &session.ready.written.plan;
    let mut name = format!("  {}", session.number);
    if let Some(date) = session.date {
        let day = weekday(date).map_or("", TradeWord::text);
        let _ = write!(name, "  {day} {date}");
    }
    if let Some(starts) = session.starts {
        let _ = write!(name, " {starts}");
    }
    let _ = writeln!(
        out,
        "{name:<32} {:>10} {:>8} {:>10}  {}: {} ({}, {})",
        session.distance().with_commas(),
        plan.seconds.to_string(),
        session.longest.with_commas(),
        visible::line(&plan.title.value),
        visible::line(plan.focus.as_ref().map_or("-", |focus| &focus.value)),
        plan.goal.map_or("-", TradeWord::text),
        visible::line(session.file.as_deref().unwrap_or("drafted")),
    );
}

/// The JSON of a block. Stable: keys may be added, none is taken away.
pub fn json(block: &CheckedBlock, findings: &[Finding], sources: &[Source]) -> Value {
    let distance = |given: &Option<crate::finding::Placed<crate::measure::Distance>>| {
        given.as_ref().map(|distance| distance.value.to_string())
    };
    json!({
        "title": block.title.value,
        "club": block.club.as_ref().map(|club| &club.name.value),
        "note": block.note.as_ref().map(|note| &note.value),
        "from": distance(&block.from),
        "goal": distance(&block.goal),
        "unit": block.unit().map(Unit::symbol),
        "weeks": block.weeks.iter().map(|week| week_json(block, week)).collect::<Vec<_>>(),
        "findings": finding::json::array(findings, sources),
    })
}

fn week_json(block: &CheckedBlock, week: &CheckedWeek) -> Value {
    // In the unit all sessions share; in metres where there are both.
    let unit = block.unit().unwrap_or(Unit::Metre);
    let growth = week.growth_permille.map(|tenths| tenths as f64 / 10.0);
    json!({
        "number": week.number,
        "title": week.title.as_ref().map(|title| &title.value),
        "date": week.date.map(|date| date.to_string()),
        "easier": week.easier,
        "distance": number(week.total.in_unit(unit)),
        "distance_m": metres(week.total),
        "growth": growth,
        "longest": number(week.longest.in_unit(unit)),
        "longest_m": metres(week.longest),
        "sessions": week.sessions.iter().map(session_json).collect::<Vec<_>>(),
    })
}

fn session_json(session: &BlockSession) -> Value {
    let plan = &session.ready.written.plan;
    json!({
        "number": session.number,
        "file": session.file,
        "title": plan.title.value,
        "date": session.date.map(|date| date.to_string()),
        "starts": session.starts.map(|starts| starts.to_string()),
        "booked_seconds": session.booked.map(|booked| booked.get()),
        "level": plan.level.text(),
        "goal": plan.goal.map(TradeWord::text),
        "focus": plan.focus.as_ref().map(|focus| &focus.value),
        "pool": plan.pool.to_string(),
        "distance": number(session.distance()),
        "distance_m": metres(session.distance().true_length()),
        "lengths": plan.lengths.get(),
        "seconds": plan.seconds.get(),
        "longest": number(session.longest),
        "longest_m": metres(session.longest.true_length()),
    })
}
