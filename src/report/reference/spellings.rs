//! The swim line, the closed lists of words, and how times are written.

use super::{code, table};
use crate::block::words::Weekday;
use crate::measure::LIMITS;
use crate::reader::trade_words::TradeWord;
use crate::session::words::{Effort, Goal, Keep, Level, Mode, PartKind, Pattern, Stroke};
use crate::stock::{BoundEdge, Orientation, Punch};

/// Words with all their spellings and what they mean.
fn spelled<W: TradeWord>(what: &str) -> Vec<[String; 3]> {
    let words = W::ALL.iter().zip(W::MEANINGS);
    words
        .enumerate()
        .map(|(at, ((_, spellings), means))| {
            let mut different: Vec<&str> = Vec::new();
            for spelling in *spellings {
                // Capitals do not matter.
                if !different.iter().any(|known| known.eq_ignore_ascii_case(spelling)) {
                    different.push(spelling);
                }
            }
            let list: Vec<String> = different.into_iter().map(code).collect();
            let means = means.trim().trim_end_matches('.');
            let usual = if at == 0 {
                format!("{means}; the {what} where none is written")
            } else {
                means.into()
            };
            [what.to_owned(), list.join(", "), usual]
        })
        .collect()
}

pub(super) fn swim_line() -> String {
    let mut text = format!(
        "`[REPEATS x] DISTANCE [STROKE] [MODE]`. Capitals do not matter, and spaces only between words. \
         `8 x 50 free`, `8x50` and `8 × 50 front crawl` are the same set. A unit that is written must be \
         the pool's. Effort, pattern, rest and send-off have keys of their own.\n\n\
         Repeats are a number, {} to {}, and `x`, `X`, `×` or `*`; left out, the swim is swum once. The \
         distance is a whole number in the pool's unit (`50`, `50 m`, `100yd`), in a pool of thirds also \
         `66 2/3` or `66⅔`, or lengths: `2 lengths`.\n\n",
        super::number(LIMITS.repeats.least),
        super::number(LIMITS.repeats.most),
    );
    let rows = spelled::<Stroke>("stroke").into_iter().chain(spelled::<Mode>("mode"));
    text += &table(["", "spellings", "what it means"], rows);
    text
}

/// The words of one key, each with what it means.
fn listed<W: TradeWord>(key: &str) -> impl Iterator<Item = [String; 3]> {
    W::texts().zip(W::MEANINGS).map(move |(word, means)| {
        [code(key), code(word), means.trim().trim_end_matches('.').to_owned()]
    })
}

pub(super) fn closed_lists() -> String {
    let lists = listed::<PartKind>("kind")
        .chain(listed::<Effort>("effort"))
        .chain(listed::<Pattern>("pattern"))
        .chain(listed::<Level>("level"))
        .chain(listed::<Goal>("goal"))
        .chain(listed::<Keep>("keep"))
        .chain(listed::<Weekday>("days"))
        .chain(listed::<Orientation>("orientation"))
        .chain(listed::<Punch>("punch"))
        .chain(listed::<BoundEdge>("bound"));
    let intro = "These keys take one word of a list, spelled as it is here. A word that is near one of \
                 them is an error that names it, and `deckcard check --fix` writes it.\n\n";
    intro.to_owned() + &table(["key", "word", "what it means"], lists)
}

pub(super) fn times() -> String {
    "Always in quotes and in whole seconds: `\"15 s\"`, `\"1:45\"`, `\":45\"`, `\"1 min\"`, `\"90 s\"`, \
     `\"1 min 30 s\"`, `\"1 h 15 min\"`, `\"1:02:05\"`. `starts` is a time of day, `\"19:15\"`. `booked` \
     says `min` or `h`, as in `\"45 min\"` or `\"1 h 30 min\"`: to a swimmer `\"1:30\"` is a minute and a \
     half, to the pool office an hour and a half. A date has no quotes: `2027-01-12`.\n"
        .to_owned()
}
