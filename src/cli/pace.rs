//! `deckcard pace SWIM…`

use std::fmt::Write;

use super::{Refusal, answer, explain};
use crate::plan::critical::{CAUTIONS, TimedSwim, critical_pace};

/// Arguments of `pace`.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// Timed swims, distance=time: 200=2:50 400=6:00
    #[arg(required = true, value_name = "SWIM")]
    swims: Vec<TimedSwim>,
}

/// Prints the pace that timed swims give, and how far to trust it.
pub(super) fn run(arguments: &Arguments) -> Result<(), Refusal> {
    let pace = critical_pace(&arguments.swims)?;
    let unit = arguments.swims.iter().find_map(|swim| swim.unit);
    let per = unit.map_or("100".to_owned(), |unit| format!("100 {unit}"));
    let hundredths = pace.exact_s.times_rounded(100);
    let (minutes, seconds) = (hundredths / 6000, hundredths / 100 % 60);
    // Writing to a string cannot fail.
    let mut out = String::new();
    let _ = writeln!(out, "{minutes}:{seconds:02}.{:02} per {per}", hundredths % 100);
    let _ = writeln!(out, "in a session file: pace = \"{}\"\n", pace.per_100);
    if pace.shorter_is_slower {
        let warning = "A shorter swim was slower per 100 than a longer one: one of them was not swum \
                    flat out, and the pace means little.";
        let _ = writeln!(out, "{}", explain::wrapped(warning));
    }
    for caution in CAUTIONS {
        let _ = writeln!(out, "{}", explain::wrapped(caution));
    }
    answer::page(&out)
}
