//! A swim line in its plainest spelling; read again, it is the same line.

use std::fmt::{self, Display, Formatter};

use super::{Asked, Course, Differ, Grouped, Legs, Pieces, Swim, Way, Which};
use crate::measure::{Distance, Seconds, Unit};
use crate::reader::trade_words::TradeWord;

impl Display for Swim {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        if self.repeats != 1 {
            write!(f, "{} x ", self.repeats)?;
        }
        write!(f, "{}", self.course)?;
        put(f, &self.way)?;
        if let Course::Broken { at, rest, .. } = &self.course {
            write!(f, " broken {at}, {}", in_words(*rest))?;
        }
        write_legs(f, &self.legs, self.way.is_empty())?;
        if let Some(differ) = &self.differ {
            write_differ(f, differ, self.way.is_empty() && self.legs == Legs::Whole)?;
        }
        if let Some(grouped) = &self.grouped {
            write!(f, " {grouped}")?;
        }
        Ok(())
    }
}

/// A way behind what is written, with a space before it.
fn put(f: &mut Formatter<'_>, way: &Way) -> fmt::Result {
    if way.is_empty() { Ok(()) } else { write!(f, " {way}") }
}

fn write_legs(f: &mut Formatter<'_>, legs: &Legs, bare: bool) -> fmt::Result {
    match legs {
        Legs::Whole => Ok(()),
        Legs::Parts(parts) => {
            for (at, (asked, way)) in parts.iter().enumerate() {
                write!(f, "{}{asked}", if at == 0 { " (" } else { ", " })?;
                put(f, way)?;
            }
            f.write_str(")")
        }
        Legs::Turns { ways, by } => {
            for (at, way) in ways.iter().enumerate() {
                let before = match (at, bare) {
                    (0, true) => " ",
                    (0, false) => " (",
                    _ => "/",
                };
                write!(f, "{before}{way}")?;
            }
            if let Some(by) = by {
                write!(f, " by {by}")?;
            }
            f.write_str(if bare { "" } else { ")" })
        }
    }
}

fn write_differ(f: &mut Formatter<'_>, differ: &Differ, bare: bool) -> fmt::Result {
    match differ {
        Differ::Some(some) => {
            let in_brackets = some.iter().any(|(which, _)| matches!(which, Which::Range(..)));
            f.write_str(match (in_brackets, bare) {
                (true, _) => " (",
                (false, true) => " ",
                (false, false) => ", ",
            })?;
            // A lone number is one of a repeat beside a range, or behind its sign.
            let range = |which: &Which| matches!(which, Which::Range(from, to) if from != to);
            let has_range = some.iter().any(|(which, _)| range(which));
            for (at, (which, way)) in some.iter().enumerate() {
                let lone = !has_range && matches!(which, Which::Range(..));
                let sign = if lone { "#" } else { "" };
                write!(f, "{}{sign}{which}", if at == 0 { "" } else { ", " })?;
                put(f, way)?;
            }
            if in_brackets { f.write_str(")") } else { Ok(()) }
        }
        Differ::Runs(runs) => {
            for (at, (count, way)) in runs.iter().enumerate() {
                write!(f, "{}{count}", if at == 0 { ": " } else { ", " })?;
                put(f, way)?;
            }
            Ok(())
        }
        Differ::MedleyOrder { reverse: false } => f.write_str(" IM order"),
        Differ::MedleyOrder { reverse: true } => f.write_str(" reverse IM order"),
    }
}

impl Display for Way {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        let mut words: Vec<String> = Vec::new();
        words.extend(self.stroke.map(|stroke| stroke.to_string()));
        words.extend(self.mode.map(|mode| mode.to_string()));
        words.extend(self.movement.map(|movement| movement.text().to_owned()));
        words.extend(self.effort.as_ref().map(|effort| effort.said().to_owned()));
        let on = self.on.map(|on| match on < AN_HOUR {
            true => format!("on {on}"),
            false => format!("on {}", in_words(on)),
        });
        words.extend(on);
        f.write_str(&words.join(" "))
    }
}

/// From here on a time has two colons, which the line does not know.
const AN_HOUR: Seconds = Seconds::new(3600);

impl Display for Course {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match self {
            Course::Each(asked) | Course::Broken { whole: asked, .. } => asked.fmt(f),
            Course::Ladder(steps) => joined(f, steps),
            Course::Timed(time) => f.write_str(&in_words(*time)),
        }
    }
}

/// A time as the line has it, which is never read as a distance: "10 min", "1 min 30 s".
fn in_words(time: Seconds) -> String {
    match (time.get() / 60, time.get() % 60) {
        (0, seconds) => format!("{seconds} s"),
        (minutes, 0) => format!("{minutes} min"),
        (minutes, seconds) => format!("{minutes} min {seconds} s"),
    }
}

fn joined(f: &mut Formatter<'_>, steps: &[Asked]) -> fmt::Result {
    for (at, step) in steps.iter().enumerate() {
        write!(f, "{}{step}", if at == 0 { "" } else { "-" })?;
    }
    Ok(())
}

impl Display for Pieces {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match self {
            Pieces::Listed(pieces) => joined(f, pieces),
            Pieces::Each(piece) => write!(f, "at each {piece}"),
        }
    }
}

impl Display for Asked {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match self {
            Asked::Lengths(1) => f.write_str("1 length"),
            Asked::Lengths(count) => write!(f, "{count} lengths"),
            Asked::HalfLength => f.write_str("half a length"),
            Asked::Widths(1) => f.write_str("1 width"),
            Asked::Widths(count) => write!(f, "{count} widths"),
            Asked::Number(sixths, unit) => {
                let number = Distance::from_sixths(*sixths, unit.unwrap_or(Unit::Metre));
                f.write_str(&number.number_text())?;
                unit.map_or(Ok(()), |unit| write!(f, " {unit}"))
            }
        }
    }
}

impl Display for Which {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match self {
            Which::Odd => f.write_str("odd"),
            Which::Even => f.write_str("even"),
            Which::Every(2) => f.write_str("every 2nd"),
            Which::Every(3) => f.write_str("every 3rd"),
            Which::Every(count) => write!(f, "every {count}th"),
            Which::Range(from, to) if from == to => write!(f, "{from}"),
            Which::Range(from, to) => write!(f, "{from}-{to}"),
            Which::Last(1) => f.write_str("last"),
            Which::Last(count) => write!(f, "last {count}"),
        }
    }
}

impl Display for Grouped {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.pattern)?;
        for (at, (from, to)) in self.groups.iter().enumerate() {
            write!(f, "{} {from}-{to}", if at == 0 { "" } else { "," })?;
        }
        Ok(())
    }
}
