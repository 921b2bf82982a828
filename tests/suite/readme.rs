//! The README's tour, taken as a reader takes it: its files saved, its changes made, its commands
//! run in the order they are printed, and what they answer compared with what it shows.

use std::path::Path;

use expect_test::expect_file;

use crate::command::{Ran, Workdir, demo_sessions};

/// The end of an example that shows the beginning of an answer only.
const SHORTENED: &str = "…";

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// Where the tour is taken, and what the last command answered.
struct Tour {
    workdir: Workdir,
    answer: Option<Ran>,
    commands: usize,
}

impl Tour {
    fn new() -> Self {
        let workdir = demo_sessions().iter().fold(Workdir::new(), |workdir, path| {
            let name = path.file_name().expect("a name").to_string_lossy();
            // The club's file stays at home, so that the folder is only sessions.
            let text = std::fs::read_to_string(path).expect("a demo");
            workdir.file(&format!("season/{name}"), text.replace("\nclub ", "\n# club "))
        });
        Self { workdir, answer: None, commands: 0 }
    }

    fn save(&self, name: &str, text: &str) {
        std::fs::write(self.workdir.path(name), text).expect("a file written");
    }

    fn run(&mut self, command: &str) {
        let words = shell_words(command);
        let words: Vec<&str> = words.iter().skip(1).map(String::as_str).collect();
        let ran = self.workdir.run(&words);
        assert!(ran.exit <= 1, "{command}: {}", ran.err);
        self.commands += 1;
        self.pass();
        self.answer = Some(ran);
    }

    /// Goes on from an answer that the page does not show: it is none of an error.
    fn pass(&mut self) {
        if let Some(ran) = self.answer.take() {
            assert_eq!(ran.exit, 0, "{}", ran.err);
        }
    }

    /// What the last command answered, as much of it as the example shows.
    fn answered(&mut self, shown: &[&str]) -> String {
        let ran = self.answer.take().expect("a command before its answer");
        let whole = if ran.err.is_empty() { ran.out } else { format!("{}{}", ran.err, ran.out) };
        let whole = whole.trim_end();
        if shown.last() != Some(&SHORTENED) {
            return whole.to_owned();
        }
        let lines: Vec<&str> = whole.lines().take(shown.len() - 1).collect();
        format!("{}\n{SHORTENED}", lines.join("\n"))
    }

    /// Follows a line of prose: "write `NEW` in place of `OLD`", and commands named in it.
    fn follow(&mut self, line: &str) {
        let codes: Vec<&str> = line.split('`').skip(1).step_by(2).collect();
        if line.contains("in place of") {
            let [new, old] = codes[..] else { panic!("what in place of what: {line}") };
            let path = self.workdir.path("tuesday.toml");
            let text = std::fs::read_to_string(&path).expect("the session");
            assert!(text.contains(old), "{old}");
            self.save("tuesday.toml", &text.replacen(old, new, 1));
        }
        for code in codes.into_iter().filter(|code| code.starts_with("deckcard ")) {
            self.run(code);
        }
    }
}

/// A command's words; quotes hold one together.
fn shell_words(command: &str) -> Vec<String> {
    let (mut words, mut word, mut quoted) = (Vec::new(), String::new(), false);
    for sign in command.trim().chars().chain([' ']) {
        match sign {
            '"' => quoted = !quoted,
            ' ' if !quoted => {
                if !word.is_empty() {
                    words.push(std::mem::take(&mut word));
                }
            }
            sign => word.push(sign),
        }
    }
    words
}

/// The file that a sentence before an example names last: "save it as `tuesday.toml`:".
fn named(sentence: &str) -> Option<&str> {
    let saves = sentence.contains("save");
    let is_file = |code: &&str| [".toml", ".csv", ".txt"].iter().any(|end| code.ends_with(end));
    let codes = sentence.split('`').skip(1).step_by(2);
    codes.filter(|code| saves && is_file(code)).last()
}

/// The README with every answer as the program gives it now.
fn toured(text: &str, tour: &mut Tour) -> String {
    let mut page = String::new();
    let mut lines = text.lines();
    let mut sentence = String::new();
    while let Some(line) = lines.next() {
        page += line;
        page.push('\n');
        let Some(kind) = line.strip_prefix("```") else {
            if !line.is_empty() {
                sentence = format!("{sentence} {line}");
                tour.follow(line);
            } else if !sentence.ends_with(':') {
                sentence.clear();
            }
            continue;
        };
        let block: Vec<&str> = lines.by_ref().take_while(|line| *line != "```").collect();
        let mut shown = block.join("\n");
        match kind {
            "sh" => {
                let commands = block.iter().filter(|line| line.starts_with("deckcard "));
                commands.for_each(|command| tour.run(command));
            }
            "text" => shown = tour.answered(&block),
            _ => {
                if let Some(name) = named(&sentence) {
                    tour.save(name, &format!("{shown}\n"));
                }
            }
        }
        sentence.clear();
        page += &format!("{shown}\n```\n");
    }
    page
}

#[test]
fn the_tour_of_the_readme_is_as_the_program_answers() {
    let path = root().join("README.md");
    let text = std::fs::read_to_string(&path).expect("the README");
    let mut tour = Tour::new();
    let page = toured(&text, &mut tour);
    tour.pass();
    assert!(tour.commands >= 15, "only {} commands were run", tour.commands);
    expect_file![path].assert_eq(&page);
}

#[test]
fn words_in_quotes_are_one() {
    assert_eq!(
        shell_words("deckcard fit --pool \"25 yd\" -o x"),
        ["deckcard", "fit", "--pool", "25 yd", "-o", "x"]
    );
}
