//! Stocks, patterns of holes, and languages.

use super::{code, table};
use crate::measure::Extent;
use crate::reader::trade_words::TradeWord;
use crate::report::stocks;
use crate::stock::{BoundEdge, Punch, SWIM_ARC_MINUTES, Stock, cap_height_mm};
use crate::words::Words;

/// An edge that carries every pattern.
const LONG_EDGE: Extent = Extent::tenths_mm(10_000);

pub(super) fn stocks() -> String {
    let named = Stock::names().filter_map(|name| Some((name, Stock::named(name)?.ok()?)));
    let intro = format!(
        "Reading distances are choices of this program. The swim line's capitals fill at least \
         {SWIM_ARC_MINUTES:.0} minutes of arc at the reading distance, by analogy with a standard for \
         screens (ISO 9241-303); the last column is how tall they are then. `deckcard stocks` prints this \
         table.\n\n"
    );
    let head = [
        "`stock`",
        "name",
        "size",
        "kept free at the edge",
        "holes",
        "read from",
        "swim line at least",
    ];
    intro
        + &table(
            head,
            named.map(|(name, stock)| {
                let cap_mm = cap_height_mm(stock.reading, SWIM_ARC_MINUTES);
                [
                    code(name),
                    stock.name.clone(),
                    stocks::size(&stock),
                    format!("{} mm", stock.margin),
                    stocks::holes(&stock),
                    format!("{} mm", stock.reading),
                    format!("{cap_mm:.1} mm"),
                ]
            }),
        )
}

pub(super) fn punches() -> String {
    let head =
        ["`punch`", "holes", "diameter", "apart", "from the edge", "shortest edge", "where from"];
    let intro =
        "Centred on the edge. Distances are between centres, and from a centre to the edge.\n\n";
    intro.to_owned() + &table(head, Punch::ALL.iter().filter_map(|(punch, _)| punched(*punch)))
}

/// What a pattern punches along a long edge.
fn punched(punch: Punch) -> Option<[String; 7]> {
    let holes = punch.holes(BoundEdge::Left, LONG_EDGE, LONG_EDGE)?;
    let first = holes.first()?;
    let apart = holes.get(1).and_then(|second| second.y.minus(first.y));
    let source = match punch {
        Punch::TwoHole => "ISO 838",
        Punch::ThreeHole => "as on US Letter; diameter and edge are common practice",
        Punch::Lanyard => "common practice",
    };
    Some([
        code(punch.text()),
        holes.len().to_string(),
        format!("{} mm", first.diameter),
        apart.map_or(String::new(), |apart| format!("{apart} mm")),
        format!("{} mm", first.x),
        format!("{} mm", punch.least_edge()),
        source.to_owned(),
    ])
}

/// The English name of a language that comes with the program.
fn english_name(tag: &str) -> &str {
    match tag {
        "en" => "English",
        "es" => "Spanish",
        "fr" => "French",
        "de" => "German",
        tag => tag,
    }
}

pub(super) fn languages() -> String {
    let all = Words::tags().filter_map(|tag| Some((tag, Words::named(tag)?.ok()?)));
    let intro = "Unreviewed words have not been read over by a coach who speaks the language.\n\n";
    intro.to_owned()
        + &table(
            ["`language`", "", ""],
            all.map(|(tag, words)| {
                let reviewed = if words.reviewed { "reviewed" } else { "unreviewed" };
                [code(tag), english_name(tag).to_owned(), reviewed.to_owned()]
            }),
        )
}
