//! Values of a stage that are put together outside the library keep what the stage promises.

use deckcard::drawing::{Card, Ink, Item, Mark, OutsideTrim, Point, Role, Size};
use deckcard::plan::{LinePlan, Plan, SetPlan};
use deckcard::sheet::{OffPaper, Placement, Sheet, Turn};
use deckcard::{
    measure::{Lengths, Seconds},
    session::words::PartKind,
};

use crate::support::marked::{card, dimensions};
use crate::support::plans::{figures, metres, part, rounds, swim};

/// 4 x 1 length in 38 s each with 30 s rest: 4 lengths, 4 x 68 s.
#[test]
fn a_plan_has_sums_that_hold() {
    let parts = || vec![part(PartKind::MainSet, vec![swim(4, 1).rest(30).into()])];
    let right = figures("Sums", "count", metres(25), parts());
    let plan = Plan::new(right.clone()).expect("sums that hold");
    assert_eq!((plan.lengths().get(), plan.seconds().get()), (4, 272));
    assert_eq!(plan.parts()[0].share_permille, 1000);

    let mut wrong = right.clone();
    wrong.parts[0].lengths = Lengths::new(5);
    assert_eq!(Plan::new(wrong).map_err(|error| error.what), Err("part"));
    let mut wrong = right.clone();
    wrong.parts[0].seconds = Seconds::new(271);
    assert_eq!(Plan::new(wrong).map_err(|error| error.what), Err("part"));

    // Of a set too: its lengths, its time, and how often its rounds are swum.
    let changes: [fn(&mut SetPlan); 3] = [
        |set| set.lengths = Lengths::new(5),
        |set| set.seconds = Seconds::new(271),
        |set| set.rounds = 2,
    ];
    for change in changes {
        let mut wrong = right.clone();
        let LinePlan::Set(set) = &mut wrong.parts[0].lines[0] else { panic!("a set") };
        change(set);
        assert_eq!(Plan::new(wrong).map_err(|error| error.what), Err("set"));
    }
}

/// 3 rounds of 4 x 1 length: 12 lengths. Written as 2 rounds, its set was not swum 3 times.
#[test]
fn rounds_are_counted_in_the_sums_of_their_sets() {
    let group = rounds(3, vec![swim(4, 1).rest(30).into()]);
    let right = figures("Sums", "count", metres(25), vec![part(PartKind::MainSet, vec![group])]);
    assert_eq!(Plan::new(right.clone()).map(|plan| plan.lengths().get()), Ok(12));
    let mut wrong = right;
    let LinePlan::Rounds { count, .. } = &mut wrong.parts[0].lines[0] else { panic!("rounds") };
    *count = 2;
    assert_eq!(Plan::new(wrong).map_err(|error| error.what), Err("set"));
}

/// A line that ends 2 pt to the right of a card of 100 pt, after one that stays on it.
#[test]
fn a_card_holds_its_items() {
    let line = |to_pt: f32| {
        let at = |x_pt: f32| Point { x_pt, y_pt: 20.0 };
        let mark = Mark::line(at(10.0), at(to_pt), 1.0, Ink::BLACK);
        Item { mark, role: Role::Artifact, origin: None }
    };
    let trim = Size { width_pt: 100.0, height_pt: 50.0 };
    assert!(Card::new(trim, vec![line(90.0), line(98.0)]).is_ok());
    let outside = Card::new(trim, vec![line(90.0), line(102.0)]);
    assert_eq!(outside.map(|_| ()), Err(OutsideTrim { index: 1 }));
}

/// A card of 100 mm by 50 mm turned by a right angle does not lie on paper of its own size.
#[test]
fn a_sheet_holds_its_cards() {
    let card = card(dimensions("100 mm", "50 mm"));
    let paper: Size = card.trim();
    let at = Point { x_pt: 0.0, y_pt: 0.0 };
    let sheet = |turn| Sheet::new(paper, vec![Placement { card: card.clone(), at, turn }]);
    assert!(sheet(Turn::Half).is_ok());
    assert_eq!(sheet(Turn::Quarter).map(|_| ()), Err(OffPaper { index: 0 }));
}
