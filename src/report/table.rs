//! The table of a session: parts, totals, times.

use std::fmt::Write;

use crate::finding::visible;
use crate::measure::{Distance, Seconds};
use crate::plan::recut::Change;
use crate::plan::{
    LinePlan, PartPlan, Plan, SetPlan, Spacing, Version, Worked, metres_a_minute_tenths,
};
use crate::reader::trade_words::TradeWord;
use crate::session::RestSaid;

/// The whole table, with a line for each lane and the other pool's table below.
pub fn session(worked: &Worked) -> String {
    let mut out = String::new();
    for version in [&worked.written].into_iter().chain(&worked.other) {
        if !out.is_empty() {
            out.push('\n');
        }
        one_version(version, &mut out);
    }
    out
}

/// Writing to a string cannot fail; the result of each `write!` is dropped for that.
fn one_version(version: &Version, out: &mut String) {
    let plan = &version.plan;
    let _ = writeln!(out, "{}", visible::line(&plan.title.value));
    let mut facts = vec![format!("{} pool", plan.pool), plan.level.to_string()];
    facts.extend(plan.goal.map(|goal| goal.to_string()));
    facts
        .extend(plan.focus.as_ref().map(|focus| format!("focus: {}", visible::line(&focus.value))));
    facts.push(match plan.at_usual_pace {
        true => format!("pace {}, as usual", plan.pace),
        false => format!("pace {}", plan.pace),
    });
    if let Some(from) = plan.recut {
        facts.push(format!("recut from {}", from.distance.with_commas()));
    }
    facts.extend(plan.lap_text().map(|lap| format!("1 lap = {lap}")));
    let _ = writeln!(out, "{}\n", facts.join(", "));
    for part in &plan.parts {
        part_lines(part, plan, out);
    }
    foot(plan, out);
    lanes(version, out);
    let _ = write!(out, "{}", changes(plan, version));
}

/// A row for each lane, below all else: what it swims and when it is out.
fn lanes(version: &Version, out: &mut String) {
    if !version.lanes.is_empty() {
        out.push_str("\nlanes\n");
    }
    for lane in &version.lanes {
        lane_line(lane, out);
    }
}

/// What differs from the written session, set by set: in the version, then in each lane that is
/// not cut the same.
fn changes(plan: &Plan, version: &Version) -> String {
    let mut out = String::new();
    let mut block = |head: String, changes: &mut dyn Iterator<Item = &Change>| {
        let lines: Vec<String> =
            changes.map(|change| format!("  {}\n", visible::line(&change.to_string()))).collect();
        if !lines.is_empty() {
            let _ = write!(out, "\n{head}\n{}", lines.concat());
        }
    };
    let from = plan.recut.map(|from| from.distance.with_commas());
    block(format!("recut from {}", from.unwrap_or_default()), &mut plan.changes.iter());
    for lane in &version.lanes {
        let name = visible::line(lane.lane.as_ref().map_or("", |lane| lane.name.value.as_str()));
        if lane.changes != plan.changes {
            block(format!("{name} recut"), &mut lane.changes.iter());
        }
    }
    out
}

fn part_lines(part: &PartPlan, plan: &Plan, out: &mut String) {
    let total = part.distance(plan.pool);
    let per_minute = metres_a_minute_tenths(total, part.seconds);
    let mut name = part.kind.text().to_owned();
    if let Some(title) = &part.title {
        let _ = write!(name, ": {}", visible::line(&title.value));
    }
    if let Some(starts) = part.starts {
        let _ = write!(name, ", {starts}");
    }
    let _ = writeln!(
        out,
        "{name:<44} {:>10} {:>4} lengths {:>3}.{} % {:>8} {:>4}.{} m/min",
        about(part.is_about(), total),
        part.lengths.get(),
        part.share_permille / 10,
        part.share_permille % 10,
        part.seconds.to_string(),
        per_minute / 10,
        per_minute % 10,
    );
    for line in &part.lines {
        line_rows(line, 1, out);
    }
}

fn line_rows(line: &LinePlan, depth: usize, out: &mut String) {
    match line {
        LinePlan::Set(set) => set_row(set, depth, out),
        LinePlan::Activity { what, each, .. } => {
            let what = format!("{:indent$}{}", "", visible::line(&what.value), indent = 2 * depth);
            let _ = writeln!(out, "{what:<62} {:>24}", each.to_string());
        }
        LinePlan::Remark(remark) => {
            let _ =
                writeln!(out, "{:indent$}{}", "", visible::line(&remark.value), indent = 2 * depth);
        }
        LinePlan::Rounds { count: 1, lines, .. } => {
            lines.iter().for_each(|line| line_rows(line, depth, out));
        }
        LinePlan::Rounds { count, lines, rest, .. } => {
            let rest =
                rest.map_or(String::new(), |rest| format!(", {} between rounds", rest.spoken()));
            let _ = writeln!(out, "{:indent$}{count} rounds of{rest}", "", indent = 2 * depth);
            for line in lines {
                line_rows(line, depth + 1, out);
            }
        }
    }
}

fn set_row(set: &SetPlan, depth: usize, out: &mut String) {
    let chalked = &set.chalk;
    let effort = set.effort.as_ref().map_or("", |effort| effort.said());
    let rest = set.rest().spoken();
    let spacing = match &set.spacing {
        Spacing::Rest { said: None, .. } if set.rest() == Seconds::ZERO => String::new(),
        Spacing::Rest { said: None, .. } => format!("(rest {rest} counted)"),
        Spacing::Rest { said: Some(said), .. } => rest_said(*said),
        Spacing::SendOff { per_100: Some(on), .. } => format!("on {on}/100"),
        Spacing::SendOff { every, .. } => {
            let mut times: Vec<String> = every.iter().map(Seconds::to_string).collect();
            times.dedup();
            match times.as_slice() {
                [one] => format!("on {one} (rest {rest})"),
                _ => format!("on {}", times.join(", ")),
            }
        }
    };
    let mut swim = format!("{:indent$}{chalked}", "", indent = 2 * depth);
    // A line of its own where it would push the columns out of place.
    if swim.chars().count() > SWIM_COLUMNS {
        let _ = writeln!(out, "{swim}");
        swim.clear();
    }
    let _ = writeln!(
        out,
        "{swim:<29} {effort:<7} {spacing:<24} swim {:>5} {:>20}",
        set.swim().to_string(),
        set.seconds.to_string()
    );
}

/// The columns of a swim line; effort and rest come behind them.
const SWIM_COLUMNS: usize = 29;

/// "rest 20 s", "rest 10 s to 20 s", "rest 20 s or more", "rest when needed".
fn rest_said(said: RestSaid) -> String {
    match said {
        RestSaid::Of(rest) => format!("rest {}", rest.spoken()),
        RestSaid::Between(least, most) => format!("rest {} to {}", least.spoken(), most.spoken()),
        RestSaid::OrMore(rest) => format!("rest {} or more", rest.spoken()),
        RestSaid::WhenNeeded => "rest when needed".to_owned(),
    }
}

/// A distance, "about" where some of it follows from a time.
fn about(is_about: bool, distance: Distance) -> String {
    let text = distance.with_commas();
    if is_about { format!("about {text}") } else { text }
}

fn foot(plan: &Plan, out: &mut String) {
    let pauses = plan.line_count().saturating_sub(1);
    let changeovers = format!("changeovers, {pauses} x {}", plan.changeover.spoken());
    let _ = writeln!(out, "{changeovers:<44} {:>41}", plan.changeovers().to_string());
    let _ = write!(
        out,
        "{:<44} {:>10} {:>4} lengths {:>16}",
        "total",
        about(plan.is_about(), plan.distance()),
        plan.lengths.get(),
        plan.seconds.to_string()
    );
    out.push_str(&against_the_clock(plan));
    out.push('\n');
}

/// "  ends 19:56:14, 3:46 left of 45 min", as far as start and booking are known.
fn against_the_clock(plan: &Plan) -> String {
    let ends = plan.ends().map(|ends| format!("ends {}", ends.to_the_second()));
    let booked = plan.booked.as_ref().map(|booked| booked.value);
    let left = booked.map(|booked| match plan.seconds <= booked {
        true => format!("{} left of {}", booked.less(plan.seconds), booked.spoken()),
        false => format!("{} over {}", plan.seconds.less(booked), booked.spoken()),
    });
    let facts: Vec<String> = ends.into_iter().chain(left).collect();
    if facts.is_empty() { String::new() } else { format!("  {}", facts.join(", ")) }
}

fn lane_line(plan: &Plan, out: &mut String) {
    let Some(lane) = &plan.lane else { return };
    let name = format!("  {}, pace {}", visible::line(&lane.name.value), plan.pace);
    let _ = writeln!(
        out,
        "{name:<44} {:>10} {:>4} lengths {:>16}{}",
        about(plan.is_about(), plan.distance()),
        plan.lengths.get(),
        plan.seconds.to_string(),
        against_the_clock(plan),
    );
}
