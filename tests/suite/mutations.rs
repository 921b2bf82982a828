//! Demo files with bytes dropped, lines doubled and values swapped: no panic, every place
//! inside its text, and the same findings the second time.

use deckcard::finding::Finding;
use deckcard::intake::{self, Intake};
use deckcard::source;

use crate::command::demo_sessions;

/// Files in one run of the suite; `MUTATIONS=100000 cargo test --release` for a long one.
const USUAL_COUNT: usize = 3_000;

/// Numbers that look like chance and are the same every time: a linear congruence. By arithmetic
/// its period is whole, since the step is odd and the factor less one divides by 4.
struct Dice(u64);

impl Dice {
    fn below(&mut self, most: usize) -> usize {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        ((self.0 >> 33) as usize) % most.max(1)
    }
}

fn mutated(original: &[u8], dice: &mut Dice) -> Vec<u8> {
    let mut bytes = original.to_vec();
    for _ in 0..=dice.below(3) {
        let at = dice.below(bytes.len());
        match dice.below(6) {
            0 => {
                bytes.remove(at);
            }
            1 => bytes.insert(at, b"\"[]{}=,.:#-x0 9\n\\'\xc3\x00"[dice.below(20)]),
            2 => {
                let end = (at + dice.below(40)).min(bytes.len());
                bytes.drain(at..end);
            }
            3 => double_a_line(&mut bytes, at),
            4 => {
                let other = dice.below(bytes.len());
                bytes.swap(at, other);
            }
            _ => bytes[at] = b"0123456789"[dice.below(10)],
        }
        if bytes.is_empty() {
            break;
        }
    }
    bytes
}

fn double_a_line(bytes: &mut Vec<u8>, at: usize) {
    let start = bytes[..at].iter().rposition(|b| *b == b'\n').map_or(0, |i| i + 1);
    let end = bytes[at..].iter().position(|b| *b == b'\n').map_or(bytes.len(), |i| at + i + 1);
    let line = bytes[start..end].to_vec();
    bytes.splice(end..end, line);
}

fn taken(path: &str, bytes: &[u8]) -> Intake {
    let loaded = source::from_bytes(path, bytes.to_vec());
    intake::of_loaded(loaded).expect("bytes at hand are not read from anywhere")
}

fn places_are_inside(intake: &Intake) -> bool {
    let inside = |finding: &Finding| {
        let edits = finding.edit.iter().map(|edit| edit.place);
        finding
            .labels
            .iter()
            .map(|label| label.place)
            .chain(edits)
            .all(|place| intake.sources[place.file.0].text().get(place.span()).is_some())
    };
    intake.findings.iter().all(inside)
}

#[test]
fn mutated_demos_are_taken_calmly() {
    let count = std::env::var("MUTATIONS").ok().and_then(|n| n.parse().ok()).unwrap_or(USUAL_COUNT);
    let demos: Vec<(String, Vec<u8>)> = demo_sessions()
        .into_iter()
        .map(|path| (path.display().to_string(), std::fs::read(&path).expect("a demo")))
        .collect();
    let mut dice = Dice(2027);
    let mut faulty = 0;
    for round in 0..count {
        let (path, original) = &demos[round % demos.len()];
        let bytes = mutated(original, &mut dice);
        let intake = taken(path, &bytes);
        assert!(places_are_inside(&intake), "{}", String::from_utf8_lossy(&bytes));
        faulty += usize::from(!intake.findings.is_empty());
        if round % 50 == 0 {
            assert_eq!(
                intake.findings,
                taken(path, &bytes).findings,
                "the same file, other findings"
            );
            // Drawing must not stumble over a place either.
            deckcard::finding::human::render(&intake.findings, &intake.sources, false);
        }
    }
    assert!(faulty * 2 > count, "{faulty} of {count} mutated files were at fault");
}

/// Signs and words that messages are made of.
const OF_MESSAGES: [&str; 24] = [
    "\n",
    "\t",
    " x ",
    "(",
    ")",
    "{",
    "}",
    ":",
    " - ",
    "@",
    "1:30",
    "8 x 50",
    "/",
    "+",
    "\"",
    "\u{2019}",
    "\u{d7}",
    "\u{202e}",
    "\u{200b}",
    "3 rds:",
    "Main",
    "= 400",
    "99999999999",
    "broken 200",
];

/// A message with pieces put in, taken out and doubled, and lines of another between its own.
fn mutated_message(original: &str, other: &str, dice: &mut Dice) -> String {
    let mut text: Vec<char> = original.chars().collect();
    for _ in 0..=dice.below(4) {
        let at = dice.below(text.len());
        match dice.below(5) {
            0 => {
                text.remove(at.min(text.len().saturating_sub(1)));
            }
            1 => {
                let end = (at + dice.below(60)).min(text.len());
                text.drain(at..end);
            }
            2 => {
                let line = other.lines().nth(dice.below(other.lines().count())).unwrap_or_default();
                text.splice(at..at, line.chars());
            }
            _ => {
                let piece = OF_MESSAGES[dice.below(OF_MESSAGES.len())];
                text.splice(at..at, piece.chars());
            }
        }
        if text.is_empty() {
            break;
        }
    }
    text.into_iter().collect()
}

#[test]
fn mutated_messages_are_taken_calmly() {
    let count = std::env::var("MUTATIONS").ok().and_then(|n| n.parse().ok()).unwrap_or(USUAL_COUNT);
    let messages: Vec<String> = crate::messages::messages()
        .iter()
        .map(|path| std::fs::read_to_string(path).expect("a message"))
        .collect();
    let mut dice = Dice(1912);
    let (mut read, mut refused) = (0, 0);
    for round in 0..count {
        let original = &messages[round % messages.len()];
        let other = &messages[dice.below(messages.len())];
        let text = mutated_message(original, other, &mut dice);
        let intake = taken("m.txt", text.as_bytes());
        assert!(places_are_inside(&intake), "{text}");
        match intake.ready {
            Some(_) => read += 1,
            None => refused += 1,
        }
    }
    assert!(read > 0 && refused > 0, "{read} read, {refused} refused");
}
