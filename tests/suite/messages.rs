//! Messages as coaches send them: what each comes to by hand agrees with itself.

use std::path::{Path, PathBuf};

/// What a message comes to, as it was worked out by hand.
#[derive(Debug, Default)]
struct Truth {
    total: String,
    parts: Vec<String>,
    timed_min: u64,
    sets: Vec<(usize, String)>,
    ambiguous: bool,
}

fn messages() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/messages");
    let files = std::fs::read_dir(folder).expect("the messages");
    let paths = files.map(|file| file.expect("a file").path());
    let mut texts: Vec<PathBuf> =
        paths.filter(|path| path.extension().is_some_and(|ending| ending == "txt")).collect();
    texts.sort();
    texts
}

fn truth(text: &str) -> Truth {
    let mut truth = Truth::default();
    for line in text.lines().filter(|line| !line.trim_start().starts_with('#')) {
        match line.split_once(':').map(|(key, value)| (key, value.trim())) {
            Some(("total", total)) => total.clone_into(&mut truth.total),
            Some(("parts", parts)) => truth.parts = parts.split(", ").map(str::to_owned).collect(),
            Some(("timed", time)) => truth.timed_min = minutes(time),
            Some(("ambiguous", readings)) => {
                assert_eq!(readings.matches(" | ").count(), 1, "two readings: {line}");
                truth.ambiguous = true;
            }
            Some(("pool" | "headings" | "sets", _)) => {}
            _ if line.trim().is_empty() => {}
            _ => truth.sets.push((line.len() - line.trim_start().len(), line.trim().to_owned())),
        }
    }
    truth
}

fn minutes(text: &str) -> u64 {
    text.strip_suffix(" min").and_then(|min| min.trim().parse().ok()).expect(text)
}

/// What the sets from `at` on come to that stand `indent` in or further: metres, and minutes of swims
/// given by their time.
fn sum(sets: &[(usize, String)], at: &mut usize, indent: usize) -> (u64, u64) {
    let (mut far, mut long) = (0, 0);
    while let Some((inside, line)) = sets.get(*at).filter(|(inside, _)| *inside >= indent) {
        *at += 1;
        let numbers = || line.split_whitespace().filter_map(|word| word.parse::<u64>().ok());
        let (first, last) = (numbers().next().unwrap_or(0), numbers().next_back().unwrap_or(0));
        match line.split_whitespace().next() {
            Some("rounds") => {
                let (inner, time) = sum(sets, at, inside + 1);
                far += first * inner;
                long += first * time;
            }
            Some("activity") => {}
            Some("ladder") => far += numbers().sum::<u64>(),
            Some("broken") => {
                assert_eq!(numbers().skip(1).sum::<u64>(), first, "{line}");
                far += first;
            }
            _ if line.ends_with(" min") => long += first * last,
            _ => far += first * last,
        }
    }
    (far, long)
}

#[test]
fn what_each_message_comes_to_agrees_with_its_sets() {
    let messages = messages();
    assert!(messages.len() >= 40, "{} messages", messages.len());
    for path in messages {
        let name = path.display();
        let text = std::fs::read_to_string(path.with_extension("true")).expect("its answer");
        let truth = truth(&text);
        assert!(!truth.sets.is_empty() && !truth.parts.is_empty(), "{name}");
        let of_part =
            |part: &String| part.rsplit(' ').next().and_then(|far| far.parse::<u64>().ok());
        let parts: Option<Vec<u64>> = truth.parts.iter().map(of_part).collect();
        if truth.ambiguous {
            assert_eq!(truth.total, "ambiguous", "{name}");
            assert_eq!(parts, None, "{name}: a part is as ambiguous as its sets");
            continue;
        }
        let total: u64 = truth.total.parse().unwrap_or_else(|_| panic!("{name}: {}", truth.total));
        assert_eq!(parts.map(|parts| parts.iter().sum()), Some(total), "{name}: its parts");
        let (far, long) = sum(&truth.sets, &mut 0, 0);
        assert_eq!((far, long), (total, truth.timed_min), "{name}: its sets");
    }
}
