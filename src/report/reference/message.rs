//! How a session as a message is read.

use super::{code, table};
use crate::measure::LIMITS;
use crate::reader::trade_words::TradeWord;
use crate::session::message_headings;
use crate::session::words::PartKind;

/// The grammar of a message, in the notation of ISO/IEC 14977 without its commas; a line that fits none
/// of it is talk.
const GRAMMAR: &str = r##"message  = { line } ;
line     = comment | [ lane ":" ] { heading | rounds | sets | sum | fact | clause | words } ;
comment  = "//" words ;
heading  = name [ sum ] [ often ] [ ":" ] [ title ] ;
rounds   = ( number | word ) ( "rounds" | "rds" | "times through" ) [ "," rest "between rounds" ] ":" lines
         | number "x" ( "(" sets ")" | "{" lines "}" ) | "[" sets "]" "x" number ;
sets     = set { ( "," | ";" | "/" | "+" | "." | " " ) set } ;
set      = count swim { [ "," ] clause } [ ( ":" | " - " ) cue ] [ sum ] ;
count    = [ number ( "x" | "times" | "lots of" ) ] ;
swim     = ? a swim line ? | distance { sign distance } | "broken" distance ":" pieces | time way ;
clause   = rest | sendoff | effort | pattern | gear | strokes | "then rest" time | "keep" word | "fixed" ;
rest     = ( "rest" | "r" | "RI" ) time | time ( "rest" | "RI" ) | ":" seconds | seconds '"' ;
sendoff  = ( "on" | "@" | "off" ) time [ "/100" ] | time ;
cue      = words | '"' words '"' ;
sum      = "=" number | "total" number | "(" number ")" | number "in all" ;
fact     = pool | level | date | time | time "-" time | pace | key ":" value ;"##;

/// Readings that are settled, with an example each.
const READINGS: &[(&str, &str)] = &[
    (
        "4 x 50 free toes long, r20",
        "words that are no clause become the cue, and a note lists them",
    ),
    (
        "4 x 50 free r20: toes long",
        "behind a colon or a spaced dash is the cue, unless every word is understood",
    ),
    ("8 x 50 @ 60 - odds fc, evens bk", "every word is understood: it is part of the swim"),
    (
        "4 x 50 free \"easy does it\"",
        "what is in quotes is always the cue; a line in quotes is a remark",
    ),
    ("2 x 200 20s", "a time in seconds alone is a rest"),
    ("6 x 50 1:00", "any other time alone behind several repeats is the send-off"),
    ("200 @ 4:30, 1:00 rest", "a rest beside a send-off is after the set"),
    ("@ 1:30/1:40/1:50", "the first is the send-off; the others are kept in the cue"),
    ("4 x 75 as 25 k 25 d 25 s", "pieces that add up are legs"),
    ("400, 200 kick, 200 pull", "behind a comma are sets; a warning says so where they add up"),
    ("100, 200, 300, 200", "three or more bare distances are a ladder"),
    ("2 x (50-100-150)", "bare distances in brackets are one repeat of these steps"),
    ("2 x (4 x 50, 200 pull)", "sets in brackets are rounds"),
    ("3 x 200 100 50", "two readings of different distance: an error, with both written out"),
    ("10 laps", "a lap is a length to some and there and back to others: an error"),
    ("10 mins easy", "a time with a word of swimming is swum; with other words it is an activity"),
    ("100 free x 4, 10 100s, 3 lots of 50", "counts"),
    ("8 x 25, 3 hard 1 easy", "so many of each in turn"),
    ("odds: drill / #1-4 fly / 1-4 @ 1:10", "on a line below a set: a word on its repeats"),
    ("200 wd", "a short form behind a swim opens its part"),
    ("Lane 1: pace 3:00, 5 swimmers, 10 s apart", "defines a lane"),
    ("Lane 1: 8 x 50 r30", "a set for one lane; a lane that is only named has the session's pace"),
];

pub(super) fn message() -> String {
    let mut text = format!(
        "A file whose name ends in `.txt` or `.md` is a message, and so is any other that does not look like \
         TOML. It is read line by line to the same session as a file of keys. The head may say a title, \
         facts by their form (`25 m`, `SCY`, `45 min from 19:15`, `12 Jan 2027`, `improver`, `2:10/100`), \
         and any key of a session as `key: value`. A message has at most {} lines of {} characters. Signs of \
         phones and office programs (curly quotes, long dashes, ×, bullets, tabs) are read as plain ones. \
         How often coaches write so is common practice, without a source.\n\n",
        super::number(LIMITS.message_lines.most),
        super::number(LIMITS.message_line.most),
    );
    let kinds = PartKind::ALL.iter().map(|(kind, _)| {
        let names: Vec<String> = message_headings(*kind).map(code).collect();
        [kind.text().to_owned(), names.join(", ")]
    });
    text += &table(["part", "headings"], kinds);
    text += &format!(
        "\nAny other short line before sets titles a part, whose kind goes by its place. Without headings the \
         first easy swims, up to a third of the distance, are the warm-up, the last ones, up to a fifth, the \
         cool-down; a note says so.\n\nThe grammar:\n\n```text\n{GRAMMAR}\n```\n\n"
    );
    text += &table(
        ["for example", "is read so"],
        READINGS.iter().map(|(line, means)| [code(line), (*means).to_owned()]),
    );
    text
}
