//! `deckcard show FILE…`

use std::io::{self, Write};

use serde_json::Value;

use super::tell::Teller;
use super::{Exit, Input, Refusal, files};
use crate::intake;
use crate::plan::Worked;
use crate::report::{json, table};

/// Arguments of `show`.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    #[command(flatten)]
    input: Input,
    /// Print JSON; an array where several files are named
    #[arg(long)]
    json: bool,
}

/// Shows every session that can be worked out.
pub(super) fn run(arguments: &Arguments) -> Result<Exit, Refusal> {
    let mut teller = Teller::new(arguments.input.format);
    let mut out = io::stdout().lock();
    let mut objects = Vec::new();
    let files = files::expand(&arguments.input.files)?;
    for (index, path) in files.iter().enumerate() {
        let intake = match intake::open(path) {
            Ok(intake) => intake,
            Err(error) => {
                teller.refused(&error);
                continue;
            }
        };
        teller.tell(&intake.findings, &intake.sources);
        let Some(ready) = intake.ready else { continue };
        let worked = Worked::of(&ready.session, ready.written);
        if arguments.json {
            objects.push(json::session(&worked, &intake.findings, &intake.sources));
        } else {
            if index > 0 {
                writeln!(out)?;
            }
            write!(out, "{}", table::session(&worked))?;
        }
    }
    if arguments.json {
        print_json(&mut out, objects, files.len())?;
    }
    Ok(teller.finish())
}

/// One session as an object, several as an array; nothing where the one cannot be shown.
fn print_json(out: &mut impl Write, mut objects: Vec<Value>, files: usize) -> io::Result<()> {
    match (files, objects.pop()) {
        (1, None) => Ok(()),
        (1, Some(object)) => writeln!(out, "{object:#}"),
        (_, last) => {
            objects.extend(last);
            writeln!(out, "{:#}", Value::from(objects))
        }
    }
}
