//! Single pieces of the card: continued headings, boxes to write in, the bar of shares.

use crate::card_laws::{baselines, box_of_path, composed};
use crate::support::{extreme, plans};
use deckcard::card::Extras;
use deckcard::drawing::{Area, Card, Mark, Role};
use deckcard::session::words::PartKind;
use deckcard::stock::Stock;

#[test]
fn a_part_that_goes_on_does_not_state_its_total_again() {
    let plan = plans::endless();
    let stock = Stock::named("a6").expect("listed").expect("reads");
    let composed = composed(&plan, &Extras::default(), &stock);
    let headings: Vec<String> =
        composed.cards.iter().flat_map(texts_of(Role::PartHeading)).collect();
    let continued: Vec<&String> = headings.iter().filter(|t| t.contains("continued")).collect();
    assert!(!continued.is_empty());
    assert!(continued.iter().all(|t| !t.contains(|c: char| c.is_ascii_digit())), "{continued:?}");
    let shares = headings.iter().filter(|text| text.ends_with('%')).count();
    assert_eq!(shares, plan.parts().len(), "{headings:?}");
}

fn texts_of(role: Role) -> impl Fn(&Card) -> Vec<String> {
    move |card| {
        let own = baselines(card).filter(|(item, _)| item.role == role);
        own.filter_map(|(item, _)| match &item.mark {
            Mark::Text(run) => Some(run.text.trim().replace('\u{a0}', " ")),
            _ => None,
        })
        .collect()
    }
}

/// Boxes to write in: rectangles drawn in outline for a set.
fn boxes(card: &Card) -> usize {
    let is_box = |item: &&deckcard::drawing::Item| {
        matches!(&item.mark, Mark::Stroke(path, ..) if path.0.len() == 5) && item.origin.is_some()
    };
    card.items().iter().filter(is_box).count()
}

#[test]
fn each_counted_repeat_has_a_box_or_the_card_says_which() {
    let stock = Stock::named("a6").expect("listed").expect("reads");
    let count = deckcard::plan::StrokePlan::Count;
    for (repeats, wanted) in [(1, 1), (6, 6), (8, 8), (12, 12), (20, 20)] {
        let set = plans::swim(repeats, 1).rest(15).strokes(count);
        let part = plans::part(PartKind::MainSet, vec![set.into()]);
        let plan = plans::session("Count", "count", plans::metres(25), vec![part]);
        let composed = composed(&plan, &Extras::default(), &stock);
        assert_eq!(composed.cards.iter().map(boxes).sum::<usize>(), wanted, "{repeats}");
    }
    let part =
        plans::part(PartKind::MainSet, vec![plans::swim(100, 1).rest(15).strokes(count).into()]);
    let plan = plans::session("Count", "count", plans::metres(25), vec![part]);
    let composed = composed(&plan, &Extras::default(), &stock);
    let text = composed.cards.iter().flat_map(texts_of(Role::Set)).collect::<Vec<_>>().join(" ");
    let half = boxes(&composed.cards[0]) / 2;
    assert!(text.contains(&format!("first {half} and last {half} repeats")), "{text}");
}

#[test]
fn the_bar_of_shares_is_cut_as_the_parts_are() {
    let plan = plans::ordinary();
    let stock = Stock::named("a6").expect("listed").expect("reads");
    let composed = composed(&plan, &Extras::default(), &stock);
    let bars = bars(&composed.cards[0], &stock);
    assert_eq!(bars.len(), plan.parts().len());
    let (all, tall): (u32, f32) =
        (plan.parts().iter().map(|part| part.lengths.get()).sum(), bars.iter().sum());
    for (part, bar) in plan.parts().iter().zip(bars) {
        let share = part.lengths.get() as f32 / all as f32;
        assert!((bar / tall - share).abs() < 0.001, "{bar} of {tall} is not {share}");
    }
}

/// The heights of what is slim, upright and filled, at the right edge of the safe area.
fn bars(card: &Card, stock: &Stock) -> Vec<f32> {
    card.items()
        .iter()
        .filter_map(|item| match &item.mark {
            Mark::Fill(path, _) => Some(box_of_path(path, 0.0)),
            _ => None,
        })
        .filter(|area| (area.right_pt - stock.safe().right_pt).abs() < 0.1)
        .filter(|area| area.width_pt() < 10.0 && area.height_pt() > area.width_pt())
        .map(Area::height_pt)
        .collect()
}

/// Two short parts leave room for the bar on any card: a narrow one has none all the same.
#[test]
fn a_card_of_less_than_90_mm_between_its_margins_has_no_bar() {
    let part = |kind, repeats| plans::part(kind, vec![plans::swim(repeats, 2).rest(20).into()]);
    let parts = vec![part(PartKind::WarmUp, 2), part(PartKind::MainSet, 6)];
    let plan = plans::session("Short", "long arms", plans::metres(25), parts);
    // Between the margins, by arithmetic: 105 - 2 x 5 = 95 mm; 74 - 2 x 4 = 66 mm;
    // 76.2 - 2 x 4.064 = 68.1 mm; 101.6 - 2 x 5.08 = 91.4 mm.
    for (name, wanted) in [("a6", 2), ("a7", 0), ("3x5", 0), ("4x6", 2)] {
        let stock = Stock::named(name).expect("listed").expect("reads");
        let composed = composed(&plan, &Extras::default(), &stock);
        assert_eq!(composed.cards.len(), 1, "{name}");
        assert_eq!(bars(&composed.cards[0], &stock).len(), wanted, "{name}");
    }
}

#[test]
fn no_word_of_a_lanes_rest_is_broken() {
    // A lane's name and pace differ, and with them the size of type: some lane meets every width.
    let lanes = extreme::all().into_iter().filter(|(name, ..)| name.starts_with("many-lanes"));
    let mut seen = 0;
    for (name, plan, extras) in lanes {
        for stock in ["a6", "3x5", "a7"] {
            let stock = Stock::named(stock).expect("listed").expect("reads");
            let texts = composed(&plan, &extras, &stock).cards;
            for text in texts.iter().flat_map(texts_of(Role::Set)).filter(|t| t.contains("(le")) {
                seen += 1;
                let whole = text.starts_with("(leave about") || text == "(leave";
                assert!(whole, "{name} on {}: {text}", stock.name);
            }
        }
    }
    assert!(seen > 100, "{seen}");
}
