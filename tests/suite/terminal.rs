//! What a file, a file's name or an argument says is data: no sign of it steers a terminal, and no
//! line of it passes for a message. And what a terminal is shown in colour.

use std::ffi::OsStr;
use std::os::unix::ffi::OsStrExt;

use serde_json::Value;

use crate::command::{DRAFT, GOOD, Ran, Workdir};

/// Signs that steer a terminal (ECMA-48: C0, DEL and C1), that end a line (Unicode 2028 and 2029),
/// or that turn the order of reading (Unicode Annex 9, section 2).
fn steers(sign: char) -> bool {
    matches!(sign,
        '\0'..='\u{1f}' | '\u{7f}'..='\u{9f}'
        | '\u{61c}' | '\u{200e}' | '\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}

/// An escape sequence that sets the title of the window and clears the screen; line ends, one of
/// them before a forged finding; NUL; an 8-bit escape sequence; text turned from right to left.
const BAD: &str = "be\u{1b}]0;x\u{7}\u{1b}[2J\u{1b}[31m\r\nerror[fake]: all fine\0\u{9b}2J\u{85}\u{2028}\
                   error[fake]: x\u{2029}\u{202e}drac\u{2066}\u{200f}\u{61c}\u{7f}";

/// `BAD` as TOML has it.
fn escaped() -> String {
    BAD.chars().map(|sign| format!("\\u{:04X}", u32::from(sign))).collect()
}

/// The signs of `BAD` that TOML takes as they are.
fn raw() -> String {
    let taken = |sign: &char| !matches!(sign, '\0'..='\u{1f}' | '\u{7f}');
    BAD.chars().filter(taken).collect()
}

fn assert_tame(ran: &Ran, what: &str) {
    for text in [&ran.out, &ran.err] {
        let sign = text.chars().find(|sign| *sign != '\n' && steers(*sign));
        assert_eq!(sign, None, "{what}: {text:?}");
        let forged = text.lines().find(|line| line.starts_with("error[fake]"));
        assert_eq!(forged, None, "{what}: {text:?}");
    }
}

const FORMATS: [&str; 3] = ["human", "short", "json"];

#[test]
fn signs_of_a_session_reach_no_terminal() {
    let (esc, raw) = (escaped(), raw());
    let texts: Vec<(&str, String)> = vec![
        ("title", GOOD.replace("Legs that steer", &esc)),
        ("raw title", GOOD.replace("Legs that steer", &raw)),
        ("comment", format!("# {raw}\n{}", GOOD.replace("8 x 50", "8 x 60"))),
        ("before a fault", GOOD.replace("\"8 x 50 free\"", &format!("\"8 x 60 {raw}\""))),
        ("level", GOOD.replace("\"beginner\"", &format!("\"{esc}\""))),
        ("goal", GOOD.replace("\"technique\"", &format!("\"{esc}\""))),
        ("focus", GOOD.replace("\"kick from the hip\"\npace", &format!("\"{esc}\"\npace"))),
        ("pool", GOOD.replace("\"25 m\"", &format!("\"25 m {esc}\""))),
        ("pace", GOOD.replace("\"2:30\"", &format!("\"{esc}\""))),
        ("swim", GOOD.replace("8 x 50 free", &format!("8 x 50 {esc}"))),
        ("rest", GOOD.replacen("\"20 s\"", &format!("\"{esc}\""), 1)),
        ("cue", GOOD.replace("loose ankles", &esc)),
        ("kind", GOOD.replace("main set", &esc)),
        ("part title", GOOD.replace("\"main set\"", &format!("\"main set\"\ntitle = \"{esc}\""))),
        ("key", format!("\"{esc}\" = 1\n{GOOD}")),
        ("table", format!("{GOOD}\n[\"{esc}\"]\na = 1\n")),
        ("gear", format!("gear = [\"{esc}\"]\n{GOOD}")),
        ("club", format!("club = \"{esc}\"\n{GOOD}")),
        ("language", format!("language = \"{esc}\"\n{GOOD}")),
        ("allow", format!("allow = [{{ finding = \"{esc}\", because = \"{esc}\" }}]\n{GOOD}")),
        ("lane", format!("{GOOD}\n[[lane]]\nname = \"{esc}\"\npace = \"2:40\"\n")),
        ("starts", format!("starts = \"{esc}\"\n{GOOD}")),
        ("control signs as they are", GOOD.replace("Legs", "L\u{1b}[2J\0gs")),
        ("line ends of old computers", GOOD.replace('\n', "\r")),
    ];
    for (what, text) in texts {
        let workdir = Workdir::new()
            .file("s.toml", text)
            .file("block.toml", "title = \"W\"\n[[week]]\nsessions = [\"s.toml\"]\n");
        for format in FORMATS {
            for command in [
                &["check", "s.toml"][..],
                &["show", "s.toml"],
                &["show", "s.toml", "--json"],
                &["show", "s.toml", "--card", "--stock", "a6"],
                &["print", "s.toml"],
                &["preview", "s.toml"],
                &["fit", "s.toml", "--distance", "700", "--force"],
                &["block", "show", "block.toml"],
                &["binder", "block.toml", "--as-written"],
            ] {
                let ran = workdir.run(&[command, &["--format", format]].concat());
                assert_tame(&ran, &format!("{what}: {command:?} {format}"));
            }
        }
    }
}

#[test]
fn signs_of_other_files_reach_no_terminal() {
    let esc = escaped();
    let club = format!("name = \"{esc}\"\nstock = \"{esc}\"\nbadge = \"{esc}\"\n");
    let workdir = Workdir::new()
        .file("s.toml", format!("club = \"club.toml\"\n{GOOD}"))
        .file("club.toml", club)
        .file("stock.toml", format!("name = \"{esc}\"\nwidth = \"{esc}\"\n\"{esc}\" = 1\n"))
        .file("block.toml", format!("title = \"{esc}\"\nnote = \"{esc}\"\n[[week]]\ntitle = \"{esc}\"\nsessions = [\"s.toml\", \"{esc}\"]\n"))
        .file("shown.toml", format!("title = \"{esc}\"\nnote = \"{esc}\"\n[[week]]\ntitle = \"{esc}\"\nsessions = [\"good.toml\"]\n"))
        .file("good.toml", GOOD)
        .file("r.csv", format!("name,pace\n\"{BAD}\",2:05\n"))
        .file("bad.csv", format!("name,pace\nA,\"{BAD}\"\n"));
    for format in FORMATS {
        for command in [
            &["check", "s.toml"][..],
            &["stocks", "stock.toml"],
            &["block", "check", "block.toml"],
            &["block", "show", "shown.toml"],
            &["block", "show", "shown.toml", "--json"],
            &["print", "s.toml", "--stock", "stock.toml"],
        ] {
            let ran = workdir.run(&[command, &["--format", format]].concat());
            assert_tame(&ran, &format!("{command:?} {format}"));
        }
    }
    for roster in ["r.csv", "bad.csv"] {
        for names in ["none", "comments", "cards"] {
            let ran =
                workdir.run(&["lanes", roster, "--lanes", "1", "--most", "2", "--names", names]);
            assert_tame(&ran, &format!("{roster} {names}"));
        }
    }
}

#[test]
fn signs_of_names_and_arguments_reach_no_terminal() {
    // A name has neither NUL nor a slash.
    let name: String = BAD.chars().filter(|sign| !"\0/".contains(*sign)).collect();
    let file = format!("{name}.toml");
    let workdir = Workdir::new()
        .file(&file, GOOD)
        .file(&format!("in/{file}"), GOOD.replace("8 x 50", "8 x 60"))
        .file(&format!("in/._{file}"), "")
        .file("in/good.toml", GOOD)
        .file("s.toml", GOOD);
    for command in [
        &["print", &file][..],
        &["print", "in"],
        &["print", "s.toml", "-o", &name],
        &["print", "s.toml", "--into", &format!("{name}.pdf")],
        &["print", "s.toml", "--pool", &name],
        &["print", "s.toml", "--stock", &name],
        &["print", &format!("nowhere-{file}")],
        &["check", &file, "in", &name],
        &["check", "--format", "json", &file, "in", &name],
        &["check", "--format", "short", &file, "in", &name],
        &["check", "--format", &name, "s.toml"],
        &["show", &format!("--{name}")],
        &["fit", &file, "--distance", "700"],
        &["fit", "s.toml", "--distance", &name],
        &["preview", &file],
        &["explain", &name],
        &["pace", &name],
        &["draft", "--level", &name],
        &["block", "draft", "--level", &name],
        &[&name],
        &["block", &name],
        &["completions", &name],
    ] {
        assert_tame(&workdir.run(command), &format!("{command:?}"));
    }
    // Bytes that are no text, and an escape sequence among them.
    let ran = workdir.run_with(&["check"], |command| {
        command.arg(OsStr::from_bytes(b"\xff\x1b[2J\x9b"));
    });
    assert_tame(&ran, "bytes");
}

/// Also in its comments.
#[test]
fn no_sign_of_a_pattern_or_a_title_gets_into_a_drafted_file_as_it_is() {
    let patterns = std::fs::read_to_string(
        std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("templates/patterns/technique.toml"),
    )
    .expect("the patterns of the program");
    // A text with a control sign is refused as it is read; these are left.
    let esc = "error[fake] \u{202e}drac\u{2066}\u{200f}\u{61c}\u{2028}";
    let (_, own) = patterns.split_once("[[pattern]]").expect("patterns");
    let own: String = own
        .lines()
        .map(|line| match line.split_once('=').map(|(key, value)| (key.trim(), value.trim())) {
            Some(("why", _)) => format!("why = \"{esc}\"\n"),
            Some(("id", id)) => format!("id = \"own-{}\n", id.trim_start_matches('"')),
            _ => format!("{line}\n"),
        })
        .collect();
    let own = format!("goal = \"technique\"\n[[pattern]]{own}");
    let workdir = Workdir::new().file("own.toml", own);
    let draft = [&DRAFT[..], &["--distance", "800", "--patterns", "own.toml", "-o"]].concat();
    let ran = workdir.run(&[&draft[..], &["d.toml", "--title", "Tame"]].concat());
    assert_tame(&ran, "draft");
    assert_eq!(ran.exit, 0, "{}", ran.err);
    let text = std::fs::read_to_string(workdir.path("d.toml")).expect("a draft");
    assert_eq!(text.chars().find(|sign| *sign != '\n' && steers(*sign)), None, "{text}");
    assert!(text.contains("error[fake]"), "the pattern is the club's own: {text}");
    let checked = workdir.run(&["check", "d.toml"]);
    assert_eq!((checked.exit, checked.err.as_str()), (0, ""));
    let title: String = BAD.chars().filter(|sign| *sign != '\0').collect();
    for to in ["-", "e.toml"] {
        assert_tame(&workdir.run(&[&draft[..], &[to, "--title", &title]].concat()), "a title");
    }
}

/// A document is what the file says, byte for byte; on a terminal it is tamed, and a PDF is none
/// for a terminal.
#[test]
fn a_document_on_a_terminal_is_tamed() {
    let comment = format!("# {}\n", raw());
    let workdir = Workdir::new().file("s.toml", format!("{comment}{GOOD}"));
    let piped = workdir.run(&["fit", "s.toml", "--distance", "700", "-o", "-"]);
    assert!(piped.out.starts_with(&comment), "{}", piped.out);
    let Some(seen) = workdir.on_a_terminal("\"$DECKCARD\" fit s.toml --distance 700 -o -") else {
        return;
    };
    assert!(seen.contains("10 x 50"), "{seen}");
    // A terminal ends its lines with CR LF.
    let sign = seen.replace("\r\n", "\n").chars().find(|sign| *sign != '\n' && steers(*sign));
    assert_eq!(sign, None, "{seen:?}");
    // Line ends of Windows are line ends.
    let block =
        "title = \"W\"\nbegins = 2027-01-11\ndays = [\"tue\"]\n[[week]]\nsessions = [\"s.toml\"]\n";
    let workdir = workdir.file("block.toml", block);
    let seen = workdir.on_a_terminal("\"$DECKCARD\" binder block.toml --ics -").unwrap_or_default();
    assert!(seen.contains("BEGIN:VCALENDAR\r\n"), "{seen:?}");
    assert!(!seen.contains("\\u000D"), "{seen:?}");
    for line in ["print s.toml --into -", "preview s.toml -o -", "print s.toml --into /dev/tty"] {
        let seen = workdir.on_a_terminal(&format!("\"$DECKCARD\" {line}")).unwrap_or_default();
        assert!(seen.contains("is not for a terminal"), "{line}: {seen:?}");
        assert!(!seen.contains("%PDF") && !seen.contains("PNG\r\n"), "{line}: {seen:?}");
    }
}

fn array(ran: &Ran, what: &str) -> Vec<Value> {
    match serde_json::from_str(&ran.err) {
        Ok(Value::Array(array)) => array,
        other => panic!("{what}: {other:?}: {}", ran.err),
    }
}

#[test]
fn findings_as_json_are_one_array_in_every_case() {
    let warned = GOOD.replace("4 x 25 free", "16 x 25 free");
    let workdir = Workdir::new()
        .file("s.toml", &warned)
        .file("bad.toml", GOOD.replace("8 x 50", "8 x 60"))
        .file("stock.toml", "name = \"x\"\nwidth = 5\nheight = \"1 mm\"\nmargin = \"5 mm\"\n")
        .file("club.toml", "name = \"Hernmarsh Lane Club\"\n")
        .file("block.toml", "title = \"W\"\n[[week]]\nsessions = [\"s.toml\"]\n")
        .file("s-25m.pdf/in-the-way.txt", "")
        .file("s-25m.png/in-the-way.txt", "")
        .file("empty/readme.txt", "");
    // Each with how many entries at least are findings, and how many are refusals.
    let cases: [(&[&str], i32, usize, usize); 22] = [
        (&["check", "s.toml"], 0, 1, 0),
        (&["check", "bad.toml"], 1, 1, 0),
        (&["check", "nowhere.toml"], 2, 0, 1),
        (&["check", "s.toml", "nowhere.toml"], 2, 1, 1),
        (&["check", "s.toml", "empty"], 2, 1, 1),
        (&["check", "--fix", "-"], 2, 0, 1),
        (&["check"], 2, 0, 1),
        (&["check", "s.toml", "--nosuch"], 2, 0, 1),
        (&["show", "club.toml"], 2, 0, 1),
        (&["show", "s.toml"], 0, 1, 0),
        (&["print", "s.toml"], 2, 1, 1),
        (&["print", "s.toml", "-o", "bad.toml"], 2, 0, 1),
        (&["print", "s.toml", "--into", "s-25m.pdf"], 2, 1, 1),
        (&["print", "--week", "s.toml", "nowhere.toml"], 2, 1, 1),
        (&["print", "s.toml", "--sheet", "a4", "--margin", "200 mm"], 2, 1, 1),
        (&["preview", "s.toml"], 2, 1, 1),
        (&["preview", "s.toml", "--page", "99", "-o", "a.png"], 2, 1, 1),
        (&["fit", "s.toml", "--distance", "700", "-o", "away/x.toml"], 2, 1, 1),
        (&["stocks", "stock.toml"], 1, 1, 0),
        (&["block", "check", "s.toml"], 2, 0, 1),
        (&["binder", "block.toml", "--ics", "away/x.ics"], 2, 1, 1),
        (&["binder", "nowhere.toml"], 2, 0, 1),
    ];
    for (command, exit, findings, refusals) in cases {
        for format in [&["--format", "json"][..], &["--format=json"]] {
            let ran = workdir.run(&[command, format].concat());
            let array = array(&ran, &format!("{command:?}"));
            assert_eq!(ran.exit, exit, "{command:?}: {}", ran.err);
            let (found, refused): (Vec<_>, Vec<_>) =
                array.iter().partition(|entry| entry["id"].is_string());
            assert!(found.len() >= findings, "{command:?}: {}", ran.err);
            assert_eq!(refused.len(), refusals, "{command:?}: {}", ran.err);
            for entry in array {
                for key in
                    ["file", "id", "severity", "title", "line", "column", "labels", "help", "edits"]
                {
                    assert!(entry.get(key).is_some(), "{command:?} has no {key}: {}", ran.err);
                }
            }
        }
    }
}

/// What was found is said even where the card could not be written.
#[test]
fn what_was_found_is_said_though_writing_failed() {
    let warned = GOOD.replace("4 x 25 free", "16 x 25 free");
    let workdir = Workdir::new().file("s.toml", warned).file("all.pdf/in-the-way.txt", "");
    let ran = workdir.run(&["print", "--format", "short", "s.toml", "--into", "all.pdf"]);
    assert_eq!(ran.exit, 2);
    assert!(ran.err.contains("[part-share]"), "{}", ran.err);
    assert!(ran.err.ends_with("deckcard: cannot write all.pdf: it is a folder\n"), "{}", ran.err);
    // To a person, what is not seen on the paper is only counted.
    let ran = workdir.run(&["print", "s.toml", "--into", "all.pdf"]);
    assert!(ran.err.starts_with("deckcard: cannot write all.pdf: it is a folder\n"), "{}", ran.err);
    assert!(ran.err.contains("check shows it"), "{}", ran.err);
}

/// The customs of terminals: no-color.org; CLICOLOR, bixense.com/clicolors; TERM=dumb of termcap.
#[test]
fn colour_is_left_out_where_it_is_not_wanted() {
    let workdir = Workdir::new().file("bad.toml", GOOD.replace("8 x 50", "8 x 60"));
    for (wish, coloured) in [
        ("", true),
        ("NO_COLOR= ", true),
        ("CLICOLOR=1 ", true),
        ("NO_COLOR=1 ", false),
        ("CLICOLOR=0 ", false),
        ("TERM=dumb ", false),
    ] {
        let line = format!("{wish}\"$DECKCARD\" check bad.toml");
        let Some(seen) = workdir.on_a_terminal(&line) else { return };
        assert!(seen.contains("error"), "{seen}");
        assert_eq!(seen.contains('\u{1b}'), coloured, "{wish}: {seen:?}");
    }
}

/// A fault that is the whole file's has no line to draw, only the name of the file.
#[test]
fn a_name_of_a_file_without_a_line_to_draw_reaches_no_terminal() {
    let name: String = BAD.chars().filter(|sign| !"\0/".contains(*sign)).collect();
    let file = format!("{name}.toml");
    let workdir = Workdir::new().file(&file, GOOD);
    for format in FORMATS {
        let ran = workdir.run(&["stocks", &file, "--format", format]);
        assert_eq!(ran.exit, 1, "{}", ran.err);
        assert_tame(&ran, format);
    }
}
