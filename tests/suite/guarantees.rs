//! Values of a stage that are put together outside the library keep what the stage promises.

use deckcard::drawing::{Point, Size};
use deckcard::plan::{LinePlan, Plan};
use deckcard::sheet::{OffPaper, Placement, Sheet, Turn};
use deckcard::{measure::Lengths, session::words::PartKind};

use crate::support::marked::{card, dimensions};
use crate::support::plans::{figures, metres, part, swim};

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
    let mut wrong = right;
    if let LinePlan::Set(set) = &mut wrong.parts[0].lines[0] {
        set.lengths = Lengths::new(5);
    }
    assert_eq!(Plan::new(wrong).map_err(|error| error.what), Err("set"));
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
