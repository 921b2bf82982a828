//! The figures the program computes with: factors, shares, limits.

use super::{code, number, table};
use crate::check::{USUAL_CHANGEOVER, speed};
use crate::measure::{Bound, LIMITS, Seconds};
use crate::plan::bands;
use crate::reader::trade_words::TradeWord;
use crate::session::ShareBand;
use crate::session::words::{Goal, Level, PartKind};

pub(super) fn factors() -> String {
    let intro = "Against steady whole-stroke freestyle. Set your own under `[speed]`, in the session or \
                 the club file; the ratios here are those of trained swimmers, so set what fits your \
                 lane.\n\n";
    let factors = speed::usual().into_iter();
    let rows = factors
        .map(|(word, permille, source)| {
            [code(&word.to_lowercase()), thousandths(permille.into()), source]
        })
        .chain([[
            code("changeover"),
            USUAL_CHANGEOVER.spoken(),
            "common practice; here or at the head of the file".to_owned(),
        ]]);
    intro.to_owned() + &table(["key", "unless set", "where it comes from"], rows)
}

/// "1.08" of 1080 thousandths.
fn thousandths(permille: u64) -> String {
    let text = format!("{}.{:03}", permille / 1000, permille % 1000);
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

pub(super) fn bands() -> String {
    let kinds: Vec<PartKind> = PartKind::ALL.iter().map(|(kind, _)| *kind).collect();
    let mut text = String::from(
        "The share of the distance that all parts of a kind may have together, in per cent. A share \
         outside is the finding `part-share`: a note, and a warning outside what the last row says, \
         where there is no warm-up or cool-down, or outside a club's own band. Common practice, no \
         published source; a club file sets its own under `[bands]`. A beginner's session with a pre-set \
         or a post set is judged as an improver's.\n\n",
    );
    let shares = |goal, rows: &mut Vec<[String; 6]>| {
        for (level, word) in Level::ALL {
            let name = word.first().copied().unwrap_or_default();
            let mut row = [
                code(name),
                String::new(),
                String::new(),
                String::new(),
                String::new(),
                String::new(),
            ];
            for (cell, kind) in row.iter_mut().skip(1).zip(&kinds) {
                *cell = bands::usual(*level, goal, *kind).map_or("none".to_owned(), share);
            }
            rows.push(row);
        }
    };
    let head = ["level", "warm-up", "pre-set", "main set", "post set", "cool-down"];
    let (mut usual, mut recovery) = (Vec::new(), Vec::new());
    shares(Goal::Technique, &mut usual);
    let far = kinds.iter().map(|kind| bands::extremes(*kind).map_or(String::new(), share));
    let mut row = std::iter::once("a warning outside".to_owned()).chain(far);
    usual.push(std::array::from_fn(|_| row.next().unwrap_or_default()));
    shares(Goal::Recovery, &mut recovery);
    text += &table(head, usual);
    text += "\nWith the goal `recovery` there is no work to make room for:\n\n";
    text += &table(head, recovery);
    text
}

fn share(band: ShareBand) -> String {
    format!("{} to {}", band.least, band.most)
}

/// A limit in a coach's units: "30 s to 20 min".
pub(super) fn range(bound: &Bound) -> String {
    if bound.least == 0 || bound.unit == "bytes" {
        return format!("up to {}", amount(bound, bound.most));
    }
    let (least, most) = (amount(bound, bound.least), amount(bound, bound.most));
    // One unit is said once.
    match (least.split_once(' '), most.split_once(' ')) {
        (Some((number, unit)), Some((_, same))) if unit == same => format!("{number} to {most}"),
        _ => format!("{least} to {most}"),
    }
}

/// The same as a sentence's beginning.
pub(super) fn bounds(bound: &Bound) -> String {
    let range = range(bound);
    match range.strip_prefix("up to") {
        Some(rest) => format!("Up to{rest}"),
        None => format!("From {range}"),
    }
}

/// Seconds in an hour.
const HOUR_S: u64 = 3600;

fn amount(bound: &Bound, value: u64) -> String {
    match bound.unit {
        "bytes" => format!("{} MiB", value / 1024 / 1024),
        "thirds" => format!("{} m or yd", number(value / 3)),
        "s" if value >= HOUR_S && value.is_multiple_of(HOUR_S) => format!("{} h", value / HOUR_S),
        "s" => u32::try_from(value).map_or(number(value), |s| Seconds::new(s).spoken()),
        "thousandths" => thousandths(value),
        "" if *bound == LIMITS.repeat_distance || *bound == LIMITS.session_distance => {
            format!("{} m or yd", number(value))
        }
        "" => number(value),
        unit => format!("{} {unit}", number(value)),
    }
}

/// The limits of the files, then those of the program.
pub(super) fn limits(of_program: &[(&'static str, String)]) -> String {
    let rows = LIMITS
        .all()
        .map(|bound| [bound.what.to_owned(), range(bound)])
        .chain(of_program.iter().map(|(what, limit)| [(*what).to_owned(), limit.clone()]));
    let intro = "Far beyond any session that is swum; they catch a slip of the keyboard.\n\n";
    intro.to_owned() + &table(["what", "limit"], rows)
}
