use std::fs;
use std::path::Path;

use super::*;

/// Each `tests/rosters/NAME.csv` with what is expected of it in `NAME.txt`: a line for each
/// swimmer with the pace, or each fault; before them the remarks.
#[test]
fn rosters_are_read_as_their_writers_meant_them() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/rosters");
    let files =
        fs::read_dir(folder).expect("a folder").map(|entry| entry.expect("an entry").path());
    let rosters: Vec<_> =
        files.filter(|path| path.extension().is_some_and(|end| end == "csv")).collect();
    assert!(rosters.len() >= 12);
    for path in rosters {
        let expected = fs::read_to_string(path.with_extension("txt")).expect("an expectation");
        let lines: Vec<String> = match read_roster(&fs::read(&path).expect("a roster")) {
            Ok(Roster { swimmers, unit, remarks }) => {
                let swimmers = swimmers.iter().map(|one| format!("{} {}", one.name, one.pace));
                let unit = unit.map(|unit| format!("per 100 {unit}"));
                remarks.iter().map(Remark::to_string).chain(unit).chain(swimmers).collect()
            }
            Err(errors) => errors.iter().map(RosterError::to_string).collect(),
        };
        let expected: Vec<&str> = expected.lines().collect();
        assert_eq!(lines, expected, "{path:?}");
    }
}

/// Made of the plain one, so that the codings are those of the standard and not of a typist.
#[test]
fn a_roster_reads_the_same_in_every_coding() {
    let plain = "name,pace\nJosé,2:00\nÅse,1:50\n";
    let want = read_roster(plain.as_bytes()).expect("a roster").swimmers;
    let units = |to: fn(u16) -> [u8; 2]| plain.encode_utf16().flat_map(to).collect::<Vec<u8>>();
    let (little, big) = (units(u16::to_le_bytes), units(u16::to_be_bytes));
    // ISO 8859-1 is the first 256 characters of Unicode.
    let latin_1: Vec<u8> =
        plain.chars().map(|c| u8::try_from(u32::from(c)).expect("Latin-1")).collect();
    for (bytes, remarks) in [
        ([b"\xff\xfe".as_slice(), &little].concat(), 0),
        ([b"\xfe\xff".as_slice(), &big].concat(), 0),
        (little, 0),
        (big, 0),
        ([b"\xef\xbb\xbf".as_slice(), plain.as_bytes()].concat(), 0),
        (latin_1, 1),
    ] {
        let read = read_roster(&bytes).expect("a roster");
        assert_eq!(read.swimmers, want, "{bytes:x?}");
        assert_eq!(read.remarks.len(), remarks, "{:?}", read.remarks);
    }
    // Windows-1252 has letters where ISO 8859-1 has control signs: 0x8A is Š (its table).
    let read = read_roster(b"name,pace\n\x8ara,2:00\n").expect("a roster");
    assert_eq!(read.swimmers[0].name, "Šra");
}

#[test]
fn what_is_no_text_is_named_with_the_cure() {
    let at_1 = |fault| Err(vec![RosterError { line: 1, fault }]);
    assert_eq!(read_roster(b"PK\x03\x04\x14\0"), at_1(RosterFault::Spreadsheet));
    // An odd number of bytes is no UTF-16, and 0x81 no letter of Windows-1252.
    for bytes in [&b"\xff\xfea\0b"[..], b"name,pace\n\x81,2:00\n", b"name,pace\n\0,2:00\n"] {
        assert_eq!(read_roster(bytes), at_1(RosterFault::NoText), "{bytes:x?}");
    }
}

#[test]
fn nothing_in_a_field_is_a_control_sign() {
    let roster = read_roster(b"name,pace\n\"A\x1b[2Jnn\tB\",2:00\n").expect("a roster");
    assert_eq!(roster.swimmers[0].name, "A [2Jnn B");
}

#[test]
fn ten_thousand_rows_are_read() {
    let rows: String = (0..10_000).map(|index| format!("S{index},2:{:02}\n", index % 60)).collect();
    let roster = read_roster(format!("name,pace\n{rows}").as_bytes()).expect("a roster");
    assert_eq!(roster.swimmers.len(), 10_000);
    // By hand: the last is 9,999, and 9,999 = 166 x 60 + 39.
    assert_eq!(roster.swimmers[9_999], Swimmer { name: "S9999".into(), pace: Seconds::new(159) });
}

/// Signs that print nothing (Unicode 5.2, Default_Ignorable_Code_Point) or that turn the reading.
#[test]
fn a_name_that_cannot_be_seen_or_hides_a_sign_is_reported() {
    for name in ["\u{200d}", "\u{ad}", "\u{200b}\u{2060}", "\u{ad} \u{feff}"] {
        let errors = read_roster(format!("name,pace\n{name},2:05\n").as_bytes()).expect_err(name);
        assert_eq!(errors[0].fault, RosterFault::NoName, "{name:?}");
    }
    for (name, sign) in [("A\u{202e}b", '\u{202e}'), ("\u{200f}A", '\u{200f}')] {
        let errors = read_roster(format!("name,pace\n{name},2:05\n").as_bytes()).expect_err(name);
        assert_eq!(errors[0].fault, RosterFault::Turned(sign), "{name:?}");
    }
    // A joiner inside a name belongs to its writing, as in Persian.
    let kept = read_roster("name,pace\nعلی\u{200c}رضا,2:05\n".as_bytes()).expect("a roster");
    assert_eq!(kept.swimmers[0].name, "علی\u{200c}رضا");
}
