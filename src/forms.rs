//! A session in its two forms: as a message and as TOML. Either is written from what was read of the
//! other, and read back it is the same session.
//!
//! ```
//! use deckcard::source::Source;
//! use deckcard::{forms, session};
//!
//! let written = Source::new("tuesday.toml", session::SMALLEST);
//! let reading = session::read(written, &|_| unreachable!("it names no club file"));
//! let text = forms::as_text(&reading.session.unwrap(), &reading.sources[0], false);
//! assert!(text.starts_with("Legs that steer\n25 m, improver\n"));
//! assert!(text.contains("\nMain set\n12 x 50 free, rest 20 s: kick from the hip\n"));
//! ```

mod comments;
mod text;
mod toml;

pub use text::as_text;
pub(crate) use text::line_text;
pub use toml::as_toml;

use crate::finding::{FileId, Placed};
use crate::measure::{Pace, Unit};
use crate::reader::trade_words::TradeWord;
use crate::reader::value::Factor;
use crate::session::{RestSaid, Session, SpeedFactors};

/// Whether a value is the session's own, and no usual one of its club.
fn is_own<T>(value: &Placed<T>) -> bool {
    value.place.file == FileId::MAIN
}

/// A pace as both forms have it: of which unit it is where that is not the pool's.
fn pace_text(pace: Pace, pool: Unit) -> String {
    match pace.unit == pool {
        true => pace.per_100.to_string(),
        false => format!("{} per 100 {}", pace.per_100, pace.unit),
    }
}

/// A rest as both forms say it.
fn rest_text(rest: RestSaid) -> String {
    match rest {
        RestSaid::Of(time) => time.spoken(),
        RestSaid::Between(least, most) if most.get() < 60 => {
            format!("{}-{} s", least.get(), most.get())
        }
        RestSaid::Between(least, most) => format!("{least}-{most}"),
        RestSaid::OrMore(time) => format!("{} or more", time.spoken()),
        RestSaid::WhenNeeded => "when you need".to_owned(),
    }
}

/// "1.08".
fn factor_text(factor: Factor) -> String {
    let text = format!("{}.{:03}", factor.0 / 1000, factor.0 % 1000);
    let short = text.trim_end_matches('0');
    if short.ends_with('.') { format!("{short}0") } else { short.to_owned() }
}

/// The factors by their keys.
fn factors(speed: &SpeedFactors) -> Vec<(String, String)> {
    let strokes =
        speed.strokes.iter().map(|(stroke, factor)| (stroke.text().to_lowercase(), factor.value));
    let modes = speed.modes.iter().map(|(mode, factor)| (mode.text().to_owned(), factor.value));
    let efforts =
        speed.efforts.iter().map(|(effort, factor)| (effort.text().to_owned(), factor.value));
    strokes.chain(modes).chain(efforts).map(|(key, factor)| (key, factor_text(factor))).collect()
}

/// The session's pace, with its unit; `None` where it says none of its own.
fn own_pace(session: &Session) -> Option<Pace> {
    let pace = session.pace.as_ref().filter(|pace| is_own(pace) && !session.at_usual_pace)?;
    Some(Pace { per_100: pace.value, unit: session.pace_unit.unwrap_or(unit(session)) })
}

fn unit(session: &Session) -> Unit {
    session.pool.as_ref().map_or(Unit::Metre, |pool| pool.value.unit())
}
