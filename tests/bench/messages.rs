//! How long messages take to be read: those of the tests, with pieces put in and taken out, and a text
//! as large as a file may be.
//!
//! `cargo bench --bench messages`. Times are printed; nothing is asserted.

use std::time::{Duration, Instant};

use deckcard::source::{LoadError, Source};
use deckcard::{intake, session};

fn main() {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/messages");
    let files =
        std::fs::read_dir(folder).expect("the messages").map(|file| file.expect("a file").path());
    let texts: Vec<String> = files
        .filter(|path| path.extension().is_some_and(|ending| ending == "txt"))
        .map(|path| std::fs::read_to_string(path).expect("a message"))
        .collect();
    let (mut whole, mut slowest, mut count) = (Duration::ZERO, Duration::ZERO, 0_u32);
    let mut worked = Duration::ZERO;
    for (at, text) in texts.iter().enumerate() {
        for step in 0..200 {
            // A line of another message in the place of each byte in turn.
            let other = &texts[(at + step) % texts.len()];
            let line = other.lines().nth(step % other.lines().count()).unwrap_or_default();
            let mut mutated = text.clone();
            let mut cut = step * text.len() / 200;
            while !mutated.is_char_boundary(cut) {
                cut += 1;
            }
            mutated.insert_str(cut, line);
            let source = Source::new("m.txt", mutated);
            let begun = Instant::now();
            let reading = session::read(source.clone(), &|name| {
                let error = std::io::Error::from(std::io::ErrorKind::NotFound);
                Err(LoadError::Io { path: name.to_owned(), error })
            });
            let took = begun.elapsed();
            drop(reading);
            whole += took;
            slowest = slowest.max(took);
            let begun = Instant::now();
            drop(intake::take(source));
            worked += begun.elapsed();
            count += 1;
        }
    }
    println!("{count} messages read, {:.2?} each, the slowest {slowest:.2?}", whole / count.max(1));
    println!("read, checked and worked out in both pools, {:.2?} each", worked / count.max(1));
    let large = "8 x 50 free @ 1:00 hold it\n".repeat(1024 * 1024 / 27);
    for (name, text) in [("lines", large.clone()), ("one line", large.replace('\n', " "))] {
        let begun = Instant::now();
        let intake = intake::take(Source::new("m.txt", text));
        println!("1 MiB in {name}: {:.2?}, {} findings", begun.elapsed(), intake.findings.len());
    }
}
