//! Parts a line of a message into its sets: where a count or a distance begins another.

mod starts;

pub(super) use starts::closing;

use std::ops::Range;

use super::plain::Plain;
use super::word::{Word, is_number, words};
use starts::{
    BEFORE_OTHER_NUMBERS, Far, JOINS, Start, before, counted, distance, group, is_swum, run,
    start_at,
};

/// What stands on a line.
#[derive(Debug)]
pub(super) enum Item {
    /// One set, its clauses with it.
    Set(Plain),
    /// Sets in brackets that are swum through several times, the bytes of the count in the source, and
    /// what stands behind the bracket.
    Rounds { count: u64, count_at: Range<usize>, inner: Plain, behind: Plain },
    /// The same where the bracket is closed on a later line.
    Open { count: u64, count_at: Range<usize>, inner: Plain, closes: char },
}

/// A line that can be read in two ways of different distance, each as it would be written.
#[derive(Debug, PartialEq, Eq)]
pub(super) struct Doubt {
    pub one: String,
    pub other: String,
}

/// Sets, and the pieces of a swim that were told from sets only by their sum.
#[derive(Debug, Default)]
pub(super) struct Parted {
    pub items: Vec<Item>,
    /// Bytes of the line where distances behind a comma add up to the one before them.
    pub adds_up: Vec<Range<usize>>,
}

/// Whether a set begins at the first word, behind words that only join.
pub(super) fn begins_set(text: &str) -> bool {
    let words = words(text);
    let start = words.iter().take_while(|word| word.is_any(&JOINS)).count();
    start_at(&words, start, true).is_some()
}

/// Whether a set of several repeats begins at the first word.
pub(super) fn begins_counted(text: &str) -> bool {
    let words = words(text);
    counted(&words, 0).is_some() || group(&words, 0).is_some()
}

/// Where sets may begin in a text, wherever they stand: for words that were not taken for sets.
pub(super) fn may_hold_set(text: &str) -> Option<Range<usize>> {
    let words = words(text);
    (0..words.len()).find_map(|at| {
        let count = counted(&words, at).is_some();
        let swum = distance(&words, at).is_some_and(|far| {
            let behind = words.get(at + far.words);
            let is_swum = behind.is_some_and(|word| is_swum(word.text) && word.text.len() > 1);
            let word = words.get(at).map_or("", |word| word.text);
            // "200s" are many only behind a count.
            let plural = word.ends_with('s');
            let counted =
                before(&words, at).is_some_and(|word| super::times::number(word).is_some());
            let round =
                far.number % 50 == 0 && (50..=2000).contains(&far.number) && (!plural || counted);
            far.number >= 25 && is_swum || round && !is_led(&words, at)
        });
        let parted = words.get(at).is_some_and(|word| is_by_slashes(word.text));
        (count || swum || parted).then(|| words.get(at).map(|word| word.span.clone()))?
    })
}

/// "300/200/100": swims one after the other, or one for each lane.
pub(super) fn is_by_slashes(text: &str) -> bool {
    let mut steps = text.split('/').map(|step| step.parse::<u64>().ok());
    text.contains('/') && steps.all(|step| step.is_some_and(|step| (25..=5000).contains(&step)))
}

/// Whether a word before a number says that it is no distance.
fn is_led(words: &[Word<'_>], at: usize) -> bool {
    before(words, at).is_some_and(|word| word.is_any(&BEFORE_OTHER_NUMBERS))
}

/// Parts a line that begins with a set.
pub(super) fn parted(plain: &Plain) -> Result<Parted, Doubt> {
    let text = plain.text();
    let words = words(text);
    let mut parted = Parted::default();
    let mut at = 0;
    while at < words.len() {
        at += words.iter().skip(at).take_while(|word| only_joins(word)).count();
        let Some(first) = words.get(at) else { break };
        if let Some((count, open)) = group(&words, at) {
            at = rounds(plain, &words, (at, count, open), &mut parted);
            continue;
        }
        let end = set_end(&words, at, &mut parted.adds_up)?;
        let until = without_joins(&words, at + 1, end);
        let last = words.get(until.saturating_sub(1)).map_or(first.span.end, |word| word.span.end);
        parted.items.push(Item::Set(plain.slice(first.span.start..last)));
        at = end.max(at + 1);
    }
    last_count(text, &words, parted)
}

/// Whether a word joins sets, or ends a sentence between them.
fn only_joins(word: &Word<'_>) -> bool {
    word.is_any(&JOINS) || word.text == "."
}

/// The end of some words without those at it that only join, no nearer than `least`.
fn without_joins(words: &[Word<'_>], least: usize, mut end: usize) -> usize {
    while end > least && words.get(end - 1).is_some_and(only_joins) {
        end -= 1;
    }
    end
}

/// "5 x 100 r15, 200 pull, x 2": a count behind several sets may be of the last or of all.
fn last_count(text: &str, words: &[Word<'_>], parted: Parted) -> Result<Parted, Doubt> {
    let [.., comma, times, count] = words else { return Ok(parted) };
    if comma.text != "," || !times.is_times() || count.number().is_none() || parted.items.len() < 2
    {
        return Ok(parted);
    }
    let sets = text.get(..comma.span.start).unwrap_or_default();
    let of_all = format!("{} x ({sets})", count.text);
    let last =
        words.iter().rev().skip(3).find(|word| word.text == ",").map_or(0, |word| word.span.end);
    let (before, last) = sets.split_at(last.min(sets.len()));
    Err(Doubt { one: of_all, other: format!("{before} {} x ({})", count.text, last.trim()) })
}

/// Rounds in brackets from a word on; the word behind them.
fn rounds(
    plain: &Plain,
    words: &[Word<'_>],
    (at, count, open): (usize, u64, usize),
    parted: &mut Parted,
) -> usize {
    let span = |word: usize| {
        words.get(word).map_or(plain.text().len()..plain.text().len(), |word| word.span.clone())
    };
    let starts = span(at).start;
    let count_at = plain.source(span(at));
    let closes = match words.get(open).map(|word| word.text) {
        Some("{") => '}',
        Some("[") => ']',
        _ => ')',
    };
    let Some(close) = closing(words, open) else {
        let inner = plain.slice(span(open).end..plain.text().len());
        parted.items.push(Item::Open { count, count_at, inner, closes });
        return words.len();
    };
    let inner = plain.slice(span(open).end..span(close).start);
    let behind_end = (close + 1..words.len())
        .find(|at| start_at(words, *at, false).is_some() || group(words, *at).is_some())
        .unwrap_or(words.len());
    let last = without_joins(words, close + 1, behind_end);
    let behind =
        plain.slice(span(close).end..span(last.saturating_sub(1)).end.max(span(close).end));
    if only_distances(&inner) {
        let mut set = plain.slice(starts..span(open).start);
        let mut ladder = inner;
        dashed(&mut ladder);
        set.join(&ladder);
        set.join(&behind);
        parted.items.push(Item::Set(set));
    } else {
        parted.items.push(Item::Rounds { count, count_at, inner, behind });
    }
    behind_end
}

/// Whether a piece is nothing but two or more distances and signs between them.
fn only_distances(plain: &Plain) -> bool {
    let words = words(plain.text());
    let run = run(&words, 0);
    run.len() > 1 && run.last().is_some_and(|(at, far)| at + far.words == words.len())
        || plain.text().contains('-') && plain.text().split('-').all(|step| is_number(step.trim()))
}

/// Signs between distances written as dashes.
pub(super) fn dashed(plain: &mut Plain) {
    let spans: Vec<Range<usize>> = {
        let words = words(plain.text());
        let run = run(&words, 0);
        let ends = run
            .iter()
            .filter_map(|(at, far)| words.get(at + far.words - 1).map(|word| word.span.end));
        let starts =
            run.iter().skip(1).filter_map(|(at, _)| words.get(*at).map(|word| word.span.start));
        ends.zip(starts).map(|(end, start)| end..start).collect()
    };
    spans.into_iter().rev().for_each(|span| plain.replace(span, "-"));
}

/// The word behind the set that begins at a word.
fn set_end(words: &[Word<'_>], at: usize, adds_up: &mut Vec<Range<usize>>) -> Result<usize, Doubt> {
    let start = start_at(words, at, true);
    let (count, far, mut next) = match start {
        Some(Start::Counted { count, far, words }) => (Some(count), far, at + words),
        Some(Start::Bare(far)) => (None, Some(far), at + far.words),
        None => (None, None, at + 1),
    };
    if words.get(at).is_some_and(|word| word.is_any(&["broken"]))
        || words.get(at + 2).is_some_and(|word| word.is_any(&["broken"]))
    {
        return Ok(broken_end(words, at));
    }
    // A ladder: distances that share the words behind the last.
    let named = words.get(at).is_some_and(|word| word.is_any(&["ladder", "pyramid"]));
    let steps = if named {
        (at..words.len()).find(|at| distance(words, *at).is_some()).unwrap_or(at)
    } else {
        at
    };
    let ladder = run(words, steps);
    if count.is_none() && (named || ladder.len() > 2) {
        next = ladder.last().map_or(next, |(at, far)| at + far.words);
    }
    if let Some(count) = count.filter(|count| *count > 1) {
        of_distances(words, at, next, count, far)?;
    }
    let in_lengths = words.get(next).is_some_and(|word| word.is_any(&["as", "="]));
    let mut depth = 0_usize;
    let mut quoted = false;
    while let Some(word) = words.get(next) {
        match word.text {
            "(" | "{" | "[" => depth += 1,
            ")" | "}" | "]" => depth = depth.saturating_sub(1),
            _ => {}
        }
        quoted ^= word.text.matches('"').count() % 2 == 1
            && !word.text.starts_with(|sign: char| sign.is_ascii_digit());
        if depth == 0
            && !quoted
            && let Some(begun) = start_at(words, next, false)
        {
            let of = far.map(|far| far.number);
            let pieces = far.and_then(|far| pieces(words, next, far));
            match (pieces, begun) {
                (Some(end), _) if is_pieces(words, next, count) => {
                    if before(words, next).is_some_and(|word| word.text == ",") {
                        adds_up.push(piece_span(words, next, end));
                    }
                    next = end;
                    continue;
                }
                (_, Start::Bare(short))
                    if count.is_some_and(|count| count > 1) && is_time(words, next, short) => {}
                (_, Start::Bare(_))
                    if words.get(next - 1).is_some_and(|word| word.text == "+")
                        && count.is_some_and(|count| count > 1) =>
                {
                    return Err(plus(words, at, next));
                }
                // "1 length back 1 length breast": how each repeat is swum.
                (_, Start::Bare(leg)) if in_lengths && leg.number > 0 && leg.number < 5 => {}
                (pieces, Start::Bare(_)) => {
                    let several = distance(words, next).is_some_and(|far| Some(far.number) < of);
                    if let Some(end) = pieces.filter(|_| several) {
                        adds_up.push(piece_span(words, next, end));
                    }
                    break;
                }
                _ => break,
            }
        }
        next += 1;
    }
    Ok(next)
}

fn piece_span(words: &[Word<'_>], from: usize, end: usize) -> Range<usize> {
    let start = words.get(from).map_or(0, |word| word.span.start);
    start..words.get(end - 1).map_or(start, |word| word.span.end)
}

/// Whether distances that add up to the one before are its pieces: where several repeats go before
/// them, or a sign that says so.
fn is_pieces(words: &[Word<'_>], at: usize, count: Option<u64>) -> bool {
    let sign = before(words, at).is_some_and(|word| word.is_any(&["as", "=", "-", ":", "of"]));
    sign || count.is_some_and(|count| count > 1)
}

/// A bare number behind several repeats is their time unless a word of a swim or a sign says else.
fn is_time(words: &[Word<'_>], at: usize, far: Far) -> bool {
    let joined = before(words, at).is_some_and(|word| word.is_any(&JOINS));
    let swum = words.get(at + far.words).is_some_and(|word| is_swum(word.text));
    !far.has_unit && !joined && !swum && far.number < 1000
}

/// "3 x 200 100 50", "3 x 300 / 200 / 100": one repeat of them all, or the first several times.
fn of_distances(
    words: &[Word<'_>],
    at: usize,
    next: usize,
    count: u64,
    far: Option<Far>,
) -> Result<(), Doubt> {
    let Some(far) = far else { return Ok(()) };
    let slash = usize::from(words.get(next).is_some_and(|word| word.text == "/"));
    let more = run(words, next + slash);
    let falling =
        more.windows(2).all(|pair| matches!(pair, [(_, a), (_, b)] if a.number > b.number));
    let round = more.iter().all(|(_, far)| far.number % 25 == 0) && far.number % 25 == 0;
    if more.len() < 2 || !(falling && round || slash > 0) {
        return Ok(());
    }
    let texts: Vec<String> = more.iter().map(|(_, far)| far.number.to_string()).collect();
    let first = words.get(at + 2).map_or("", |word| word.text);
    let behind = more.last().map_or(next, |(at, far)| at + far.words);
    let behind = written(words.get(behind..).unwrap_or_default());
    let one = format!("{count} x ({first}, {}){behind}", texts.join(", "));
    Err(Doubt { one, other: format!("{count} x {first}; {}{behind}", texts.join("; ")) })
}

/// Words as they are written: signs right behind the word before them.
fn written(words: &[Word<'_>]) -> String {
    words.iter().fold(String::new(), |mut text, word| {
        if !matches!(word.text, "," | ";" | "." | ":" | ")") {
            text.push(' ');
        }
        text.push_str(word.text);
        text
    })
}

/// "4 x 100 + 50 easy".
fn plus(words: &[Word<'_>], at: usize, next: usize) -> Doubt {
    let text =
        |from: usize, to: usize| written(words.get(from..to).unwrap_or_default()).trim().to_owned();
    let count = words.get(at).map_or("", |word| word.text);
    let first = text(at + 2, next - 1);
    let rest = text(next, words.len());
    Doubt {
        one: format!("{count} x ({first}, {rest})"),
        other: format!("{count} x {first}; {rest}"),
    }
}

/// A distance that may be a piece of a swim.
fn piece(words: &[Word<'_>], at: usize) -> Option<Far> {
    let of = before(words, at).is_some_and(|word| word.is_any(&["of"]));
    distance(words, at).filter(|_| of || !is_led(words, at))
}

/// The word behind distances from a word on that add up to the one the set is of.
fn pieces(words: &[Word<'_>], from: usize, far: Far) -> Option<usize> {
    let (mut sum, mut next) = (0, from);
    while let Some(word) = words.get(next) {
        if counted(words, next).is_some() || matches!(word.text, ")" | ";") {
            return None;
        }
        if let Some(piece) = piece(words, next) {
            sum += piece.number;
            next += piece.words;
            if sum == far.number {
                // The words of the last piece.
                while words.get(next).is_some_and(|word| is_swum(word.text)) {
                    next += 1;
                }
                return Some(next);
            }
            if sum > far.number {
                return None;
            }
        } else {
            next += 1;
        }
    }
    None
}

/// The word behind a broken swim: its pieces and all they say.
fn broken_end(words: &[Word<'_>], at: usize) -> usize {
    let of = words
        .iter()
        .skip(at)
        .position(|word| word.number().is_some_and(|number| number >= 50))
        .map_or(at, |far| at + far);
    let whole = words.get(of).and_then(Word::number).unwrap_or(0);
    let (mut sum, mut next) = (0, of + 1);
    while next < words.len() {
        if sum == whole && start_at(words, next, false).is_some() {
            break;
        }
        if let Some((count, behind)) = counted(words, next)
            && let Some(far) = distance(words, behind)
        {
            sum += count * far.number;
            next = behind + far.words;
        } else if let Some(far) = piece(words, next).filter(|_| sum < whole) {
            sum += far.number;
            next += far.words;
        } else {
            next += 1;
        }
    }
    next
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shown(line: &str) -> Vec<String> {
        match parted(&Plain::of(line, 0)) {
            Ok(parted) => parted
                .items
                .into_iter()
                .map(|item| match item {
                    Item::Set(plain) => plain.text().to_owned(),
                    Item::Rounds { count, inner, behind, .. } => {
                        format!("{count} of [{}] {}", inner.text(), behind.text())
                    }
                    Item::Open { count, inner, .. } => format!("{count} of [{}", inner.text()),
                })
                .collect(),
            Err(doubt) => vec![format!("{} | {}", doubt.one, doubt.other)],
        }
    }

    #[test]
    fn a_line_is_parted_where_another_set_begins() {
        for (line, wanted) in [
            ("200fc 200bk 100fly k", vec!["200 fc", "200 bk", "100 fly k"]),
            ("300 + 6x50 - 20\" rest", vec!["300", "6 x 50 - 20\" rest"]),
            (
                "4x75 free, rest 20 s, count strokes: kick",
                vec!["4 x 75 free, rest 20 s, count strokes: kick"],
            ),
            ("300 s / 200 k / 100 p", vec!["300 s", "200 k", "100 p"]),
            ("6x50 k 115", vec!["6 x 50 k 115"]),
            ("5x200 245 300 315", vec!["5 x 200 245 300 315"]),
            ("10x50 on 50 hold 500 pace", vec!["10 x 50 on 50 hold 500 pace"]),
            ("3x 200 100 50 desc", vec!["3 x (200, 100, 50) desc | 3 x 200; 100; 50 desc"]),
            ("3 x 300 / 200 / 100", vec!["3 x (300, 200, 100) | 3 x 300; 200; 100"]),
            ("4 x 100 + 50 easy", vec!["4 x (100, 50 easy) | 4 x 100; 50 easy"]),
            ("100, 200, 300, 200 - r20 after each", vec!["100, 200, 300, 200 - r20 after each"]),
            ("2 x (50-100-150) FC neg split", vec!["2 x 50-100-150 FC neg split"]),
            (
                "3 x (200 pull r20 + 2 x 50 fast r30)",
                vec!["3 of [200 pull r20 + 2 x 50 fast r30] "],
            ),
            ("2x{ 4x50 k", vec!["2 of [4 x 50 k"]),
            ("6 x 75m = 25 back 50 crawl, 20\"", vec!["6 x 75 m = 25 back 50 crawl, 20\""]),
            (
                "4x75 FC as 25 k 25 d 25 s r15, 1 x 100 IM",
                vec!["4 x 75 FC as 25 k 25 d 25 s r15", "1 x 100 IM"],
            ),
            (
                "4x50 No. 1 stroke on 70, 25 fast 25 easy",
                vec!["4 x 50 No. 1 stroke on 70, 25 fast 25 easy"],
            ),
            (
                "Broken 200 stroke: 4x50 with :10 between",
                vec!["Broken 200 stroke: 4 x 50 with :10 between"],
            ),
            ("10 100s free on 2:00, 8 x 50s", vec!["10 100s free on 2:00", "8 x 50s"]),
            ("10 mins easy, 4 x 50", vec!["10 mins easy", "4 x 50"]),
            ("500 swim, last 100 IM", vec!["500 swim, last 100 IM"]),
        ] {
            let wanted: Vec<String> = wanted.into_iter().map(str::to_owned).collect();
            let found: Vec<String> = shown(line)
                .iter()
                .map(|text| text.trim_end_matches([',', ' ', '+', '/', ';']).to_owned())
                .collect();
            let wanted: Vec<String> =
                wanted.iter().map(|text| text.trim_end().to_owned()).collect();
            assert_eq!(found, wanted, "{line}");
        }
    }
}
