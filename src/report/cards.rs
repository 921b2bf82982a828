//! How a session fits on stocks: cards, cap heights, reading distances.

use std::fmt::Write;

use crate::card::{Fault, Reading};
use crate::finding::visible;
use crate::plan::Version;
use crate::press::Press;

/// The lines above those of the stocks.
pub fn head(version: &Version) -> String {
    format!(
        "{}\n{:<18} {:<9} {:>5}  {:>18}  {:>14}\n",
        visible::line(&version.plan.title.value),
        "stock",
        "pool",
        "cards",
        "swim line capitals",
        "all reads from"
    )
}

/// A line for a version on a stock. Where there are lanes, all their cards are counted and the
/// smallest type is given.
pub fn line(name: &str, press: &Press, version: &Version) -> String {
    let mut count = 0;
    let mut smallest: Option<Reading> = None;
    let mut left_out = false;
    for plan in version.printed() {
        let composed = press.composed(plan);
        count += composed.cards.len();
        let reading = composed.reading();
        left_out |= composed.faults.iter().any(Fault::leaves_out);
        if smallest.is_none_or(|other| reading.reads_from_mm < other.reads_from_mm) {
            smallest = Some(reading);
        }
    }
    let Some(reading) = smallest else { return String::new() };
    let name = visible::line(name);
    let asked_mm = press.stock().reading.mm();
    let far = format!("{:.2} m", reading.reads_from_mm / 1000.0);
    let mut line = format!(
        "{name:<18} {:<9} {count:>5}  {:>15.1} mm  {far:>14}",
        version.plan.pool.to_string(),
        reading.swim_cap_mm,
    );
    if reading.reads_from_mm < asked_mm - 1.0 {
        let _ = write!(line, "  (the stock asks for {:.2} m)", asked_mm / 1000.0);
    }
    if left_out {
        line.push_str("  (not all of it fits)");
    }
    line.push('\n');
    line
}
