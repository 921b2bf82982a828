//! Display lists as text, one item a line: what is drawn, where, how large.

use std::fmt::Write;
use std::path::Path;

use deckcard::card::{Extras, compose};
use deckcard::drawing::{Card, Mark, Point, Role, Step};
use deckcard::plan::Plan;
use deckcard::stock::Stock;
use deckcard::words::Words;
use expect_test::expect_file;

use crate::support::plans;

fn listed(card: &Card) -> String {
    let mut out = String::new();
    for item in card.items() {
        let role = match &item.role {
            Role::Title => "title",
            Role::PartHeading => "heading",
            Role::Rounds { .. } => "rounds",
            Role::Swim { .. } => "swim",
            Role::Set => "set",
            Role::Safety => "safety",
            Role::Text => "text",
            Role::Figure(_) => "figure",
            Role::Artifact => "artifact",
        };
        let shown = match &item.mark {
            Mark::Text(run) => {
                let bold = if run.font.name().ends_with("Bold") { " bold" } else { "" };
                let text = run.text.replace('\u{a0}', "_");
                format!("{} size {:.1}{bold} {text:?}", at(run.at), run.size_pt)
            }
            Mark::Fill(path, ink) => format!("{} fill {}", corners(&path.0), ink.0),
            Mark::Stroke(path, width_pt, ink) => {
                format!("{} stroke {width_pt:.1} {}", corners(&path.0), ink.0)
            }
            Mark::Dial(corner, width_pt, dial) => {
                format!("{} wide {width_pt:.0} {dial:?}", at(*corner))
            }
            Mark::Picture(corner, size, _) => {
                format!("{} picture {:.0} x {:.0}", at(*corner), size.width_pt, size.height_pt)
            }
        };
        let told = match &item.role {
            Role::Figure(label) => format!(" told as {label:?}"),
            _ => String::new(),
        };
        writeln!(out, "{role:8} {shown}{told}").expect("a line");
    }
    out
}

fn at(point: Point) -> String {
    format!("{:.0},{:.0}", point.x_pt, point.y_pt)
}

/// The corners of the box about a path's points.
fn corners(steps: &[Step]) -> String {
    let points: Vec<Point> = steps
        .iter()
        .filter_map(|step| match step {
            Step::Move(p) | Step::Line(p) | Step::Curve(_, _, p) => Some(*p),
            Step::Close => None,
        })
        .collect();
    let (x, y) = (|p: &Point| p.x_pt, |p: &Point| p.y_pt);
    let least = |of: fn(&Point) -> f32| points.iter().map(of).fold(f32::MAX, f32::min);
    let most = |of: fn(&Point) -> f32| points.iter().map(of).fold(f32::MIN, f32::max);
    format!("{:.0},{:.0} to {:.0},{:.0}", least(x), least(y), most(x), most(y))
}

fn accepted(name: &str, plan: &Plan, stock: &str) {
    let stock = Stock::named(stock).expect("listed").expect("reads");
    let words = Words::named("en").expect("listed").expect("reads");
    let composed = compose(plan, &Extras::default(), &stock, &words);
    let reading = composed.reading();
    let mut text = format!(
        "scale {:.3}, swim line {:.2} mm, all else {:.2} mm, reads from {:.0} mm\n",
        composed.scale, reading.swim_cap_mm, reading.smallest_cap_mm, reading.reads_from_mm
    );
    for (index, card) in composed.cards.iter().enumerate() {
        writeln!(text, "\ncard {}", index + 1).expect("a line");
        text.push_str(&listed(card));
    }
    let file = format!("tests/suite/snapshots/card-{name}.txt");
    expect_file![Path::new(env!("CARGO_MANIFEST_DIR")).join(file)].assert_eq(&text);
}

#[test]
fn cards_are_as_accepted() {
    accepted("ordinary-a6", &plans::ordinary(), "a6");
    accepted("sparse-a7", &plans::sparse(), "a7");
    accepted("lane-a6", &plans::lane(), "a6");
    accepted("crowded-a5", &plans::crowded(), "a5");
    accepted("words-4x6", &plans::words(), "4x6");
}
