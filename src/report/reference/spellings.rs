//! The swim line, the closed lists of words, and how times are written.

use super::{code, table};
use crate::block::words::Weekday;
use crate::measure::LIMITS;
use crate::reader::trade_words::TradeWord;
use crate::session::line::GRAMMAR;
use crate::session::words::{
    Effort, EffortWord, Goal, Keep, Level, Mode, Movement, PartKind, Pattern, Stroke,
};
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
        "`[REPEATS x] DISTANCE [STROKE] [MODE]`, and behind it how a repeat is parted into legs, and how \
         the repeats differ. Capitals do not matter, and spaces only between words. `8 x 50 free`, \
         `8x50` and `8 × 50 front crawl` are the same set. A unit that is written must be the pool's. \
         Rest and send-off have keys of their own, and so have the effort and the pattern of a whole set.\n\n\
         Repeats are a number, {} to {}, and `x`, `X`, `×` or `*`; left out, the swim is swum once. The \
         distance is a whole number in the pool's unit (`50`, `50 m`, `100yd`), in a pool of thirds also \
         `66 2/3` or `66⅔`, or lengths: `2 lengths`. What is less than a length is counted in its \
         metres or yards, has no lengths, and is never recut.\n\n",
        super::number(LIMITS.repeats.least),
        super::number(LIMITS.repeats.most),
    );
    let forms = FORMS.iter().map(|(line, means)| [code(line), (*means).to_owned()]);
    text += &table(["for example", "what is swum"], forms);
    text += &format!(
        "\nThe grammar, in the notation of ISO/IEC 14977 without its commas:\n\n```text\n{GRAMMAR}\n```\n\n\
         In `sets` a set may also be a plain string, the swim line and clauses in any order: \
         `\"2 x 100 free easy, rest 20 s: loose ankles\"`. A clause is a rest, a send-off, an effort, a \
         pattern, gear, strokes to count, or `fixed`. Behind a colon or a spaced dash stands the cue. \
         Words that are no clause become part of the cue, and a note lists them.\n\n"
    );
    let rows =
        spelled::<Stroke>("stroke").into_iter().chain(spelled::<Mode>("mode")).chain(on_the_spot());
    text += &table(["", "spellings", "what it means"], rows);
    text += "\nCoaches' own words for an effort, each printed as it is written, and what it counts as:\n\n";
    let words = EffortWord::all().map(|(word, counts)| [code(word), code(counts.text())]);
    text += &table(["word", "counts as"], words);
    text
}

/// Ways of moving on the spot; none is usual.
fn on_the_spot() -> impl Iterator<Item = [String; 3]> {
    let words = Movement::ALL.iter().zip(Movement::MEANINGS);
    words.map(|((_, spellings), means)| {
        let list: Vec<String> = spellings.iter().map(|spelling| code(spelling)).collect();
        let means = means.trim().trim_end_matches('.').to_owned();
        ["on the spot".to_owned(), list.join(", "), means]
    })
}

/// A line of each form, and what it asks for.
const FORMS: [(&str, &str); 16] = [
    ("6 x 50 free", "One repeat of one leg, six times."),
    ("4 x 100 (50 fly, 50 free)", "A repeat of two legs; their distances add up to it."),
    ("4 x 100 fly/free", "Halves, where no distances are written."),
    ("4 x 75 kick/drill/swim by 25", "Ways in turn, 25 each."),
    ("8 x 50 (25 sprint, 25 easy)", "Legs that differ in effort."),
    ("8 x 50 odd free, even back", "A cycle of two repeats, four times."),
    ("12 x 25: 4 fly, 4 back, 4 breast", "Twelve repeats, in order."),
    ("8 x 50 IM order", "Fly, back, breast, free, twice; `reverse IM order` begins with free."),
    ("12 x 25 free, every 4th sprint", "Three easier ones, then a sprint, three times."),
    ("5 x 100 free (1-2 easy, 3-4 steady, 5 hard)", "Repeats by their numbers."),
    ("6 x 50 free descend 1-3, 4-6", "A pattern over groups of repeats."),
    ("9 x 100 free: 3 on 1:50, 3 on 1:45, 3 on 1:40", "Send-offs that fall."),
    ("50-100-150-200-150-100-50 free", "A ladder: seven repeats, one line on the card."),
    (
        "2 x 400 free broken 200-100-50-50, 10 s",
        "Pieces with 10 s between them, the set's rest after the whole; also `broken at each 50`.",
    ),
    ("30 min free", "As many whole lengths as the pace fills, rounded down; sums say \"about\"."),
    ("3 x 30 s vertical kick", "Time that covers no distance."),
];

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
