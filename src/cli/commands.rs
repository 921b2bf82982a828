//! The program's commands and exit codes, for the reference page.

use clap::{Arg, CommandFactory};

use super::{Arguments, Exit};
use crate::paint::png;
use crate::report::reference::{Command, Program, number};

/// Every command with its options, every exit code, and limits of the program's own.
pub fn program() -> Program {
    let mut tree = Arguments::command();
    tree.build();
    let mut commands = Vec::new();
    list(&tree, &mut commands);
    let exits = [
        (Exit::Clean, "No error; there may be warnings and notes."),
        (
            Exit::Errors,
            "An error in a file, of which no card is printed; or standard output is full.",
        ),
        (Exit::Refused, "Wrong use, or a file cannot be read or written."),
    ];
    let (least, most) = (png::DPI.start(), number((*png::DPI.end()).into()));
    let preview = format!("{least} to {most} dpi, up to {} pixels", number(png::MOST_PIXELS));
    Program {
        commands,
        exits: exits.map(|(exit, means)| (exit as u8, means)).to_vec(),
        limits: vec![("a preview", preview)],
    }
}

/// Adds the commands below `parent` that have none below themselves.
fn list(parent: &clap::Command, commands: &mut Vec<Command>) {
    for command in parent.get_subcommands().filter(|command| command.get_name() != "help") {
        if command.has_subcommands() {
            list(command, commands);
            continue;
        }
        let usage = command.clone().render_usage().to_string();
        let options = command.get_arguments().filter(|argument| {
            !argument.is_hide_set() && !["help", "version"].contains(&argument.get_id().as_str())
        });
        commands.push(Command {
            usage: usage.trim_start_matches("Usage: ").to_owned(),
            about: command.get_about().map(ToString::to_string).unwrap_or_default(),
            options: options.map(option).collect(),
        });
    }
}

/// An argument as it is written, and what it does.
fn option(argument: &Arg) -> (String, String) {
    let written = match argument.get_short() {
        Some(short) => format!("-{short}, {argument}"),
        None => argument.to_string(),
    };
    let mut help = argument.get_help().map(ToString::to_string).unwrap_or_default();
    let words: Vec<String> = match argument.get_action().takes_values() {
        true => argument.get_possible_values().iter().map(|word| word.get_name().into()).collect(),
        false => Vec::new(),
    };
    if !words.is_empty() {
        help += &format!(": {}", words.join(", "));
    }
    (written, help)
}
