//! `deckcard new`

use std::path::{Path, PathBuf};

use clap::ValueEnum;

use super::reporter::Reporter;
use super::{Refusal, write};
use crate::forms;
use crate::intake;
use crate::session::Usual;
use crate::source::Source;

/// Arguments of `new`.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// What kind of session to begin with
    #[arg(long, value_enum, default_value_t)]
    example: Example,
    /// Where it goes: a name that ends in .txt or .md is a message, one in .toml is TOML; a message on
    /// standard output without it
    #[arg(short, long, value_name = "FILE")]
    output: Option<PathBuf>,
    /// Write over a file that exists
    #[arg(long)]
    force: bool,
}

/// Sessions to begin with.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
enum Example {
    /// An ordinary evening: warm-up, a main set with rounds, cool-down
    #[default]
    Plain,
    /// Three lanes, each in its own time
    Lanes,
    /// Send-offs by the clock
    Clock,
    /// For beginners, counted in lengths
    FirstLengths,
}

impl Example {
    fn text(self) -> &'static str {
        match self {
            Self::Plain => include_str!("../../templates/sessions/plain.txt"),
            Self::Lanes => include_str!("../../templates/sessions/lanes.txt"),
            Self::Clock => include_str!("../../templates/sessions/clock.txt"),
            Self::FirstLengths => include_str!("../../templates/sessions/first-lengths.txt"),
        }
    }
}

/// Writes a session to begin with.
pub(super) fn run(arguments: &Arguments, reporter: &mut Reporter) -> Result<(), Refusal> {
    let text = arguments.example.text();
    let output = arguments.output.as_deref();
    let ending = output.and_then(Path::extension);
    let is_toml = ending.is_some_and(|ending| ending.eq_ignore_ascii_case("toml"));
    let written = if is_toml { as_toml(text) } else { text.to_owned() };
    write::text(output, &written, arguments.force, reporter)
}

fn as_toml(text: &str) -> String {
    // Standard input takes no club up.
    let source = Source::new("standard input", text);
    let session = intake::read_as_usual(source.clone(), &Usual::default()).session;
    session.map_or_else(String::new, |session| forms::as_toml(&session, &source, None))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_example_is_a_session_without_a_finding_in_both_forms() {
        for example in Example::value_variants() {
            let text = example.text();
            for (name, text) in [("x.txt", text.to_owned()), ("x.toml", as_toml(text))] {
                let intake = intake::take(Source::new(name, text.clone()));
                let found: Vec<&str> =
                    intake.findings.iter().map(|finding| finding.title.as_str()).collect();
                assert_eq!(found, Vec::<&str>::new(), "{example:?}\n{text}");
                assert!(intake.ready.is_some_and(|ready| ready.session.other_pool().is_some()));
            }
        }
    }
}
