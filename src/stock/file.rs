//! Reads a stock file by its keys, and reports all its faults at once.

use toml::de::DeValue;

use super::holes::{BoundEdge, Hole, Punch};
use super::rules;
use crate::finding::{FileId, Finding, Place, Placed};
use crate::measure::Extent;
use crate::reader::keys::{Form, keys};
use crate::reader::rules::OVER_LIMIT;
use crate::reader::table::TableReader;
use crate::reader::value::{Node, Readable};
use crate::reader::{FileKind, root_reader, syntax};
use crate::source::Source;
use crate::stock::{LEAST_SIDE_PT, Orientation, Stock};

keys! {
    /// A stock file.
    pub STOCK_KEYS, "a stock file", in stock {
        NAME: Placed<String> = required("name", "\"Club card\"",
            "What the stock is called.");
        WIDTH: Placed<Extent> = required("width", "\"105 mm\"",
            "One edge after cutting, in mm or in.").within(edge_mm);
        HEIGHT: Placed<Extent> = required("height", "\"148 mm\"",
            "The other edge.").within(edge_mm);
        MARGIN: Placed<Extent> = required("margin", "\"5 mm\"",
            "Kept free at every edge for the seal of the laminate, 3 mm at least.").within(edge_mm);
        READING: Placed<Extent> = required("reading", "\"500 mm\"",
            "From how far the card is read in the water; the size of type follows.").within(reading_mm);
        FOOTNOTES: Placed<Extent> = required("footnotes", "\"350 mm\"",
            "From how far safety and version are read, card in hand.").within(reading_mm);
        ORIENTATION: Placed<Orientation> = optional("orientation", "\"landscape\"",
            "Which way up; portrait unless set.");
        PUNCH: Placed<Punch> = optional("punch", "\"two-hole\"",
            "A pattern of holes that print keeps clear of.");
        BOUND: Placed<BoundEdge> = optional("bound", "\"top\"",
            "The edge that is punched, as the card is printed; left unless set, top for a lanyard.");
        HOLES: Vec<Placed<Hole>> = optional("holes", "[{ x = \"10 mm\", y = \"10 mm\", diameter = \"5 mm\" }]",
            "Holes placed by hand, by their centres from the left and top edges.").within(holes);
        BACK: Placed<bool> = optional("back", "true",
            "Whether a page of lines for times and stroke counts is printed after the cards.");
    }
}

keys! {
    /// A hole placed by hand.
    pub HOLE_KEYS, "a hole", in hole {
        X: Placed<Extent> = required("x", "\"10 mm\"",
            "Its centre from the left edge.").within(edge_mm);
        Y: Placed<Extent> = required("y", "\"10 mm\"",
            "Its centre from the top edge.").within(edge_mm);
        DIAMETER: Placed<Extent> = required("diameter", "\"5 mm\"",
            "Its diameter.").within(edge_mm);
    }
}

impl Readable for Extent {
    const FORM: Form = Form::Size;
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        let name = node.entry.name;
        let text = match node.value {
            DeValue::String(text) => text.trim(),
            DeValue::Integer(_) | DeValue::Float(_) => {
                found.push(unreadable(node, node.raw));
                return None;
            }
            _ => {
                found.push(node.wrong_kind(Self::FORM));
                return None;
            }
        };
        let Some(extent) = Extent::read(text) else {
            found.push(unreadable(node, text));
            return None;
        };
        if let Some(bound) = node.entry.bound
            && (extent < Extent::whole_mm(bound.least) || extent > Extent::whole_mm(bound.most))
        {
            let title = format!("{name} is {text}; it must be {}", bound.range_text());
            found.push(Finding::new(&OVER_LIMIT, title).label(node.place, bound.what));
            return None;
        }
        Some(extent)
    }
}

/// The finding for a text that is no size; a bare number lacks its unit.
fn unreadable(node: Node<'_>, text: &str) -> Finding {
    let name = node.entry.name;
    let finding = Finding::new(&rules::UNREADABLE_SIZE, format!("\"{text}\" is not a size"))
        .label(node.place, "");
    let centimetres = text.strip_suffix("cm").and_then(|number| number.trim().parse::<u32>().ok());
    if let Some(millimetres) = centimetres.and_then(|number| number.checked_mul(10)) {
        return finding.help(format!("write: {name} = \"{millimetres} mm\""));
    }
    let bare = !text.is_empty() && text.bytes().all(|b| b.is_ascii_digit() || b == b'.');
    if bare {
        finding.help(format!(
            "say millimetres or inches: {name} = \"{text} mm\" or {name} = \"{text} in\""
        ))
    } else {
        finding.help(format!(
            "sizes are written in mm or in, with at most three decimals: {name} = {}",
            node.entry.example
        ))
    }
}

impl Readable for Hole {
    const FORM: Form = Form::Table(&HOLE_KEYS);
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        let table = TableReader::open(node, &HOLE_KEYS, found)?;
        let (x, y) = (table.take(&hole::X, found), table.take(&hole::Y, found));
        let diameter = table.take(&hole::DIAMETER, found);
        Some(Hole { x: x?.value, y: y?.value, diameter: diameter?.value })
    }
}

/// Reads a stock file, turned if asked, and reports everything wrong with it.
///
/// It has to hold together the way up it is written, whichever way up is asked for: a stock that is
/// refused by itself is refused turned as well.
pub fn read(
    source: &Source,
    file: FileId,
    turned: Option<Orientation>,
    found: &mut Vec<Finding>,
) -> Option<Stock> {
    let before = found.len();
    let tree = syntax::parse(source, file, found);
    if let Some(kind) = tree.other_than(FileKind::Stock) {
        let title = format!("{} is {kind} and no stock", source.path());
        found.push(
            Finding::new(&rules::STOCK_UNUSABLE, title)
                .help("deckcard stocks lists those that come with the program"),
        );
        return None;
    }
    let root = tree.root?;
    let table = root_reader(root.get_ref(), &STOCK_KEYS, source, file, found);
    let name = table.take(&stock::NAME, found);
    let (width, height) = (table.take(&stock::WIDTH, found), table.take(&stock::HEIGHT, found));
    let margin = table.take(&stock::MARGIN, found);
    let (reading, footnotes) =
        (table.take(&stock::READING, found), table.take(&stock::FOOTNOTES, found));
    let orientation = table.take(&stock::ORIENTATION, found).map(|word| word.value);
    let (punch, bound) = (table.take(&stock::PUNCH, found), table.take(&stock::BOUND, found));
    let by_hand = table.take(&stock::HOLES, found).unwrap_or_default();
    let back = table.take(&stock::BACK, found).is_some_and(|back| back.value);
    if let Some(margin) = &margin {
        check_margin(margin, found);
    }
    let (reading, footnotes) = (reading?, footnotes?);
    check_distances(&reading, &footnotes, found);
    let (name, width, height, margin) = (name?, width?, height?, margin?);
    let mut stock = Stock {
        name: name.value,
        in_inches: source.slice(width.place.span()).contains("in"),
        width: width.value,
        height: height.value,
        margin: margin.value,
        reading: reading.value,
        reading_place: Some(reading.place),
        footnotes: footnotes.value,
        orientation: orientation.unwrap_or(Orientation::Portrait),
        punch: punch.as_ref().map(|punch| punch.value),
        holes: Vec::new(),
        back,
    };
    let ways_up = [Some(stock.orientation), turned.filter(|turned| *turned != stock.orientation)];
    for (index, orientation) in ways_up.into_iter().flatten().enumerate() {
        // What is wrong either way is said once.
        if index > 0 && found.len() > before {
            break;
        }
        stock.orientation = orientation;
        stock.holes =
            punch.iter().flat_map(|p| punched(p, bound.as_ref(), &stock, found)).collect();
        let by_hand = on_the_card(&by_hand, &stock, found);
        stock.holes.extend(by_hand);
        let safe = stock.safe();
        if found.len() == before && safe.width_pt().min(safe.height_pt()) < LEAST_SIDE_PT {
            found.push(no_room(width.place, margin.place));
        }
    }
    (found.len() == before).then_some(stock)
}

fn no_room(width: Place, margin: Place) -> Finding {
    Finding::new(&rules::STOCK_UNUSABLE, "margins and holes leave no room to print in")
        .label(width, "")
        .label(margin, "kept free at every edge")
        .help(format!(
            "print needs {} mm across and down between them",
            (LEAST_SIDE_PT / 72.0 * 25.4).ceil()
        ))
}

fn check_margin(margin: &Placed<Extent>, found: &mut Vec<Finding>) {
    if margin.value < Extent::whole_mm(3) {
        found.push(
            Finding::new(
                &rules::NARROW_MARGIN,
                format!("the margin is {} mm; a laminate's seal needs 3 mm", margin.value),
            )
            .label(margin.place, "")
            .help("write 3 mm or more; scissors wander: margin = \"5 mm\""),
        );
    }
}

fn check_distances(reading: &Placed<Extent>, footnotes: &Placed<Extent>, found: &mut Vec<Finding>) {
    if footnotes.value > reading.value {
        found.push(
            Finding::new(
                &rules::STOCK_UNUSABLE,
                format!(
                    "footnotes are read from {} mm, the card itself from {} mm",
                    footnotes.value, reading.value
                ),
            )
            .label(footnotes.place, "read card in hand")
            .label(reading.place, "read in the water")
            .help("footnotes are read from as near as the card, or nearer"),
        );
    }
}

/// The holes of a pattern, or why its edge cannot carry them.
fn punched(
    punch: &Placed<Punch>,
    bound: Option<&Placed<BoundEdge>>,
    stock: &Stock,
    found: &mut Vec<Finding>,
) -> Vec<Hole> {
    let edge = bound.map_or(punch.value.usual_edge(), |bound| bound.value);
    let (width, height) = stock.edges();
    if let Some(holes) = punch.value.holes(edge, width, height) {
        return holes;
    }
    let length = |edge| match edge {
        BoundEdge::Left | BoundEdge::Right => height,
        BoundEdge::Top | BoundEdge::Bottom => width,
    };
    let least = punch.value.least_edge();
    let finding = Finding::new(
        &rules::HOLES_OFF_EDGE,
        format!(
            "the {} pattern needs an edge of {least} mm; the {edge} edge is {} mm",
            punch.value,
            length(edge)
        ),
    )
    .label(punch.place, "");
    let finding = match bound {
        Some(bound) => finding.label(bound.place, "the edge that is punched"),
        None => finding,
    };
    let other = [BoundEdge::Left, BoundEdge::Top].into_iter().find(|edge| length(*edge) >= least);
    found.push(match other {
        Some(other) => finding.help(format!("punch a longer edge: bound = \"{other}\"")),
        None => finding.help("no edge is long enough; one hole fits: punch = \"lanyard\""),
    });
    Vec::new()
}

/// The holes placed by hand that lie on the card; the others are reported.
fn on_the_card(holes: &[Placed<Hole>], stock: &Stock, found: &mut Vec<Finding>) -> Vec<Hole> {
    let (width, height) = stock.edges();
    let inside = |at: Extent, radius: Extent, edge: Extent| {
        at >= radius && at.plus(radius).is_some_and(|end| end <= edge)
    };
    let mut on = Vec::new();
    for hole in holes {
        let radius = hole.value.diameter.half();
        if inside(hole.value.x, radius, width) && inside(hole.value.y, radius, height) {
            on.push(hole.value);
        } else {
            found.push(
                Finding::new(&rules::HOLES_OFF_EDGE, "a hole does not lie on the card")
                    .label(hole.place, "")
                    .help(format!("the card is {width} mm across and {height} mm down")),
            );
        }
    }
    on
}

#[cfg(test)]
mod tests {
    use super::*;

    fn stock(more: &str) -> Result<Stock, Vec<Finding>> {
        let a6 = include_str!("../../templates/cards/a6.toml");
        Stock::read(&format!("{a6}\n{more}"))
    }

    #[test]
    fn a_punched_edge_keeps_print_away() {
        // By hand: 12 mm, half of 6 mm and 2 mm of paper from the left edge; else the seal.
        let safe = stock("punch = \"two-hole\"").expect("a stock").safe();
        assert!((safe.left_pt - Extent::whole_mm(17).points()).abs() < 0.001);
        assert!((safe.top_pt - Extent::whole_mm(5).points()).abs() < 0.001);
        // 8 mm, half of 5 mm and 2 mm from the top.
        let safe = stock("punch = \"lanyard\"").expect("a stock").safe();
        assert!((safe.top_pt - Extent::read("12.5 mm").expect("read").points()).abs() < 0.001);
    }

    #[test]
    fn holes_an_edge_cannot_carry_are_reported() {
        let found = stock("punch = \"three-hole\"").expect_err("148 mm is too short");
        assert_eq!(found[0].rule.id, "holes-off-edge");
        let found = stock("holes = [{ x = \"104 mm\", y = \"9 mm\", diameter = \"5 mm\" }]");
        assert_eq!(found.expect_err("off the card")[0].rule.id, "holes-off-edge");
    }

    #[test]
    fn landscape_turns_the_card_and_its_bound_edge() {
        let wide = stock("orientation = \"landscape\"\npunch = \"two-hole\"").expect("a stock");
        assert!(wide.trim().width_pt > wide.trim().height_pt);
        // By hand: the left edge is 105 mm now, so 52.5 - 40 and 52.5 + 40.
        let at: Vec<String> = wide.holes.iter().map(|hole| hole.y.to_string()).collect();
        assert_eq!(at, ["12.5", "92.5"]);
    }

    #[test]
    fn every_example_is_one() {
        crate::reader::keys::assert_examples_are_toml(&[&STOCK_KEYS, &HOLE_KEYS]);
    }
}
